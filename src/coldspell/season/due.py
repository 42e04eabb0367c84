"""Looks on fixed days of the week, and days on which nobody is there."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from msgspec import Struct
from msgspec.structs import replace

from coldspell.season.lot_plan import Event, LotPlan, Spell

WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_DAY, _WEEK = timedelta(days=1), timedelta(days=7)


class Working(Struct, frozen=True):
    """On which day of the week lots are looked at (0 is Monday), and when nobody is there.

    Closed spells are a first day and the day after the last.
    """

    look_day: int | None = None
    closed: tuple[Spell, ...] = ()

    def shut(self, day: date) -> Spell | None:
        """The closed spell that a day falls into."""
        return next((spell for spell in self.closed if spell[0] <= day < spell[1]), None)


def as_worked(plan: LotPlan, working: Working) -> LotPlan:
    """A plan with its looks on days on which somebody looks; what falls on closed days is marked."""
    if working.look_day is None and not working.closed:
        return plan
    looks, unseen = plan.looks, tuple[Spell, ...]()
    others = tuple(event for event in plan.events if event.kind != "look")
    if looks:
        taken = [e.day for e in others if e.kind in ("start", "move") and e.day < looks[0]]
        taken = taken or [e.day for e in others if e.kind == "keep" and e.day < looks[0]]
        start = max(taken, default=None)
        if start is not None:
            if working.look_day is not None:
                looks = snapped(start, looks, working.look_day)
            looks, unseen = _around(start, looks, working)
    closed = tuple(e for e in others if e.kind != "keep" and working.shut(e.day) is not None)
    events = sorted([*others, *(Event(day, day, "look", "look") for day in looks)], key=lambda e: e.day)
    return replace(plan, events=tuple(events), closed=closed, unseen=unseen)


def snapped(start: date, looks: Sequence[date], weekday: int) -> tuple[date, ...]:
    """Looks on one day of the week: each on the last such day that comes no later than it was due.

    The time between two looks never grows beyond what was planned there; where no such day lies in it, the
    day that was due is kept. The last look is that of moving or sowing, and stays.

    >>> days = snapped(date(2027, 1, 4), [date(2027, 1, 12), date(2027, 1, 26), date(2027, 2, 2)], 4)
    >>> [str(day) for day in days]
    ['2027-01-08', '2027-01-22', '2027-01-29', '2027-02-02']
    """
    found: list[date] = []
    last = before = start
    gap = looks[-1] - start
    for due in looks[:-1]:
        gap, before = due - before, due
        last = _fixed(last, min(due, last + gap), weekday)
        found.append(last)
    gap = min(gap, max(looks[-1] - before, _WEEK))  # a last look sooner than that only ends the spell
    while looks[-1] - last > gap:
        last = _fixed(last, last + gap, weekday)
        found.append(last)
    return (*found, looks[-1])


def _fixed(last: date, limit: date, weekday: int) -> date:
    day = limit - timedelta(days=(limit.weekday() - weekday) % 7)
    return day if day > last else limit


def _around(
    start: date, looks: Sequence[date], working: Working
) -> tuple[tuple[date, ...], tuple[Spell, ...]]:
    """Looks before and after closed days in place of those within, and where that is too long a time."""
    kept: set[date] = set()
    wide: list[Spell] = []
    before = start
    for due in looks:
        spell = working.shut(due)
        gap = due - before
        before = due
        if spell is None or due == looks[-1]:
            kept.add(due)
            continue
        first, after = spell[0] - _DAY, spell[1]
        if first > start:
            kept.add(first)
        if after < looks[-1]:
            kept.add(after)
            if after - first > gap and (first, after) not in wide:
                wide.append((first, after))
    return tuple(sorted(kept)), tuple(wide)
