"""Checks over the whole library: names that collide, families that differ, hazards that are missing."""

from __future__ import annotations

from collections.abc import Iterator

from coldspell.check.base import Fault, Known, Summary
from coldspell.library.fold import fold
from coldspell.near import did_you_mean

Found = Iterator[tuple[Summary, Fault]]


def colliding_name(known: Known) -> Found:
    """A name or synonym that another record has too."""
    owners: dict[str, Summary] = {}
    for record in known.all():
        key = fold(record.name)
        if key in owners:
            what = f"the name '{record.name}' stands in {owners[key].file} too"
            yield record, Fault(("name",), what, "One plant has one record: join the two.")
        else:
            owners[key] = record
    for record in known.all():
        for index, synonym in enumerate(record.synonyms):
            key = fold(synonym)
            owner = owners.setdefault(key, record)
            if owner.file != record.file:
                what = f"the synonym '{synonym}' is a name of {owner.name} ({owner.file})"
                yield record, Fault(("synonyms", index), what, "Take it out of one of them.")


def family_differs(known: Known) -> Found:
    """A family that differs from that of the genus's other records."""
    first: dict[str, Summary] = {}
    for record in known.all():
        genus = known.find(record.genus)
        other = genus if genus is not None else first.setdefault(record.genus, record)
        if other.family != record.family:
            what = f"the family is {record.family}, but {other.family} in {other.file}"
            yield record, Fault(("family",), what, "A genus belongs to one family; correct one of them.")


def hazard_missing(known: Known) -> Found:
    """A plant of a genus that is known to be dangerous, without any hazard in its record or its genus's."""
    for record in known.all():
        wanted = known.poisonous.get(record.name) or known.poisonous.get(record.genus)
        genus = known.find(record.genus)
        if wanted and not record.hazards and not (genus and genus.hazards):
            says = wanted.says or f"{wanted.kind} to {' and '.join(wanted.to)}"
            what = f"no hazard, but {wanted.species or wanted.genus} is dangerous: {says}"
            yield record, Fault(("name",), what, "Add it under hazards, with the part and a footnote.")


def asks_for_unknown_name(known: Known) -> Found:
    """A genus record's question leads to a species that is not in the library."""
    for record in known.all():
        for name in record.asked_names:
            if known.find(name) is None:
                names = (*known.checked, *known.around)
                mend = did_you_mean(name, names, "Add the record, or leave the name out.")
                yield record, Fault(("asks", "answers"), f"there is no record '{name}'", mend)


def near_duplicate(known: Known) -> Found:
    """Two names that differ by one letter: probably one plant, misspelt."""
    by_genus: dict[str, list[Summary]] = {}
    for record in known.all():
        by_genus.setdefault(record.genus, []).append(record)
    for members in by_genus.values():
        yield from _near(members)


def _near(members: list[Summary]) -> Found:
    from rapidfuzz.distance import DamerauLevenshtein

    for index, record in enumerate(members):
        for other in members[index + 1 :]:
            if abs(len(record.name) - len(other.name)) > 1:
                continue
            if DamerauLevenshtein.distance(record.name, other.name, score_cutoff=1) == 1:
                what = f"the name differs by one letter from {other.name} ({other.file})"
                yield record, Fault(("name",), what, "Correct it, or accept this with the reason.")
