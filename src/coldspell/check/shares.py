"""Who says what in a library: citations, shares of read, recalled and practice, and what is missing."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from msgspec import Struct

from coldspell.library.library import Library
from coldspell.records.model import Record

# How much it hurts when a record has none of a topic that an answer draws on.
WEIGHTS: Mapping[str, int] = {
    "treatments": 10,
    "storage": 3,
    "dormancy": 3,
    "sowing": 2,
    "harvest": 2,
    "germination": 1,
    "seeds_per_kg": 1,
    "seed_mm": 1,
}


@dataclass(frozen=True, slots=True)
class Citation:
    """One footnote of one record, and the topics that cite it."""

    record: str
    path: str
    footnote: str
    basis: str
    source: str | None
    at: str | None
    topics: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Gaps:
    """What one record lacks; ``weight`` ranks records, the worst highest."""

    record: str
    path: str
    missing: tuple[str, ...]
    not_read: tuple[str, ...]
    sources: tuple[str, ...]
    weight: int


def cited_by_topic(record: Record) -> dict[str, tuple[str, ...]]:
    """Return the footnotes that each topic of a record cites."""
    topics: dict[str, tuple[str, ...]] = {}
    for name in record.__struct_fields__:
        if name not in ("cites", "accept"):
            notes: list[str] = []
            _gather(getattr(record, name), notes)
            if notes:
                topics[name] = tuple(dict.fromkeys(notes))
    return topics


def _gather(value: Any, notes: list[str]) -> None:
    """Add the footnotes within a value, in their order."""
    if isinstance(value, tuple):
        for item in value:
            _gather(item, notes)
    elif isinstance(value, Struct):
        for name in value.__struct_fields__:
            inner = getattr(value, name)
            if name == "cite":
                notes.extend(inner)
            elif isinstance(inner, tuple | Struct):
                _gather(inner, notes)


def citations(library: Library) -> Iterator[Citation]:
    """Yield every footnote of every record."""
    for name in library.names:
        record = library.get(name)
        topics = cited_by_topic(record)
        for note, cite in record.cites.items():
            using = tuple(topic for topic, notes in topics.items() if note in notes)
            yield Citation(name, record.path, note, cite.basis, cite.source, cite.at, using)


def shares(library: Library) -> dict[str, int]:
    """Return how many cited values (topics of records) rest on read, recalled and practice at best."""
    counts = Counter({"read": 0, "recalled": 0, "practice": 0})
    for name in library.names:
        record = library.get(name)
        for notes in cited_by_topic(record).values():
            counts[best_basis(record, notes)] += 1
    return dict(counts)


def best_basis(record: Record, notes: tuple[str, ...]) -> str:
    """Return the best of the bases of some footnotes: read, recalled, practice."""
    bases = {record.cites[note].basis for note in notes if note in record.cites}
    return next((basis for basis in ("read", "recalled") if basis in bases), "practice")


def gaps(library: Library) -> list[Gaps]:
    """Return what each record lacks, the worst first; genus records that only ask are left out."""
    found = [_gaps(library.get(name)) for name in library.names]
    return sorted((one for one in found if one and one.weight), key=lambda one: (-one.weight, one.record))


def _gaps(record: Record) -> Gaps | None:
    if record.rank == "genus" and record.asks is not None:
        return None
    topics = cited_by_topic(record)
    wanted = {"treatments": WEIGHTS["treatments"]} if record.rank == "genus" else WEIGHTS
    missing = tuple(topic for topic in wanted if topic not in topics)
    weak = tuple(
        topic for topic, notes in topics.items() if topic in WEIGHTS and best_basis(record, notes) != "read"
    )
    sources = tuple(sorted({cite.source for cite in record.cites.values() if cite.source}))
    weight = sum(wanted[topic] for topic in missing) + sum(WEIGHTS[topic] for topic in weak)
    if record.rank != "genus" and len(sources) < 2:
        weight += 2
    return Gaps(record.name, record.path, missing, weak, sources, weight)
