"""Checks over the whole library: names that collide, families that differ, hazards that are missing."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from coldspell.check.base import Fault, Known, Summary
from coldspell.library.fold import fold
from coldspell.near import did_you_mean
from coldspell.records.name import genus_of

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
            if owner.file == record.file:
                continue
            if known.at_fault(record):
                what = f"the synonym '{synonym}' is a name of {owner.name} ({owner.file})"
                yield record, Fault(("synonyms", index), what, "Take it out of one of them.")
            else:
                what = f"'{synonym}' is a synonym of {record.name} ({record.file})"
                yield owner, Fault(("name",), what, "Take it out of one of them.")


def family_differs(known: Known) -> Found:
    """A family that differs from that of the genus's other records."""
    genera: dict[str, list[Summary]] = {}
    for record in known.all():
        genera.setdefault(record.genus, []).append(record)
    for name, members in genera.items():
        if len({record.family for record in members}) == 1 and name not in known.around:
            continue
        right = _standard(known, name, members)
        for record in members:
            if record.family != right.family:
                what = f"the family is {record.family}, but {right.family} in {right.file}"
                yield record, Fault(("family",), what, "A genus belongs to one family; correct one of them.")


def _standard(known: Known, genus: str, members: list[Summary]) -> Summary:
    """The record that the others of its genus are held against: one that nobody asked about, if there is one;
    of those the genus's own, else one of the family that most of them have.
    """
    stand = [record for record in members if record.file not in known.asked]
    own = [record for record in (known.around.get(genus), *stand) if record and record.name == genus]
    if own or not stand:
        return own[-1] if own else _most(known, members)
    return _most(known, stand)


def _most(known: Known, members: list[Summary]) -> Summary:
    count = Counter(record.family for record in members)
    own = [record for record in members if record.name == record.genus]
    if own:
        return own[0]
    return max(members, key=lambda record: (count[record.family], record.file != known.latest))


def taxon_of_another(known: Known) -> Found:
    """An id of an open list of names that is that of another record's plant."""
    owners = {
        (key, value): record
        for record in known.around.values()
        if record.name not in known.checked  # a record here stands in place of one of that name there
        for key, value in record.taxon.items()
    }
    for record in known.all():
        for key, value in record.taxon.items():
            owner = owners.setdefault((key, value), record)
            if owner.name != record.name:
                what = f"the {key} id {value} is that of {owner.name} ({owner.file})"
                yield record, Fault(("taxon", key), what, "One id is one plant: correct it, or leave it out.")


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


def common_name_of_another(known: Known) -> Found:
    """A common name that a record of another plant has too: the program can only ask which is meant."""
    owners: dict[str, dict[str, Summary]] = {}
    for record in known.around.values():
        if record.name not in known.checked:  # a record here stands in place of one of that name there
            _own(record, owners)
    for record in known.all():
        mine = {fold(name) for names in record.common_names.values() for name in names}
        for language, names in record.common_names.items():
            for index, name in enumerate(names):
                key = fold(name)
                others = owners.get(key, {}).values() if key in mine else ()
                mine.discard(key)  # the same word in two languages is one name
                for other in others:
                    if not _of_one_plant(record.name, other.name):
                        what = f"'{name}' is a common name of {other.name} ({other.file}) too"
                        mend = f"Take it out, or accept it with a reason that names {other.name}."
                        yield record, Fault(("common_names", language, index), what, mend, other)
        _own(record, owners)


def _own(record: Summary, owners: dict[str, dict[str, Summary]]) -> None:
    for names in record.common_names.values():
        for name in names:
            owners.setdefault(fold(name), {})[record.name] = record


def _of_one_plant(one: str, other: str) -> bool:
    """Whether one is the genus, or the species, that the other belongs to: the name may be that of both."""
    return f"{one} ".startswith(f"{other} ") or f"{other} ".startswith(f"{one} ")


def near_duplicate(known: Known) -> Found:
    """Two names that differ by one letter: probably one plant, misspelt."""
    by_genus: dict[str, list[Summary]] = {}
    for record in known.all():
        by_genus.setdefault(record.genus, []).append(record)
    around: dict[str, list[str]] = {}
    for name in known.around:
        if name not in known.checked and genus_of(name) in by_genus:
            around.setdefault(genus_of(name), []).append(name)
    for genus, members in by_genus.items():
        yield from _near(known, members)
        for record in members:
            for name in around.get(genus, ()):
                if _one_letter(record.name, name):
                    yield _misspelt(record, known.around[name])


def _near(known: Known, members: list[Summary]) -> Found:
    for index, record in enumerate(members):
        for other in members[index + 1 :]:
            if _one_letter(record.name, other.name):
                yield _misspelt(*((record, other) if known.at_fault(record) else (other, record)))


def _one_letter(one: str, other: str) -> bool:
    from rapidfuzz.distance import DamerauLevenshtein

    if abs(len(one) - len(other)) > 1:
        return False
    return DamerauLevenshtein.distance(one, other, score_cutoff=1) == 1


def _misspelt(record: Summary, other: Summary) -> tuple[Summary, Fault]:
    what = f"the name differs by one letter from {other.name} ({other.file})"
    mend = f"Correct it, or accept it with a reason that names {other.name}."
    return record, Fault(("name",), what, mend, other)
