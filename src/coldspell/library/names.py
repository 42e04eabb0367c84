"""Find the record that a name means, however it is typed; never a silent first match.

Only a whole name of a record answers by itself. What is less (part of a name, a genus without a record) is a
question; what is whole and yet more than one plant is a question too, or an answer that says what else it
may mean.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator
from typing import Literal

from msgspec import Struct

from coldspell.library.built import Entry
from coldspell.library.fold import fold, parted, singular
from coldspell.library.library import Library
from coldspell.records.model import Record
from coldspell.records.name import genus_of


class Found(Struct, frozen=True):
    """One record; ``matched_as`` is the name of the record, synonym or common name that was meant."""

    record: Record
    matched_as: str
    others: tuple[str, ...] = ()
    """Accepted names of further records that the name may mean."""
    variety: str = ""
    """The garden variety that was named."""
    unread: str = ""
    """The end of the name where it is of a rank below the species that has no record."""
    short: bool = False
    """Whether the genus was written as its first letter."""
    members: tuple[str, ...] = ()
    """Of a genus that answers as a whole: its species on record."""

    @property
    def whole(self) -> bool:
        """Whether the name is one of this record alone, so that nothing has to be said of it."""
        return not (self.others or self.variety or self.unread or self.short)


class Several(Struct, frozen=True):
    """One of these records must be chosen.

    ``unrecorded`` are genera that people mean by the name and that have no record. ``why``: the name is
    shared by several plants, is that of a genus without a record, or is only part of their names.
    """

    records: tuple[Record, ...]
    unrecorded: tuple[str, ...] = ()
    why: Literal["shared", "genus", "part"] = "shared"


class Missing(Struct, frozen=True):
    """No record; ``nearest`` holds similar names, best first.

    ``variety`` is a name of a fruit or nut and the words beside it, which may be a variety of it.
    """

    nearest: tuple[str, ...]
    variety: tuple[str, str] | None = None


def look_up(library: Library, text: str) -> Found | Several | Missing:
    """Find the record that a name means.

    Parameters
    ----------
    library
        The library to search.
    text
        A botanical name (with or without author, hybrid sign or rank), a synonym, a common name in any
        language, or a genus ("Acacia spp." is the genus and nothing else); in any case, singular or plural,
        with or without hyphens and accents; with the name of a garden variety in quotation marks.

    Returns
    -------
    Found, Several or Missing
        ``Several`` whenever the name means more than one plant; ``Missing`` with the nearest names otherwise.
    """
    name, variety = parted(text)
    folded = fold(name)
    if not folded:
        return Missing(())
    found = (
        _whole(library, folded)
        or _authored(library, name.split())
        or _abbreviated(library, folded)
        or _handled(library, folded)
        or _part(library, folded)
    )
    if isinstance(found, Several) and name[:1].isupper():
        found = _botanical(library, folded) or found
    if isinstance(found, Found):
        return Found(
            found.record, found.matched_as, found.others, variety or found.variety, found.unread, found.short
        )
    return found or Missing(_nearest(library, folded), _variety_of(library, name.split()))


def _whole(library: Library, folded: str) -> Found | Several | None:
    """What the name means as a whole, in any of its spellings."""
    head, _, last = folded.rpartition(" ")
    if last in ("sp", "spp") and head.isalpha():
        genus = head.capitalize()
        return Found(library.get(genus), genus) if genus in library else None
    readings = tuple(dict.fromkeys(_spellings(folded)))
    for ask in (_word, _exact):
        for key in readings:
            found = ask(library, key, folded)
            if found is not None:
                return found
    return _with_unit(library, folded) or _foreign_plural(library, folded)


def _spellings(folded: str) -> Iterator[str]:
    yield folded
    yield singular(folded)
    joined = folded.replace(" ", "")
    yield joined
    yield singular(joined)


def _exact(library: Library, key: str, typed: str) -> Found | Several | None:
    """The record, or the records, of which this spelling of what was typed is a whole name."""
    entries = library.index.get(key, [])
    if " " not in key:
        members = _members(library, key)
        if members:
            return _genus(library, key, members, entries)
    for kind in ("name", "synonym"):
        strong = [entry for entry in entries if entry.kind == kind]
        if strong:
            return _one_or_several(library, strong, entries, typed)
    return _one_or_several(library, _first_ones(library, entries, key), entries, typed) if entries else None


def _members(library: Library, key: str) -> list[str]:
    """The records of a genus, by its folded name."""
    genus = key.capitalize()
    return [genus] if genus in library else list(library.members(genus))


def _genus(library: Library, key: str, members: list[str], entries: list[Entry]) -> Found | Several:
    """A genus by its botanical name: its own record, and never one of its species.

    People of other trades may mean another genus by the word (the nasturtium of gardens is a Tropaeolum).
    """
    genus = key.capitalize()
    others = [entry.record for entry in entries if genus_of(entry.record) != genus]
    if members != [genus]:
        return Several(_records(library, [*members, *others]), why="shared" if others else "genus")
    if others:
        return Several(_records(library, [genus, *others]))
    namesakes = dict.fromkeys(entry.record for entry in entries if entry.record != genus)
    return Found(library.get(genus), genus, tuple(namesakes))


def _botanical(library: Library, key: str) -> Found | None:
    """A genus on record, typed with its capital, unless another plant has the word for its first name."""
    genus = key.capitalize()
    entries = [entry for entry in library.index.get(key, ()) if genus_of(entry.record) != genus]
    if genus not in library or any(entry.first for entry in entries):
        return None
    return Found(library.get(genus), genus, tuple(dict.fromkeys(entry.record for entry in entries)))


def _first_ones(library: Library, entries: list[Entry], key: str) -> list[Entry]:
    """Of the records that share a common name, those that it names first in some language."""
    first = []
    for language in dict.fromkeys(entry.language for entry in entries):
        own = [entry for entry in entries if entry.language == language]
        first += [entry for entry in own if entry.first] or own
    return _species_of(library, first, key) or first


def _species_of(library: Library, entries: list[Entry], key: str) -> list[Entry] | None:
    """Of a genus and one species of it that share a common name ("apple"), mean the species.

    Not where the genus is mixed and further species are called something like it ("walnut", "black walnut").
    """
    names = list(dict.fromkeys(entry.record for entry in entries))
    genus = next((name for name in names if " " not in name), None)
    species = [entry for entry in entries if entry.record != genus]
    if genus is None or len(names) != 2 or genus_of(species[0].record) != genus:
        return None
    if library.get(genus).asks:
        members = (name for name in library.members(genus) if name != genus)
        if any(name != species[0].record and _carries(library, name, key) for name in members):
            return None
    return species


def _one_or_several(
    library: Library, chosen: list[Entry], entries: list[Entry], typed: str
) -> Found | Several:
    """One record, with all that the name may mean besides; or several, but the question of a mixed genus."""
    names = list(dict.fromkeys(entry.record for entry in chosen))
    every = list(dict.fromkeys(entry.record for entry in entries))
    if len(names) > 1:
        genus = genus_of(names[0])
        asks = genus in every and library.get(genus).asks is not None
        if not asks or any(genus_of(name) != genus for name in every):
            return Several(_records(library, every))
        meant = next(entry.printed for entry in entries if entry.record == genus)
        return Found(library.get(genus), meant, tuple(name for name in every if name != genus))
    if fold(chosen[0].printed) == typed:  # "pear" is one pear; "pears" may be all of the genus
        genus = genus_of(names[0])
        every = [e.record for e in entries if e.record != genus or fold(e.printed) == typed]
    others = tuple(name for name in dict.fromkeys(every) if name != names[0])
    return Found(library.get(names[0]), chosen[0].printed, others)


def _word(library: Library, key: str, typed: str) -> Found | Several | None:
    """Answer a word that means several plants, even where the library holds only one of them."""
    meant = library.words.get(key)
    if meant is None:
        return None
    if len(meant) == 1:  # a genus of one species
        return Found(library.get(meant[0]), meant[0]) if meant[0] in library else None
    names = [entry.record for entry in library.index.get(key, ())]
    covered = {genus_of(name) for name in names}
    unrecorded = []
    for genus in meant:
        if genus in covered:
            continue
        if genus in library:
            names.append(genus)
        else:
            members = _members(library, genus.casefold())
            names += [name for name in members if _carries(library, name, key)]
            unrecorded += [] if members else [genus]
    return Several(_records(library, names), tuple(unrecorded)) if names else None


def _carries(library: Library, name: str, key: str) -> bool:
    commons = (common for names in library.get(name).common_names.values() for common in names)
    return any(f" {singular(fold(common))}".endswith(" " + key) for common in commons)


def _with_unit(library: Library, folded: str) -> Found | Several | None:
    """A whole name with what is handled behind it ("white oak acorns"), if that plant has such a thing."""
    words = folded.split()
    for count in range(len(words) - 1, 0, -1):
        units = [singular(word) for word in words[count:]]
        if not all(unit in library.beside.fits for unit in units):
            return None
        name = " ".join(words[:count])
        readings = tuple(dict.fromkeys(_spellings(name)))
        for ask in (_word, _exact):
            for key in readings:
                found = ask(library, key, name)
                if isinstance(found, Found) and not all(_fits(library, found.record, unit) for unit in units):
                    return Several((found.record,), why="part")
                if found is not None:
                    return found
    return None


def _foreign_plural(library: Library, folded: str) -> Found | Several | None:
    """The plural of a common name, which counts for names of its language alone."""
    from coldspell.library.plurals import singulars  # most names are found before

    for language, key in singulars(folded):
        own = [one for one in library.index.get(key, ()) if one.language == language]
        if own:
            return _one_or_several(library, _first_ones(library, own, key), own, folded)
    return None


def _fits(library: Library, record: Record, word: str) -> bool:
    return library.beside.goes_with(word, (record.unit, record.plant))


def _authored(library: Library, words: list[str]) -> Found | None:
    """A species by its botanical name, with its author behind it, a rank without a record, or a variety.

    Nothing else that stands there is let go: it may be what was done to the seed.
    """
    for count in range(len(words) - 1, 1, -1):
        key = fold(" ".join(words[:count]))
        if not any(entry.kind != "common" for entry in library.index.get(key, ())):
            continue
        found = _exact(library, key, key)
        behind = library.beside.split_behind(words[count:])
        if behind is not None and isinstance(found, Found) and found.record.rank != "genus":
            rank, variety = behind
            return Found(found.record, found.matched_as, found.others, variety, fold(rank))
    return None


def _handled(library: Library, folded: str) -> Found | Several | None:
    """A name with what is handled before it ("noyau de pêche"), or grown into one word ("Apfelkerne")."""
    for name, unit in library.beside.handled(folded):
        found = _whole(library, name) or _part_of_name(library, name)
        if isinstance(found, Found) and not _fits(library, found.record, unit):
            return Several((found.record,), why="part")
        if found is not None:
            return found
    words = folded.split()
    fits = library.beside.fits
    while len(words) > 1 and singular(words[-1]) in fits:  # "cherry stones", of which there are several
        words = words[:-1]
    return _part_of_name(library, " ".join(words)) if len(words) < folded.count(" ") + 1 else None


def _abbreviated(library: Library, folded: str) -> Found | Several | None:
    """Resolve a genus written as its first letter ("Q. robur")."""
    match = re.fullmatch(r"([a-z]) ([a-z].*)", folded)
    if not match:
        return None
    names = dict.fromkeys(
        entry.record
        for key in library.index  # what it holds under a name is decoded when that is asked for
        if key.startswith(match[1]) and key.partition(" ")[2] == match[2]
        for entry in library.index[key]
        if entry.kind in ("name", "synonym")
    )
    if len(names) == 1:
        name = next(iter(names))
        return Found(library.get(name), name, short=True)
    return Several(_records(library, names)) if names else None


def _part(library: Library, folded: str) -> Found | Several | None:
    """The plants whose common name ends in the typed words ("cherry": sweet cherry, …), as a question.

    What is handled ("acorn") answers where all plants that have it are of one genus with a record.
    """
    key = singular(folded)
    several = _part_of_name(library, key)
    if several is not None:
        return several
    genera = {genus_of(name) for name in library.units.get(key, ())}
    if len(genera) == 1 and genera <= {*library.names}:
        return Found(library.get(*genera), key)
    return None


def _part_of_name(library: Library, folded: str) -> Several | None:
    """The plants whose common name ends in these words."""
    ending = " " + singular(folded)
    names = [
        entry.record
        for name in library.index
        if name.endswith(ending)
        for entry in library.index[name]
        if entry.kind == "common"
    ]
    return Several(_likely_first(library, names), why="part") if names else None


def _likely_first(library: Library, names: list[str]) -> tuple[Record, ...]:
    """Records with those first that are sown most: fruit and nuts, and the genus with most of the names."""
    genera = Counter(map(genus_of, dict.fromkeys(names)))
    likely = {"fruit tree", "nut tree"}
    every = _records(library, names)
    return tuple(sorted(every, key=lambda one: (one.plant not in likely, -genera[genus_of(one.name)])))


def _variety_of(library: Library, words: list[str]) -> tuple[str, str] | None:
    """A name of a fruit or nut tree that the words end in, or begin with, and the others."""
    cuts = range(1, len(words))
    parts = [(words[at:], words[:at]) for at in cuts] + [(words[:at], words[at:]) for at in reversed(cuts)]
    for one, rest in parts:
        name = " ".join(one)
        if any(map(library.beside.no_name, rest)):
            continue
        found = _whole(library, fold(name))
        if isinstance(found, Found) and found.record.plant in ("fruit tree", "nut tree"):
            return name, " ".join(rest)
    return None


def _records(library: Library, names: Iterable[str]) -> tuple[Record, ...]:
    return tuple(library.get(name) for name in sorted(dict.fromkeys(names)))


def _nearest(library: Library, folded: str) -> tuple[str, ...]:
    """Return up to five printed names that are similar, best first."""
    index = library.index
    from coldspell.near import nearest_few  # only wanted when nothing has the name

    near = nearest_few(folded, [*index, *library.units], 12, 72)
    printed = dict.fromkeys(
        entry.printed
        for key in near
        for entry in index.get(key) or [Entry("", key, "common")]
        if entry.kind == "common" or " " not in folded or _like_genus(folded, key)
    )
    return tuple(printed)[:5]


def _like_genus(folded: str, key: str) -> bool:
    """Whether two names begin alike: no other genus is offered for the sake of its epithet alone."""
    from coldspell.near import nearest_few

    return bool(nearest_few(folded.split(" ")[0], [key.split(" ")[0]], 1, 75))
