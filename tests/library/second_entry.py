"""The library against its second entry: what another reader typed from the sources, without seeing the records.

The rules of the comparison stand in ``tests/data/second-entry/README.md``. In short: every read treatment
whose source was typed for that plant must have the order of a typed row, and no days, degrees or percent that
nobody typed; every row typed from a page must be found in the record, used or not used.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import cache
from itertools import product
from pathlib import Path

from coldspell import document
from coldspell.library.load import Library
from coldspell.library.model import Quantity, Record, Step, Treatment
from coldspell.library.names import Found, look_up

DATA = Path(__file__).parent.parent / "data" / "second-entry"
REFRIGERATOR = (0, 5)
"""Degrees: a trial at one temperature of this range may become a range inside it that holds it."""
Span = tuple[float | None, float | None]
_KIND = {
    "warm_moist": "warm", "cold_moist": "cold", "cool_moist": "cool", "alternate": "alternate",
    "scarify_mechanical": "open", "scarify_hot_water": "open", "scarify_acid": "open", "crack_shell": "open",
    "heat_bath": "open", "dry_heat": "open",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Typed:
    """One step of a typed row: ``kind`` is open, warm, cold or alternate; days and degrees where given."""

    kind: str
    days: Span = (None, None)
    celsius: Span = (None, None)


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the second entry; ``steps`` is None where the source does not say what came before a test."""

    name: str
    source: str
    at: str
    origin: str
    steps: tuple[Typed, ...] | None
    percents: tuple[tuple[float, float], ...]

    @property
    def kinds(self) -> tuple[str, ...] | None:
        """The order of the steps."""
        return None if self.steps is None else tuple(step.kind for step in self.steps)

    def __str__(self) -> str:
        """The row as it is named in ``differences.yaml``."""
        order = "not said" if self.steps is None else ">".join(_say(step) for step in self.steps) or "none"
        return f"{order} ({self.source}, {self.at})"


@dataclass(frozen=True, slots=True)
class Difference:
    """One record, where in it, and what differs."""

    name: str
    where: str
    what: str

    @property
    def key(self) -> str:
        """The name of the difference in ``differences.yaml``."""
        return f"{self.name} | {self.where}"


@dataclass(frozen=True, slots=True)
class Entry:
    """All rows, by the record they belong to: those of the plant and those of its genus."""

    of_record: dict[str, list[Row]]
    of_genus: dict[str, list[Row]]

    def rows(self, record: Record, sources: Iterable[str]) -> list[Row]:
        """The rows that some of the sources gave for the plant; failing that, those for its genus."""
        wanted = set(sources)
        found = [row for row in self.of_record.get(record.name, ()) if row.source in wanted]
        genus = [row for row in self.of_genus.get(record.name.split()[0], ()) if row.source in wanted]
        return found + genus


def _say(step: Typed) -> str:
    low, high = step.days
    if low is None and high is None:
        return step.kind
    return f"{step.kind} {_number(low)}" if low == high else f"{step.kind} {_number(low)}-{_number(high)}"


def _number(value: float | None) -> str:
    return "?" if value is None else f"{value:g}"


@cache
def typed_rows() -> tuple[Row, ...]:
    """Every row of the second entry."""
    return tuple(row for file in sorted(DATA.glob("*.csv")) for row in _read(file))


def _read(file: Path) -> Iterator[Row]:
    with file.open(encoding="utf-8") as stream:
        for line in csv.DictReader(line for line in stream if not line.startswith("#")):
            percents = zip(_numbers(line["percent_low"]), _numbers(line["percent_high"]), strict=True)
            yield Row(
                line["name"], line["source"], line["at"], line["from"], _steps(line),
                tuple((low, high) for low, high in percents if low is not None and high is not None),
            )  # fmt: skip


def _numbers(cell: str) -> list[float | None]:
    return [float(part) if part else None for part in cell.split(";")] if cell else []


def _steps(line: dict[str, str]) -> tuple[Typed, ...] | None:
    if line["order"] == "not said":
        return None
    if line["order"] == "none":
        return ()
    cells = {key: iter(_numbers(line[key])) for key in line if key.startswith(("warm_", "cold_"))}
    found = []
    for kind in line["order"].split(">"):
        column = "cold" if kind == "alternate" else kind
        if kind == "open":
            found.append(Typed(kind))
            continue
        low, high, cool, hot = (
            next(cells[f"{column}_{end}"], None) for end in ("low", "high", "celsius_low", "celsius_high")
        )
        found.append(Typed(kind, (low, high), (cool, hot)))
    return tuple(found)


def entry(library: Library, rows: Iterable[Row]) -> Entry:
    """Sort rows under the records they belong to; names without a record are left out."""
    of_record: dict[str, list[Row]] = {}
    of_genus: dict[str, list[Row]] = {}
    for row in rows:
        if " " not in row.name:
            of_genus.setdefault(row.name, []).append(row)
        elif (record := _record(library, row.name)) is not None:
            of_record.setdefault(record.name, []).append(row)
    return Entry(of_record, of_genus)


