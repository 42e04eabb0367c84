"""Words that stand beside a name: its author, a variety, what is handled, what was done to the seed."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from coldspell.errors import ColdspellError
from coldspell.library.fold import fold

_JOINS = frozenset({"ex", "et", "in", "and", "&", "f", "fil", "von", "van", "de", "le", "la", "auct", "hort"})
_FULL = frozenset({"linnaeus", "marshall", "miller", "bunge", "walter", "moench", "gray", "koch", "roth"})
"""Authors whose names are not shortened (IPNI's standard forms; recalled). Of a capitalised word that is none
of them nobody knows whether it is an author or a variety."""
_YEAR = r"1[789]\d\d|20\d\d"
NO_SEED = frozenset(
    [
        "bulb", "bulbs", "corm", "corms", "tuber", "tubers", "rhizome", "rhizomes", "cutting",
        "cuttings", "scion", "scions", "graft", "grafts", "seedling", "seedlings", "sapling",
        "saplings", "plant", "plants", "plug", "plugs", "runner", "runners", "offset", "offsets",
        "division", "divisions", "zwiebel", "zwiebeln", "knolle", "knollen", "steckling",
        "stecklinge", "samling", "samlinge", "setzling", "setzlinge", "pflanze", "pflanzen",
        "bulbe", "bulbes", "tubercule", "tubercules", "bouture", "boutures", "esqueje", "esquejes",
        "bulbo", "bulbos",
    ]
)  # fmt: skip
"""What plants are raised from beside seed, or what came of it."""
_STATES = {
    "--moisture dried": "dried dry getrocknet trocken sec seche sechee seches sechees seco seca",
    "--moisture fresh": "fresh frisch frische frais fraiche fraiches fresco fresca",
    "--frozen yes": "frozen gefroren gefrorene tiefgefroren gele gelee gelees congele",
    "--heated yes": "roasted toasted cooked boiled blanched pasteurised pasteurized gerostet gekocht grille",
    "--mould shell": "mouldy moldy mould mold schimmel schimmlig schimmelig verschimmelt moisi moisie",
    "--swollen yes": "soaked swollen eingeweicht gequollen trempe trempees",
    "--smell rotten": "rotten rotting faul verfault pourri pourries",
    "--shell kernel": "shelled geschalt decortique",
    "--shell cracked": "cracked geknackt",
    "--rooted NUMBER": "sprouted sprouting germinated rooted gekeimt germe germees",
    "--gathered bought": "bought shop supermarket supermarkt gekauft achete",
    "--cold-days-done DAYS": "stratified chilled stratifiziert stratifie",
    "--stored-years YEARS": "stored old alt alte gelagert",
}
_OPTION = {word: option for option, words in _STATES.items() for word in words.split()}
_SMALL = frozenset(
    [
        "a", "an", "and", "the", "of", "from", "for", "with", "in", "on", "at", "by", "my", "our",
        "some", "to", "aus", "dem", "der", "die", "das", "von", "vom", "mit", "im", "und", "ein",
        "eine", "meinem", "de", "du", "des", "la", "le", "les", "et", "un", "une", "mon", "ma",
        "avec", "para", "del", "con", "y",
    ]
)  # fmt: skip
"""Words that stand in no plant's botanical name (a, de, y and la are no epithets)."""


def option_of_word(word: str) -> str | None:
    """The option that says what a word beside a name says of the seed; none where it says nothing of it.

    >>> option_of_word("dried"), option_of_word("40"), option_of_word("rubra")
    ('--moisture dried', '--seeds 40', None)
    """
    plain = fold(word)
    return f"--seeds {plain}" if plain.isdecimal() else _OPTION.get(plain)


def no_name(word: str) -> bool:
    """Whether a word is part of no plant's botanical name: a state, a part, a number, a small word."""
    plain = fold(word)
    return plain in _OPTION or plain in NO_SEED or plain in _SMALL or any(map(str.isdigit, plain))


def latin_ending(epithet: str) -> bool:
    """Whether an epithet ends as those of botanical names nearly all do (2,400 of the library's, but 20)."""
    return re.search(r"([bcdfghjkpqtvwyz]|(?<![aeiounyp])s|(?<!u)m)$", epithet) is None


def split_behind(words: Sequence[str]) -> tuple[str, str] | None:
    """What stands behind a botanical name, as (rank and name below the species, garden variety).

    Both are empty for an author; ``None`` where it is nothing that may stand there.

    >>> split_behind(["Mill."]), split_behind(["Franquette"]), split_behind(["frozen"])
    (('', ''), ('', 'Franquette'), None)
    """
    ranks = [at for at, word in enumerate(words[:-1]) if fold(word) in ("subsp", "var", "f")]
    if ranks and not any(map(_said, words)):
        return " ".join(words[ranks[0] :]), ""
    bare = [word.strip("(),;[]×") for word in words]
    authors = [word for word in bare if fold(word) not in _JOINS and not re.fullmatch(_YEAR, word)]
    marked = any("." in w or "(" in w for w in words) or any(len(w) == 1 for w in bare)
    if any(map(_said, authors)) or not all(_of_a_person(word) for word in authors):
        return None
    if marked or not authors or any(word.casefold() in _FULL for word in authors):
        return ("", "") if authors or marked or {"auct", "hort"} & {*map(fold, words)} else None
    return "", " ".join(words)


def _said(word: str) -> bool:
    plain = fold(word)
    return plain in _OPTION or plain in NO_SEED or plain.isdecimal()


def _of_a_person(word: str) -> bool:
    return word[:1].isupper() or word.endswith(".") or len(word) == 1


_UNITS = {
    **dict.fromkeys(("seed", "seeds", "graine", "graines", "semilla", "semillas", "samen"), "seed"),
    **dict.fromkeys(("acorn", "acorns", "gland", "glands", "eichel", "eicheln"), "acorn"),
    **dict.fromkeys(("stone", "stones", "noyau", "noyaux", "pit", "pits", "hueso", "huesos"), "stone"),
    **dict.fromkeys(("pip", "pips", "pepin", "pepins", "pepita", "pepitas"), "pip"),
    **dict.fromkeys(("pipa", "pipas"), "kern"),
    **dict.fromkeys(("nut", "nuts"), "nut"),
    **dict.fromkeys(("kern", "kerne"), "kern"),
}
_OF = frozenset({"of", "de", "du", "des", "d", "la", "le", "l", "von", "vom", "der", "del"})
_COMPOUNDS = (
    ("kerne", "kern"), ("kern", "kern"), ("samen", "seed"), ("saatgut", "seed"), ("eckern", "nut"),
    ("beeren", "beere"), ("beere", "beere"), ("baume", "tree"), ("baeume", "tree"), ("baum", "tree"),
)  # fmt: skip
_SHORTEST = 3
_LONG_DASHES = "–—―−‒"


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


def handled(folded: str) -> Iterator[tuple[str, str]]:
    """Names that a folded text may mean with what is handled before them or grown into one word.

    Each comes with the unit it must have.

    >>> list(handled("noyau de peche"))[0], list(handled("apfelkerne"))[0]
    (('peche', 'stone'), ('apfel', 'kern'))
    """
    first, _, rest = folded.partition(" ")
    unit = _UNITS.get(first)
    words = rest.split()
    while words and words[0] in _OF:
        words = words[1:]
    if unit and words:
        yield " ".join(words), unit
        if words[0][0] in "dl" and len(words[0]) > _SHORTEST:  # d'abricot is one word once it is folded
            yield " ".join([words[0][1:], *words[1:]]), unit
    if " " not in folded:
        for ending, unit_ in _COMPOUNDS:
            stem = folded.removesuffix(ending)
            if stem != folded and len(stem) >= _SHORTEST:
                yield from ((stem + more, unit_) for more in ("", "e"))
                return


FITS: dict[str, tuple[str, ...]] = {
    "seed": (),
    "nut": ("nut", "acorn", "nut tree"),
    "acorn": ("acorn",),
    "stone": ("stone",),
    "pit": ("stone",),
    "kernel": ("stone", "nut"),
    "pip": ("pip", "fruit tree"),
    "key": ("samara",),
    "samara": ("samara",),
    "achene": ("achene",),
    "nutlet": ("nutlet",),
    "grain": ("grain",),
    "fruit": ("fruit", "fruit tree"),
    "cone": ("conifer",),
    "beere": (),
    "kern": ("stone", "pip", "seed", "achene", "fruit tree"),  # of a nut it is what lies in the shell
    "kerne": ("stone", "pip", "seed", "achene", "fruit tree"),
    "samen": (),
    "tree": ("nut tree", "fruit tree", "broadleaf tree", "conifer", "palm"),
    "shrub": ("shrub",),
    "bush": ("shrub",),
}
"""Words that people put behind a name, and the units or kinds of plant that they go with (seed: with all)."""
