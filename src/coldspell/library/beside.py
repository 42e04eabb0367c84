"""Words that stand beside a name: its author, a variety, what is handled, what was done to the seed."""

# Without postponed annotations: msgspec evaluates those of each class anew at every start.

import re
from collections.abc import Collection, Iterable, Iterator, Sequence

from msgspec import Struct

from coldspell.errors import ColdspellError
from coldspell.library.fold import fold

_YEAR = r"1[789]\d\d|20\d\d"
_SHORTEST = 3
_LONG_DASHES = "–—―−‒"


class BesideNames(Struct, frozen=True, array_like=True):
    """Words that people write beside the name of a plant, folded: ``beside-names.yaml`` of a library."""

    options: dict[str, str] = {}
    """The option that says what a word says of the seed."""
    no_seed: frozenset[str] = frozenset()
    """What plants are raised from beside seed, or what came of it."""
    small: frozenset[str] = frozenset()
    """Words that stand in no plant's botanical name."""
    units: dict[str, str] = {}
    """The unit that a word before a name means."""
    between: frozenset[str] = frozenset()
    compounds: dict[str, str] = {}
    """Endings grown into one word with the plant, and their unit."""
    fits: dict[str, tuple[str, ...]] = {}
    """Words behind a name, and the units or kinds of plant that they go with (none: with all)."""
    joins: frozenset[str] = frozenset()
    """Words between the names of authors."""
    authors: frozenset[str] = frozenset()
    """Those whose names are not shortened."""
    unknown: frozenset[str] = frozenset()
    any_species: frozenset[str] = frozenset()

    def with_more(self, other: "BesideNames") -> "BesideNames":
        """These words and those of a further library."""
        return BesideNames(*(getattr(self, name) | getattr(other, name) for name in self.__struct_fields__))

    def option_of(self, word: str) -> str | None:
        """The option that says what a word beside a name says of the seed; none where it says nothing of it.

        ``dried`` is ``--moisture dried``, ``40`` is ``--seeds 40``; ``rubra`` is none.
        """
        plain = fold(word)
        return f"--seeds {plain}" if plain.isdecimal() else self.options.get(plain)

    def no_name(self, word: str) -> bool:
        """Whether a word is part of no plant's botanical name: a state, a part, a number, a small word."""
        plain = fold(word)
        known = plain in self.options or plain in self.no_seed or plain in self.small
        return known or any(map(str.isdigit, plain))

    def goes_with(self, word: str, kinds: Collection[str]) -> bool:
        """Whether a word behind a name goes with the unit and kind of a plant."""
        fits = self.fits[word]
        return not fits or not {*fits}.isdisjoint(kinds)

    def split_behind(self, words: Sequence[str]) -> tuple[str, str] | None:
        """What stands behind a botanical name, as (rank and name below the species, garden variety).

        Both are empty for an author; ``None`` where it is nothing that may stand there.

        ``Mill.``, an author, gives ("", ""), ``Franquette`` ("", "Franquette"), and ``frozen`` ``None``.
        """
        ranks = [at for at, word in enumerate(words[:-1]) if fold(word) in ("subsp", "var", "f")]
        if ranks and not any(map(self._said, words)):
            return " ".join(words[ranks[0] :]), ""
        bare = [word.strip("(),;[]×") for word in words]
        authors = [word for word in bare if fold(word) not in self.joins and not re.fullmatch(_YEAR, word)]
        marked = any("." in w or "(" in w for w in words) or any(len(w) == 1 for w in bare)
        if any(map(self._said, authors)) or not all(_of_a_person(word) for word in authors):
            return None
        if marked or not authors or any(word.casefold() in self.authors for word in authors):
            return ("", "") if authors or marked or {"auct", "hort"} & {*map(fold, words)} else None
        return "", " ".join(words)

    def _said(self, word: str) -> bool:
        plain = fold(word)
        return plain in self.options or plain in self.no_seed or plain.isdecimal()

    def handled(self, folded: str) -> Iterator[tuple[str, str]]:
        """Names that a folded text may mean with what is handled before them or grown into one word.

        Each comes with the unit it must have.

        ``noyau de peche`` is first (peche, stone), ``apfelkerne`` (apfel, kern).
        """
        first, _, rest = folded.partition(" ")
        unit = self.units.get(first)
        words = rest.split()
        while words and words[0] in self.between:
            words = words[1:]
        if unit and words:
            yield " ".join(words), unit
            if words[0][0] in "dl" and len(words[0]) > _SHORTEST:  # d'abricot is one word once it is folded
                yield " ".join([words[0][1:], *words[1:]]), unit
        if " " not in folded:
            for ending, unit_ in self.compounds.items():
                stem = folded.removesuffix(ending)
                if stem != folded and len(stem) >= _SHORTEST:
                    yield from ((stem + more, unit_) for more in ("", "e"))
                    return


def latin_ending(epithet: str) -> bool:
    """Whether an epithet ends as those of botanical names nearly all do (2,400 of the library's, but 20)."""
    return re.search(r"([bcdfghjkpqtvwyz]|(?<![aeiounyp])s|(?<!u)m)$", epithet) is None


def _of_a_person(word: str) -> bool:
    return word[:1].isupper() or word.endswith(".") or len(word) == 1


def long_dash(word: str) -> str | None:
    """What was meant by an option whose dashes a word processor joined ("—moisture"); none for other words.

    >>> long_dash("—moisture"), long_dash("–"), long_dash("--moisture")
    ('--moisture', None, None)
    """
    bare = word.lstrip(_LONG_DASHES + "-")
    begins = word[:1] in _LONG_DASHES or (word[:1] == "-" and word[1:2] in _LONG_DASHES)
    return f"--{bare}" if begins and bare[:1].isalpha() else None


def refuse_long_dash(words: Iterable[str]) -> None:
    """Refuse an option that is none, lest it be taken for a part of a name.

    Raises
    ------
    ColdspellError
        A word begins with a long dash; the mend is the option as it is typed.
    """
    for word in words:
        meant = long_dash(word)
        if meant is not None:
            raise ColdspellError(
                f"{word[:40]!r} begins with a long dash, as word processors make it",
                mend=f"type {meant[:40]}",
            )