def _record(library: Library, name: str) -> Record | None:
    found = look_up(library, name)
    return found.record if isinstance(found, Found) and found.record.rank != "genus" else None


def read_sources(record: Record, treatment: Treatment) -> list[str]:
    """The sources that a treatment says were read for it."""
    cites = [record.cites[key] for key in treatment.cite]
    return [cite.source for cite in cites if cite.basis == "read" and cite.source]


def comparable(treatment: Treatment, rows: list[Row]) -> bool:
    """Whether there is something to hold a treatment against."""
    return any(row.steps is not None for row in rows) and not left_to_the_seasons(treatment)


def _has_practice(record: Record, treatment: Treatment) -> bool:
    """Whether a treatment also rests on practice or memory, which may make its longer end longer."""
    return any(record.cites[key].basis != "read" for key in treatment.cite)


def shapes(treatment: Treatment) -> list[tuple[Step, ...]]:
    """The steps that count, with and without those that may be left out."""
    counted = [step for step in treatment.steps if step.do in _KIND]
    choices = [((step,), ()) if step.need == "optional" else ((step,),) for step in counted]
    return [tuple(step for part in pick for step in part) for pick in product(*choices)]


def compare_treatment(treatment: Treatment, rows: list[Row], *, margin: bool = False) -> str:
    """What differs between a treatment and the rows typed from its sources; empty when nothing does.

    ``margin`` is for a treatment that also rests on practice: it may hold further steps, and one end of a
    range may be up to twice, or down to half, what was typed.
    """
    if treatment.when.get("rooted") in ("yes", True):
        rows = [one for row in rows for one in _rooted(row)]
    untold = [row for row in rows if row.steps is None]
    best = ""
    for steps in shapes(treatment):
        kinds = tuple(_KIND[step.do] for step in steps)
        alike = [(row, where) for row in rows if (where := _aligned(kinds, row.kinds, margin)) is not None]
        if not alike and not kinds and _untreated(treatment, rows):
            return ""
        if alike:
            found = _numbers_differ(treatment, steps, alike, untold, margin)
        else:
            found = "order " + (">".join(kinds) or "none")
        if not found:
            return ""
        best = found if not best or best.startswith("order") else best
    return best


def _aligned(kinds: tuple[str, ...], typed: tuple[str, ...] | None, margin: bool) -> tuple[int, ...] | None:
    """Which step of a treatment each step of a row is; None when the order is another."""
    if typed is None or (len(typed) != len(kinds) and not (margin and typed)):
        return None
    found, start = [], 0
    for kind in typed:
        here = next((i for i in range(start, len(kinds)) if _same_kind(kinds[i], kind)), None)
        if here is None:
            return None
        found.append(here)
        start = here + 1
    return tuple(found)


def _same_kind(ours: str, typed: str) -> bool:
    """Cool steps (some 10 to 15 degrees) are called warm by some sources and cold by others."""
    return ours == typed or (ours == "cool" and typed in ("warm", "cold"))


def _untreated(treatment: Treatment, rows: list[Row]) -> bool:
    """Whether the count of a lot sown without treatment is typed beside the treatments of its sources."""
    told = {end for row in rows for pair in row.percents for end in pair}
    percent = treatment.percent
    return percent is not None and _all_near((percent.low, percent.high), told)


def _all_near(ends: Iterable[float], told: Iterable[float]) -> bool:
    return all(any(abs(end - other) <= 0.6 for other in told) for end in ends)


def left_to_the_seasons(treatment: Treatment) -> bool:
    """Whether a treatment only sows outdoors: it has no steps that could be compared."""
    return shapes(treatment) == [()] and any(step.do == "sow" and step.outdoors for step in treatment.steps)


def _rooted(row: Row) -> list[Row]:
    """What is left of a row for seed that has its root: the row without its first steps, one by one."""
    return [replace(row, steps=row.steps[start:]) for start in range(len(row.steps))] if row.steps else [row]


def _numbers_differ(
    treatment: Treatment,
    steps: tuple[Step, ...],
    alike: list[tuple[Row, tuple[int, ...]]],
    untold: list[Row],
    margin: bool,
) -> str:
    for place, step in enumerate(steps):
        typed = [(row.steps or ())[where.index(place)] for row, where in alike if place in where]
        if differs := _days_differ(step, typed, margin) or _celsius_differ(step, typed):
            return differs
    near = [row for row, where in alike if _overlap([steps[i] for i in where], row.steps or ())]
    return _percent_differs(treatment.percent, near or [row for row, _ in alike], untold)


