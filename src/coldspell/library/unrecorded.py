"""Kinds without a record: whether a name can be that of a plant, and what stands in for its record."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Sequence
from functools import lru_cache
from typing import TypeVar

from msgspec import Struct

from coldspell.library.beside import latin_ending
from coldspell.library.built import Entry
from coldspell.library.fold import fold
from coldspell.library.library import Library
from coldspell.records.model import Record, Storage

T = TypeVar("T")
UNKNOWN = "Unknown"
"""The name of a kind that nobody can name."""
_WORD = r"[A-Za-z]{2,}(-[a-z]+)*"
_ENDS = r"(a|e|i|n|o|r|s|u|um|x)$"
"""How the names of genera end; their epithets may be words of any language (courbaril, negundo)."""


class Unrecorded(Struct, frozen=True):
    """A kind that has no record: its name and, where they are on record, its genus and its relatives."""

    stand_in: Record
    genus: Record | None
    relatives: tuple[Record, ...]


def unrecorded(library: Library, text: str) -> Unrecorded | None:
    """What can be said of a kind that is not on record, by its name.

    Parameters
    ----------
    library
        The library in which it was not found.
    text
        The name as typed: a botanical name, with or without author, or that nobody knows one ("unknown").

    Returns
    -------
    Unrecorded or None
        ``None`` where the text is no plausible botanical name, or is one on record with a slip of the pen.
        A name with its author counts as meant.
    """
    if fold(text) in library.beside.unknown:
        return Unrecorded(_stand_in(UNKNOWN, (), None), None, ())
    words = [w for w in text.replace("×", " × ").split() if w not in ("×", "x", "X")]
    if len(words) < 2 or not all(re.fullmatch(_WORD, word) for word in (words[0], words[1].rstrip("."))):
        return None
    genus, epithet = words[0].capitalize(), words[1].rstrip(".").lower()
    behind = library.beside.split_behind(words[2:]) if len(words) > 2 else ("", "")
    if behind is None or library.beside.no_name(epithet):
        return None
    relatives = of_genus(library, genus)
    record = _genus_record(library, genus)
    if not relatives and record is None:
        if not _latin(library, words[0], words[1]):
            return None
        if any(_slip(genus, other) and _has(library, other, epithet) for other in _genera(library)):
            return None
    authored = len(words) > 2
    if not authored and not _plausible(library, genus, epithet):
        return None
    name = genus if epithet in library.beside.any_species else f"{genus} {epithet}"
    return Unrecorded(_stand_in(name, relatives, record), record, relatives)


def _plausible(library: Library, genus: str, epithet: str) -> bool:
    """Whether an epithet without its author may be one: of Latin form, no common word, no slip of the pen."""
    if epithet in library.beside.any_species:
        return True
    known = _epithets(library, genus)
    if _slip_of(epithet, known) or _gender_of(epithet, known):
        return False
    return latin_ending(epithet)


_GENDER = r"(us|a|um|is|e|er)$"


def _gender_of(epithet: str, known: Iterable[str]) -> bool:
    """Whether it is a known one in another gender ("rubrum"), which no genus has two of.

    >>> _gender_of("rubrum", ["rubra"]), _gender_of("nigrum", ["niger"]), _gender_of("montana", ["monticola"])
    (True, True, False)
    """
    return _stem(epithet) in {_stem(one) for one in known if one != epithet}


def _stem(epithet: str) -> str:
    return re.sub(_GENDER, "", re.sub(r"er$", "rus", epithet))


def of_genus(library: Library, genus: str) -> tuple[Record, ...]:
    """The species on record that belong to a genus by their name or a synonym."""
    start = fold(genus) + " "
    names = {e.record for key in library.index if key.startswith(start) for e in _botanical(library, key)}
    records = (library.get(name) for name in sorted(names))
    return tuple(record for record in records if record.rank != "genus")


def _botanical(library: Library, key: str) -> Iterable[Entry]:
    return (entry for entry in library.index[key] if entry.kind != "common")


def _genus_record(library: Library, genus: str) -> Record | None:
    """The record of a genus by its botanical name or a synonym; a common name is none ("tulip bulbs")."""
    entries = library.index.get(fold(genus), ())
    names = {entry.record for entry in entries if entry.kind != "common"}
    found = [library.get(name) for name in sorted(names)]
    return next((record for record in found if record.rank == "genus"), None)


def _epithets(library: Library, genus: str) -> set[str]:
    """The epithets of a genus that are on record, synonyms included."""
    start = fold(genus) + " "
    keys = (key for key in library.index if key.startswith(start) and any(_botanical(library, key)))
    return {key.split(" ")[1] for key in keys}


def _genera(library: Library) -> set[str]:
    return {name.split(" ")[0] for name in library.names}


def _has(library: Library, genus: str, epithet: str) -> bool:
    known = _epithets(library, genus)
    return epithet in known or _slip_of(epithet, known)


def _slip_of(word: str, known: Iterable[str]) -> bool:
    return any(_slip(word, other) for other in known)


def _slip(word: str, other: str) -> bool:
    """Whether one word may be the other with a slip of the pen: one letter, of long words two."""
    if abs(len(word) - len(other)) > 2:
        return False
    from rapidfuzz.distance import DamerauLevenshtein

    most = 2 if min(len(word), len(other)) >= 8 else 1
    return 0 < DamerauLevenshtein.distance(word.lower(), other.lower(), score_cutoff=most) <= most


def _latin(library: Library, genus: str, epithet: str) -> bool:
    """Whether two words look like a botanical name of a genus that is not on record, and not like English."""
    if not (genus[:1].isupper() and genus[1:].islower() and epithet.rstrip(".").islower()):
        return False
    if len(genus) < 3 or re.search(_ENDS, genus) is None:
        return False
    if epithet.rstrip(".") in library.beside.any_species:
        return True
    words, nouns = _english(library)
    latin = re.search(r"(a|us|um|is)$", genus) is not None
    adjective = not latin and genus.lower() in words and genus.lower() not in nouns
    called = any(one.kind == "common" for one in library.index.get(fold(genus), ()))
    if called and not latin:  # a plant's common name with a word behind it ("Eiche frisch")
        return False
    return len(epithet) > 2 and epithet not in words and not adjective


@lru_cache(maxsize=2)
def _english(library: Library) -> tuple[set[str], set[str]]:
    """The words of common names that are no botanical ones, and those of them that stand last.

    A genus may be a noun of English (geranium); no adjective is one.
    """
    common = [key.split(" ") for key in library.index if any(e.kind == "common" for e in library.index[key])]
    botanical = {w for key in library.index if any(_botanical(library, key)) for w in key.split(" ")[1:]}
    return {word for name in common for word in name} - botanical, {name[-1] for name in common}


def _stand_in(name: str, relatives: Sequence[Record], genus: Record | None) -> Record:
    """A record that holds the name, and of the rest what genus or relatives have in common.

    Kind of plant and unit are needed by rules that ask for them; they are the commonest among the relatives.
    """
    known = [genus] if genus is not None else list(relatives)
    killed = next((r.killed_by for r in relatives if r.killed_by and r.killed_by.chilling_celsius), None)
    return Record(
        name=name,
        family=_most([r.family for r in known], ""),
        rank="genus" if " " not in name and name != UNKNOWN else "species",
        plant=_most([r.plant for r in known], "perennial"),
        unit=_most([r.unit for r in known], "seed"),
        size=_most([r.size for r in known], None),
        storage=_shared_storage(relatives) if genus is None or genus.storage is None else None,
        killed_by=killed if _all_chilled(relatives) and genus is None else None,
        path="",
    )


def _most(values: Iterable[T], otherwise: T) -> T:
    counts = Counter(value for value in values if value is not None)
    return counts.most_common(1)[0][0] if counts else otherwise


def _shared_storage(relatives: Sequence[Record]) -> Storage | None:
    """The storage behaviour that all relatives share of whom it is known."""
    found = {r.storage.behaviour for r in relatives if r.storage is not None}
    return Storage(behaviour=next(iter(found)), cite=()) if len(found) == 1 else None


def _all_chilled(relatives: Sequence[Record]) -> bool:
    return bool(relatives) and all(r.killed_by and r.killed_by.chilling_celsius for r in relatives)
