"""Tick sheets: for each shelf a line a lot and a column a week, with a box for each task."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, timedelta
from itertools import groupby

from msgspec import Struct

from coldspell.season.lot_plan import Event, LotPlan
from coldspell.season.phrases import Phrases
from coldspell.season.totals import monday
from coldspell.write.units import number, plural

WEEKS = 25
"""Weeks side by side on a sheet."""


class Box(Struct, frozen=True):
    """One box to tick: the day of the month, and the task where it is more than a look."""

    day: str
    task: str = ""


class Line(Struct, frozen=True):
    """One lot: boxes by week."""

    lot: str
    name: str
    lies: str
    weeks: tuple[tuple[Box, ...], ...]


class Ticks(Struct, frozen=True):
    """One sheet: a shelf, the Mondays of its weeks, the months above them with how many weeks each has."""

    shelf: str
    months: tuple[tuple[str, int], ...]
    weeks: tuple[str, ...]
    lines: tuple[Line, ...]


def tick_sheets(lots: Iterable[LotPlan], phrases: Phrases) -> tuple[Ticks, ...]:
    """A sheet for each shelf, and for each half year in which something is to be done there."""
    started = [lot for lot in lots if lot.tasks]
    started.sort(key=lambda lot: (not lot.own.shelf, _natural(lot.own.shelf)))
    return tuple(
        sheet
        for shelf, group in groupby(started, key=lambda lot: lot.own.shelf)
        for sheet in _sheets(shelf, sorted(group, key=_order), phrases)
    )


def _sheets(shelf: str, lots: Sequence[LotPlan], phrases: Phrases) -> Iterable[Ticks]:
    days = [event.day for lot in lots for event in _ticked(lot)]
    title = phrases.say("ticks_shelf", shelf=shelf) if shelf else phrases.say("ticks_no_shelf")
    while days:  # weeks in which nothing is due for long are passed over
        first = monday(min(days))
        after = first + timedelta(weeks=WEEKS)
        weeks = [first + timedelta(weeks=i) for i in range(WEEKS)]
        rows = ((lot, [e for e in _ticked(lot) if first <= e.day < after]) for lot in lots)
        lines = tuple(_line(lot, events, weeks, phrases) for lot, events in rows if events)
        months = tuple(
            (phrases.month(week), len(list(group)))
            for week, group in groupby(weeks, key=lambda day: day.replace(day=1))
        )
        yield Ticks(title, months, tuple(str(week.day) for week in weeks), lines)
        days = [day for day in days if day >= after]


def _ticked(lot: LotPlan) -> list[Event]:
    """What is ticked: all but leaving it as it is, and what follows from another task of the day."""
    found: list[Event] = []
    for event in lot.tasks:
        if event.kind != "keep" and not (
            event.what in ("light", "dark") and found and found[-1].day == event.day
        ):
            found.append(event)
    return found


def _line(lot: LotPlan, events: Sequence[Event], weeks: Sequence[date], phrases: Phrases) -> Line:
    boxes: dict[date, list[Box]] = {}
    for event in events:
        task = "" if event.kind == "look" else phrases.say(f"tick_{lot.word(event)}")
        boxes.setdefault(monday(event.day), []).append(Box(str(event.day.day), task))
    lies = phrases.lies(lot) or f"{number(lot.seeds)} {plural('seed', lot.seeds)}"
    return Line(lot.label, lot.name, lies, tuple(tuple(boxes.get(week, ())) for week in weeks))


def _order(lot: LotPlan) -> tuple[date, int]:
    return lot.tasks[0].day, lot.number


def _natural(text: str) -> tuple[tuple[int, str], ...]:
    """Shelf 2 before shelf 10."""
    parts = ["".join(group) for _, group in groupby(text.casefold(), key=str.isdigit)]
    return tuple((int(part), "") if part.isdigit() else (-1, part) for part in parts)