def _days_differ(step: Step, typed: list[Typed], margin: bool) -> str:
    known = {end for one in typed for end in one.days if end is not None}
    if step.days is None or not known:
        return ""
    ends = (step.days.low, step.days.high)
    away = [end for end in ends if not any(_same_days(end, other) for other in known)]
    if margin and len(away) == 1 and ends[0] < ends[1] and min(known) / 2 <= away[0] <= 2 * max(known):
        return ""
    return f"{_KIND[step.do]} {away[0]:g} days, typed {_listed(known)}" if away else ""


def _same_days(one: float, other: float) -> bool:
    """Whether two numbers of days are one: months at 30, weeks at 7 days differ by a few in the hundred."""
    return abs(one - other) <= max(1.0, 0.04 * other)


def _celsius_differ(step: Step, typed: list[Typed]) -> str:
    known = [end for one in typed for end in one.celsius if end is not None]
    if step.celsius is None or not known:
        return ""
    low, high = step.celsius.low, step.celsius.high
    if REFRIGERATOR[0] <= low and high <= REFRIGERATOR[1] and any(low <= end <= high for end in known):
        return ""
    for end in (low, high):
        if not min(known) - 1 <= end <= max(known) + 1:
            return f"{_KIND[step.do]} {end:g} degrees, typed {_listed(known)}"
    return ""


def _percent_differs(percent: Quantity | None, alike: list[Row], untold: list[Row]) -> str:
    told = {end for row in alike for pair in row.percents for end in pair}
    if percent is None or not told:
        return ""
    told |= {end for row in untold for pair in row.percents for end in pair}
    for end in (percent.low, percent.high):
        if not any(abs(end - other) <= 0.6 for other in told):
            return f"{end:g} percent, typed {_listed(told)}"
    return ""


def _listed(values: Iterable[float]) -> str:
    return ", ".join(f"{value:g}" for value in sorted(set(values)))


def _overlap(steps: Iterable[Step], typed: Iterable[Typed]) -> bool:
    """Whether the days of a treatment and of a row have something in common, step by step."""
    for step, one in zip(steps, typed, strict=True):
        low, high = one.days
        if step.days is None or (low is None and high is None):
            continue
        bottom, top = (low if low is not None else 0), (high if high is not None else 1e9)
        if step.days.high < bottom * 0.96 - 1 or step.days.low > top * 1.04 + 1:
            return False
    return True


def compare_record(record: Record, known: Entry) -> list[Difference]:
    """Compare the treatments of a record with the rows, and the rows typed from pages with the record."""
    found = []
    for treatment in record.treatments:
        rows = known.rows(record, read_sources(record, treatment))
        if not comparable(treatment, rows):
            continue
        if what := compare_treatment(treatment, rows, margin=_has_practice(record, treatment)):
            found.append(Difference(record.name, treatment.name, what))
    sources = {cite.source for cite in record.cites.values() if cite.basis == "read"}
    for row in known.of_record.get(record.name, ()):
        if row.origin == "page" and row.steps and row.source in sources and not _stands(record, row):
            found.append(Difference(record.name, str(row), "not in the record"))
    return found


def _stands(record: Record, row: Row) -> bool:
    """Whether a row is followed by a treatment, or its figure named among what is not used or the reasons."""
    assert row.steps is not None
    for treatment in record.treatments:
        for steps in shapes(treatment):
            where = _aligned(tuple(_KIND[step.do] for step in steps), row.kinds, margin=False)
            if where is not None and _overlap([steps[i] for i in where], row.steps):
                return True
    text = " ".join([one.says + " " + one.because for one in record.not_used])
    text += " ".join(one.because or "" for one in record.treatments)
    return any(end is not None and _named(text, end) for step in row.steps for end in step.days)


def _named(text: str, days: float) -> bool:
    """Whether a text names a number of days, as days, weeks or months."""
    lower = text.lower()
    for count, unit in ((days, "day"), (days / 7, "week"), (days / 30, "month"), (days / 365, "year")):
        whole = round(count)
        if whole and abs(count - whole) < 0.2 and unit in lower and re.search(_spelt(whole), lower):
            return True
    return False


_WORDS = "one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen".split()


def _spelt(whole: int) -> str:
    word = f"|{_WORDS[whole - 1]}" if whole <= len(_WORDS) else ""
    extra = "|an?" if whole == 1 else ""
    return rf"\b(?:{whole}{word}{extra})\b"


def compare(library: Library, known: Entry) -> list[Difference]:
    """Compare the whole library with the second entry."""
    return [one for record in _species(library) for one in compare_record(record, known)]


def known_differences() -> dict[str, str]:
    """Each difference that may stand, with its reason."""
    path = DATA / "differences.yaml"
    return dict(document.plain(document.parse(path.read_text(encoding="utf-8"), str(path))))


def _species(library: Library) -> Iterator[Record]:
    return (record for name in library.names if (record := library.get(name)).rank != "genus")
