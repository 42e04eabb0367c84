"""Seeds in a kilogram against open tables of weights and counts (tests/data/external/seed-weights.csv).

A count per pound times 2.20462, a million over a weight in milligrams: what a record says it has from a table
must be that, and what it has from elsewhere is compared with the tables that it does not cite.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable
from dataclasses import dataclass
from statistics import median

from external import rows

from coldspell.library.load import Library
from coldspell.records.model import Record

TABLE = "seed-weights.csv"
POUNDS = 2.20462
"""Pounds in a kilogram (0.45359237 kg, the international pound)."""
PER_KG: dict[str, Callable[[float], float]] = {
    "seeds a pound": lambda given: given * POUNDS,
    "seeds a gram": lambda given: given * 1000,
    "g a thousand": lambda given: 1e6 / given,
    "mg": lambda given: 1e6 / given,
}


@dataclass(frozen=True, slots=True)
class Weighed:
    """One row: the source and the seeds in a kilogram, low and high (alike where it gives one number)."""

    source: str
    low: float
    high: float

    @property
    def middle(self) -> float:
        """Halfway, as the program takes a range without a usual value."""
        return (self.low + self.high) / 2


def weighed() -> dict[str, list[Weighed]]:
    """The rows of the table by the name of the record."""
    found: dict[str, list[Weighed]] = defaultdict(list)
    for row in rows(TABLE):
        ends = sorted(PER_KG[row["unit"]](float(part)) for part in row["given"].split("-"))
        found[row["name"]].append(Weighed(row["source"], ends[0], ends[-1]))
    return found


def counted(library: Library) -> dict[str, Record]:
    """Species records that say how many seeds a kilogram holds."""
    records = (library.get(name) for name in library.names)
    return {r.name: r for r in records if r.rank != "genus" and r.seeds_per_kg is not None}


def sources(record: Record) -> set[str | None]:
    """The works that a record has its count from."""
    assert record.seeds_per_kg is not None
    return {record.cites[name].source for name in record.seeds_per_kg.cite}


def count(record: Record) -> float:
    """The count that the program plans with."""
    assert record.seeds_per_kg is not None
    return record.seeds_per_kg.value.middle


def others(record: Record, table: dict[str, list[Weighed]]) -> list[float]:
    """Counts from the tables that a record does not cite."""
    cited = sources(record)
    return [row.middle for row in table.get(record.name, ()) if row.source not in cited]


def compared(library: Library) -> dict[str, float]:
    """Records with two or more other weights: the median of those over the record's own count."""
    table = weighed()
    found = {}
    for name, record in counted(library).items():
        seen = others(record, table)
        if len(seen) >= 2:
            found[name] = median(seen) / count(record)
    return found
