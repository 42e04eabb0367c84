"""Compare the library with published tables: does it need cold, warmth, an opened coat, and for how long?

Records that cite the very table for the value are left out, so that nothing agrees with itself.
"""

from __future__ import annotations

import csv
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from coldspell.library.load import Library
from coldspell.library.names import Found, look_up
from coldspell.records.model import Quantity, Record, Step, Treatment

DATA = Path(__file__).parent.parent / "data" / "external"
TRIALS = "sylvanseeds"
WIDER = 1.5
"""Lengths agree when the ranges, each made half as long again at its upper end, meet."""
_COLD = ("cold_moist", "cool_moist")
_OPEN = ("scarify_mechanical", "scarify_hot_water", "scarify_acid", "crack_shell")
_NEEDS_OPEN = (*_OPEN, "dry_heat", "heat_bath")


@dataclass(frozen=True, slots=True)
class Compared:
    """One row of a table against one record; ``differs`` is empty when they agree."""

    name: str
    lot: str
    differs: str


def rows(file: str) -> Iterator[dict[str, str]]:
    """The rows of a table, comments left out."""
    with (DATA / file).open(encoding="utf-8") as stream:
        yield from csv.DictReader(line for line in stream if not line.startswith("#"))


def record_of(library: Library, name: str) -> Record | None:
    """The species record that a name of a table means."""
    found = look_up(library, name)
    if not isinstance(found, Found) or found.record.rank == "genus":
        return None
    return found.record


def treatments_for(record: Record, lot: str) -> list[Treatment]:
    """All treatments offered for a fresh, dried or any lot, methods for professionals included."""
    return [t for t in record.treatments if lot == "any" or t.when.get("moisture", lot) == lot]


def compare_table(library: Library) -> list[Compared]:
    """Warm, cold and opened coats of a handbook table of 88 species."""
    found = []
    for row in rows("pretreatment-table.csv"):
        record = record_of(library, row["name"])
        if record is None:
            continue
        offered = treatments_for(record, row["lot"])
        if not offered or any(_cites(record, t.cite, "chong-bible-ju-2001") for t in record.treatments):
            continue
        warm = (float(row["warm_low"]), float(row["warm_high"]))
        cold = (float(row["cold_low"]), float(row["cold_high"]))
        best = min((_differs(t, warm, cold, row["opened"]) for t in offered), key=len)
        found.append(Compared(record.name, row["lot"], best))
    return found


def compare_trials(library: Library) -> list[Compared]:
    """Whether cold is needed, and for how long, by trials that sowed seed with it and without.

    A trial speaks for cold where half or more came after it and 25 points fewer without; against it where
    three in five or more came without and no more than 10 points were gained. Others are not counted.
    """
    found = []
    for row in rows("cold-trials.csv"):
        record = record_of(library, row["name"])
        untreated, chilled = float(row["untreated_percent"]), float(row["cold_percent"])
        helps = chilled >= 50 and chilled - untreated >= 25
        if record is None or not (helps or (untreated >= 60 and chilled <= untreated + 10)):
            continue
        if any(_cites(record, one.cite, row["source"] or TRIALS, TRIALS) for one in record.treatments):
            continue
        spans = [_days([s for s in one.steps if s.do in _COLD]) for one in record.treatments]
        tried = (float(row["days_enough"]), float(row["days_best"]))
        if helps:
            outdoors = any(step.outdoors for one in record.treatments for step in one.steps)
            agrees = outdoors or any(high > 0 and _meet((low, high), tried) for low, high in spans)
        else:
            agrees = any(low == 0 for low, _ in spans)
        said = f"{untreated:g} % without cold, {chilled:g} % after {tried[0]:g} to {tried[1]:g} days"
        found.append(Compared(record.name, row["paper"], "" if agrees else said))
    return found


def compare_classes(library: Library) -> list[Compared]:
    """Dormancy classes of an open data set."""
    found = []
    for row in rows("dormancy-classes.csv"):
        record = record_of(library, row["name"])
        if record is None or record.dormancy is None:
            continue
        if _cites(record, record.dormancy.cite, "baskin-dormancy-database"):
            continue
        same = record.dormancy.class_ == row["class"]
        differs = "" if same else f"class {record.dormancy.class_} against {row['class']}"
        found.append(Compared(record.name, "any", differs))
    return found


def compare_needs(library: Library) -> list[Compared]:
    """What is done to the seed against the dormancy classes of that data set, which gives no treatments.

    A hard coat must be opened; with a dormant embryo behind it, it needs cold or warmth as well; class none
    needs no cold that is required; every other class needs moist cold or warmth, in the bag or outdoors.
    """
    found = []
    for row in rows("dormancy-classes.csv"):
        record = record_of(library, row["name"])
        if record is None or not record.treatments:
            continue
        if any(_cites(record, t.cite, "baskin-dormancy-database") for t in record.treatments):
            continue
        found.append(Compared(record.name, "any", _lacks(record, row["class"])))
    return found


def _lacks(record: Record, dormancy: str) -> str:
    """What the treatments lack, or have too much, for a dormancy class."""
    steps = [step for one in record.treatments for step in one.steps]
    if dormancy.startswith("physical") and not any(step.do in _NEEDS_OPEN for step in steps):
        return "coat not opened"
    if dormancy == "none":
        free = any(_days([s for s in one.steps if s.do in _COLD])[0] == 0 for one in record.treatments)
        return "" if free else "cold required"
    seasons = any(step.do in (*_COLD, "warm_moist", "alternate") or step.outdoors for step in steps)
    seasons = seasons or bool(record.sowing and record.sowing.autumn)
    return "" if seasons or dormancy == "physical" else "neither cold nor warmth"


def _cites(record: Record, keys: Iterable[str], *sources: str) -> bool:
    return any(record.cites[key].source in sources for key in keys)


def _differs(treatment: Treatment, warm: tuple[float, float], cold: tuple[float, float], opened: str) -> str:
    """What differs, in words; the shortest answer of several treatments counts."""
    found = []
    for word, does, published in (
        ("warm", ("warm_moist",), warm),
        ("cold", ("cold_moist", "cool_moist"), cold),
    ):
        ours = _days([s for s in treatment.steps if s.do in does])
        if not _meet(ours, published):
            found.append(f"{word} {ours[0]:g}-{ours[1]:g} against {published[0]:g}-{published[1]:g}")
    if opened == "yes" and not any(s.do in _OPEN for s in treatment.steps):
        found.append("coat not opened")
    return "; ".join(found)


def _days(steps: list[Step]) -> tuple[float, float]:
    spans: list[Quantity] = [s.days for s in steps if s.days is not None]
    low = sum(0 if s.need == "optional" else s.days.low for s in steps if s.days is not None)
    return low, sum(s.high for s in spans)


def _meet(one: tuple[float, float], other: tuple[float, float]) -> bool:
    if max(*one, *other) == 0:
        return True
    return max(one[0], other[0]) <= min(one[1] * WIDER, other[1] * WIDER)
