"""Looks on fixed days of the week, and days on which nobody is there."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, timedelta

from msgspec import Struct
from msgspec.structs import replace

from coldspell.records.do import MOIST
from coldspell.season.lot_plan import Event, LotPlan, Spell

WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_DAY, _WEEK = timedelta(days=1), timedelta(days=7)
_SOON = timedelta(days=2)
"""For so long after closed days the first look waits for the look day."""


class Working(Struct, frozen=True):
    """On which day of the week lots are looked at (0 is Monday), and when nobody is there.

    Closed spells are a first day and the day after the last. ``weekends``: nobody is there on Saturday and
    Sunday, but on the look day.
    """

    look_day: int | None = None
    closed: tuple[Spell, ...] = ()
    weekends: bool = False

    @property
    def as_planned(self) -> bool:
        """Whether nothing is asked for beyond the plans themselves."""
        return self.look_day is None and not self.closed and not self.weekends

    def shut(self, day: date) -> bool:
        """Whether nobody is there on a day."""
        if any(first <= day < after for first, after in self.closed):
            return True
        return self.weekends and day.weekday() > 4 and day.weekday() != self.look_day

    def worked(self, day: date) -> bool:
        """Whether a look may be put on a day: open, and no weekend unless that is when lots are looked at."""
        return not self.shut(day) and (day.weekday() < 5 or day.weekday() == self.look_day)

    def back(self, shut: date, end: date) -> date:
        """The first day after a closed one on which lots are looked at; the look day where it comes soon."""
        worked = [day for day in _days(shut + _DAY, end) if self.worked(day)][: _SOON.days + 1]
        if not worked:
            return end
        soon = (day for day in worked if day.weekday() == self.look_day and day - worked[0] <= _SOON)
        return next(soon, worked[0])


def as_worked(plan: LotPlan, working: Working) -> LotPlan:
    """A plan with its looks on days on which somebody looks; what falls on closed days is marked."""
    if working.as_planned:
        return plan
    looks, unseen = plan.looks, tuple[Spell, ...]()
    others = tuple(event for event in plan.events if event.kind != "look")
    if looks:
        laid = (e for e in others if e.kind in ("start", "move") or e.what in MOIST)
        taken = [e.day for e in laid if e.day < looks[0]]
        taken = taken or [e.day for e in others if e.kind == "keep" and e.day < looks[0]]
        start = max(taken, default=None)
        if start is not None:
            looks, unseen = looks_as_worked(start, looks, working)
    closed = tuple(e for e in others if e.kind != "keep" and working.shut(e.day))
    events = sorted([*others, *(Event(day, day, "look", "look") for day in looks)], key=lambda e: e.day)
    return replace(plan, events=tuple(events), closed=closed, unseen=unseen)


def looks_as_worked(
    start: date, due: Sequence[date], working: Working
) -> tuple[tuple[date, ...], tuple[Spell, ...]]:
    """Looks on days on which somebody looks, and the times between two of them that are too long.

    Each look comes no later than it was due, nor longer after the one before than was planned there: on the
    day of the week on which lots are looked at, else on a day on which somebody is there. Where all those
    days are closed it comes on the first that is not, and the time up to it is named. A look that was due
    soon after another is done with that one. The last look is that of moving or sowing, and stays.

    >>> looks, unseen = looks_as_worked(
    ...     date(2027, 1, 4), [date(2027, 1, 12), date(2027, 1, 26), date(2027, 2, 2)], Working(look_day=4)
    ... )
    >>> [str(day) for day in looks]
    ['2027-01-08', '2027-01-22', '2027-01-29', '2027-02-02']
    """
    end = due[-1]
    found = _Looks(working, end, start)
    before, gap = start, end - start
    for day in due[:-1]:
        gap, before = day - before, day
        if 2 * (day - found.last) > gap:
            found.look(min(day, found.last + gap))
    gap = max(end - before, min(gap, _WEEK))  # a last look sooner than that only ends the spell
    while end - found.last > gap:
        found.look(found.last + gap)
    return (*found.days, end), tuple(found.unseen)


class _Looks:
    """Looks as they are found, one after the other."""

    def __init__(self, working: Working, end: date, start: date) -> None:
        self._working, self._end, self.last = working, end, start
        self.days: list[date] = []
        self.unseen: list[Spell] = []

    def look(self, limit: date) -> None:
        """One more, on a day by the limit; where there is none, on the first with somebody there."""
        day = _day(self.last, limit, self._working)
        if day is None:
            day = self._working.back(limit, self._end)
            self.unseen.append((self.last, day))
        if day < self._end:
            self.days.append(day)
        self.last = day


def _day(last: date, limit: date, working: Working) -> date | None:
    """The day of a look after the last one: the last look day by the limit, else the last day with people.

    The limit itself stands where only a weekend is in the way that nobody called closed. A second look just
    before closed days is none.
    """
    days = list(_days(limit, last, -1))[:-1]
    if working.look_day is not None:
        fixed = next((d for d in days if d.weekday() == working.look_day and not working.shut(d)), None)
        if fixed is not None:
            return fixed
    if not working.shut(limit):
        return limit
    found = next((d for d in days if working.worked(d)), None)
    return found if found is not None and 2 * (found - last) > limit - last else None


def _days(first: date, last: date, step: int = 1) -> Iterator[date]:
    """Days from one to another, both included."""
    return (first + timedelta(days=step * i) for i in range(abs((last - first).days) + 1))
