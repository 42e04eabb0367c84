"""Find the record that a name means, however it is typed; never a silent first match."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Mapping
from functools import lru_cache
from typing import Any

from msgspec import Struct

from coldspell.errors import ColdspellError
from coldspell.library.built import Entry
from coldspell.library.library import Library
from coldspell.near import nearest_few
from coldspell.records.model import Record
from coldspell.records.name import genus_of

_UNIT_WORDS = frozenset(
    {"seed", "nut", "acorn", "stone", "pit", "pip", "kernel", "key", "samara", "fruit", "cone", "berry"}
    | {"achene", "nutlet", "grain", "tree", "shrub"}
)
_RANKS = {"ssp": "subsp", "subspecies": "subsp", "variety": "var", "forma": "f"}


class Found(Struct, frozen=True):
    """One record; ``matched_as`` is the name of the record, synonym or common name that was meant."""

    record: Record
    matched_as: str


class Several(Struct, frozen=True):
    """A name of several plants: one of these records must be chosen.

    ``unrecorded`` are genera that people mean by it and that have no record.
    """

    records: tuple[Record, ...]
    unrecorded: tuple[str, ...] = ()


class Missing(Struct, frozen=True):
    """No record; ``nearest`` holds similar names, best first."""

    nearest: tuple[str, ...]


@lru_cache(maxsize=4096)
def fold(text: str) -> str:
    """Reduce a name to what counts: lower case, no accents, hyphens, apostrophes, points or hybrid signs."""
    plain = unicodedata.normalize("NFKD", text.replace("×", " ").casefold())
    plain = "".join(character for character in plain if not unicodedata.combining(character))
    plain = re.sub(r"['’`.]", "", plain)
    words = re.sub(r"[^\w]+|_", " ", plain).split()
    return " ".join(_RANKS.get(word, word) for word in words if word != "x")


def singular(folded: str) -> str:
    """Return a folded English common name with its last word in the singular."""
    head, _, last = folded.rpartition(" ")
    if len(last) > 4 and last.endswith("ies"):
        last = last[:-3] + "y"
    elif len(last) > 4 and last.endswith(("ches", "shes", "xes", "sses")):
        last = last[:-2]
    elif len(last) > 3 and last.endswith("s") and not last.endswith(("ss", "us", "is")):
        last = last[:-1]
    return f"{head} {last}".strip()


def index_of(records: Mapping[str, dict[str, Any]]) -> dict[str, list[Entry]]:
    """Return every folded name (common names in the singular) with the records that carry it."""
    index: dict[str, list[Entry]] = {}

    def add(key: str, entry: Entry) -> None:
        entries = index.setdefault(key, [])
        if all(other.record != entry.record for other in entries):
            entries.append(entry)

    for name in records:
        add(fold(name), Entry(name, name, "name"))
    for name, record in records.items():
        for synonym in record.get("synonyms", ()):
            add(fold(synonym), Entry(name, synonym, "synonym"))
    for name, record in records.items():
        for commons in record.get("common_names", {}).values():
            for common in commons:
                folded = singular(fold(common))
                for key in dict.fromkeys((folded, folded.replace(" ", ""))):
                    add(key, Entry(name, common, "common"))
    return dict(sorted(index.items()))


def look_up(library: Library, text: str) -> Found | Several | Missing:
    """Find the record that a name means.

    Parameters
    ----------
    library
        The library to search.
    text
        A botanical name (with or without author, hybrid sign or rank), a synonym, a common name in any
        language, or a genus; in any case, singular or plural, with or without hyphens.

    Returns
    -------
    Found, Several or Missing
        ``Several`` whenever the name means more than one plant; ``Missing`` with the nearest names otherwise.
    """
    folded = fold(text)
    if not folded:
        return Missing(())
    readings = tuple(dict.fromkeys(_readings(folded)))
    for ask in (_word_of_several, _exact):
        for key in readings:
            found = ask(library, key)
            if found:
                return found
    by_words = (_by_last_words(library, key) for key in readings)
    return (
        _abbreviated(library, folded)
        or next((found for found in by_words if found), None)
        or _by_unit(library, singular(folded))
        or Missing(_nearest(library, folded))
    )


def one_record(library: Library, text: str, otherwise: str = "") -> Record:
    """The one record that a name means; never a silent first match.

    Parameters
    ----------
    library, text
        As for `look_up`.
    otherwise
        What to do with a plant that is not on record; ends the message.

    Raises
    ------
    ColdspellError
        Nothing is known by that name (the nearest are offered), or it means several plants (they are listed).
    """
    found = look_up(library, text)
    if isinstance(found, Found):
        return found.record
    if isinstance(found, Several):
        some = ", ".join(_both_names(record) for record in found.records[:12])
        more = f" and {len(found.records) - 12} more" if len(found.records) > 12 else ""
        none = (
            f" Also {', '.join(found.unrecorded)}, of which there is no record." if found.unrecorded else ""
        )
        what = f"{text!r} is the name of several plants"
        raise ColdspellError(what, mend=f"Which one: {some}{more}?{none}")
    genus = library.genus(text.strip().capitalize())
    mends = (
        f"Did you mean: {', '.join(found.nearest)}?" if found.nearest else "",
        f"For the genus ask: coldspell recipe {genus.name}." if genus else "",
        otherwise,
    )
    raise ColdspellError(f"no record for {text[:80]!r}", mend=" ".join(mend for mend in mends if mend))


def _both_names(record: Record) -> str:
    names = record.common_names.get("en", ())
    return f"{names[0]} ({record.name})" if names else record.name


def _readings(folded: str) -> Iterable[str]:
    """Yield what a typed name may stand for: itself, its singular, without unit words, without the author."""
    words = folded.split()
    yield folded
    yield singular(folded)
    joined = folded.replace(" ", "")
    if joined != folded:
        yield joined
        yield singular(joined)
    while len(words) > 1 and singular(words[-1]) in _UNIT_WORDS:
        words = words[:-1]
        yield " ".join(words)
        yield singular(" ".join(words))
    words = folded.split()
    for count in (4, 2):
        if len(words) > count:
            yield " ".join(words[:count])


def _exact(library: Library, key: str) -> Found | Several | None:
    entries = library.index.get(key, [])
    strongest = [entry for entry in entries if entry.kind == "name"] or entries
    if not strongest:
        return None
    if len(strongest) == 2:
        strongest = _species_of(library, strongest, key) or strongest
    if len(strongest) == 1:
        return Found(library.get(strongest[0].record), strongest[0].printed)
    return _several(library, [entry.record for entry in strongest])


def _species_of(library: Library, entries: list[Entry], key: str) -> list[Entry] | None:
    """Of a genus and one species of it that share a common name ("apple"), mean the species.

    Not where the genus is mixed and further species are called something like it ("walnut", "black walnut").
    """
    genus = next((entry for entry in entries if " " not in entry.record), None)
    species = next((entry for entry in entries if entry is not genus), None)
    if genus is None or species is None or not species.record.startswith(genus.record + " "):
        return None
    if library.get(genus.record).asks:
        members = (name for name in library.names if name.startswith(genus.record + " "))
        if any(name != species.record and _carries(library, name, key) for name in members):
            return None
    return [species]


def _word_of_several(library: Library, key: str) -> Several | None:
    """Answer a word that means several plants, even where the library holds only one of them."""
    genera = library.words.get(key)
    if genera is None:
        return None
    names = [entry.record for entry in library.index.get(key, ())]
    covered = {name.split(" ")[0] for name in names}
    unrecorded = []
    for genus in genera:
        if genus in covered:
            continue
        if genus in library:
            names.append(genus)
        else:
            members = [name for name in library.names if name.startswith(genus + " ")]
            carriers = [name for name in members if _carries(library, name, key)]
            names += carriers
            unrecorded += [] if members else [genus]
    if not names:
        return None
    return Several(_several(library, names).records, tuple(unrecorded))


def _carries(library: Library, name: str, key: str) -> bool:
    commons = (common for names in library.get(name).common_names.values() for common in names)
    return any(f" {singular(fold(common))}".endswith(" " + key) for common in commons)


def _by_last_words(library: Library, key: str) -> Found | Several | None:
    """Find the plants whose common name ends in the typed words ("hickory": shagbark hickory, …)."""
    ending = " " + key
    names = [
        entry.record
        for folded, entries in library.index.items()
        if folded.endswith(ending)
        for entry in entries
        if entry.kind == "common"
    ]
    return _one_or_several(library, names, key)


def _by_unit(library: Library, key: str) -> Found | Several | None:
    names = library.units.get(key, [])
    return _one_or_several(library, names, key)


def _one_or_several(library: Library, names: list[str], key: str) -> Found | Several | None:
    """Put the genus record in the place of several of its species."""
    by_genus: dict[str, list[str]] = {}
    for name in dict.fromkeys(names):
        by_genus.setdefault(genus_of(name), []).append(name)
    chosen: list[str] = []
    for genus, members in by_genus.items():
        chosen += [genus] if len(members) > 1 and genus in library else members
    if not chosen:
        return None
    if len(chosen) == 1:
        return Found(library.get(chosen[0]), key)
    return _several(library, chosen)


def _abbreviated(library: Library, folded: str) -> Found | Several | None:
    """Resolve a genus written as its first letter ("Q. robur")."""
    match = re.fullmatch(r"([a-z]) ([a-z].*)", folded)
    if not match:
        return None
    names = [
        entry.record
        for key, entries in library.index.items()
        if key.startswith(match[1]) and key.partition(" ")[2] == match[2]
        for entry in entries
        if entry.kind in ("name", "synonym")
    ]
    if not names:
        return None
    unique = list(dict.fromkeys(names))
    return Found(library.get(unique[0]), unique[0]) if len(unique) == 1 else _several(library, unique)


def _several(library: Library, names: Iterable[str]) -> Several:
    return Several(tuple(library.get(name) for name in sorted(dict.fromkeys(names))))


def _nearest(library: Library, folded: str) -> tuple[str, ...]:
    """Return up to five printed names that are similar, best first."""
    index = library.index
    near = nearest_few(folded, index, 12, 72)
    printed = dict.fromkeys(
        entry.printed
        for key in near
        for entry in index[key]
        if entry.kind == "common" or " " not in folded or _like_genus(folded, key)
    )
    return tuple(printed)[:5]


def _like_genus(folded: str, key: str) -> bool:
    """Whether two names begin alike: no other genus is offered for the sake of its epithet alone."""
    return bool(nearest_few(folded.split(" ")[0], [key.split(" ")[0]], 1, 75))
