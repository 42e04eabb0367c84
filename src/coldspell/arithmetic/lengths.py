"""Steps and their lengths in days, and how they lie one after another on the calendar.

A step that ends when the grower says so (``until`` is ``ready``) may last from its low to its high end and is
planned with the usual length, else the high end. A step that ends on an event (``rooted``, ``sprouted``)
lasts as long as the seed takes: it is planned the same way, cannot be shortened, and gives a range of dates.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import date, timedelta
from functools import lru_cache

from msgspec import Struct

from coldspell.errors import ColdspellError

EVENTS = ("rooted", "sprouted")
ENDS = ("ready", *EVENTS)


class StepDays(Struct, frozen=True):
    """One step and its length [days]; ``usual_days`` may be unknown, ``until`` says what ends it."""

    name: str
    low_days: float
    high_days: float
    usual_days: float | None = None
    until: str = "ready"

    def __post_init__(self) -> None:
        usual = self.high_days if self.usual_days is None else self.usual_days
        if self.until not in ENDS:
            raise ColdspellError(f"step {self.name}: {self.until!r} ends no step", mend=f"use {ENDS}")
        if not all(math.isfinite(days) and days >= 0 for days in (self.low_days, usual, self.high_days)):
            raise ColdspellError(
                f"step {self.name}: days must be numbers from 0 up", mend="write days as 90 or 90-120"
            )
        if not self.low_days <= usual <= self.high_days:
            raise ColdspellError(
                f"step {self.name}: days must rise from low over usual to high",
                mend="write the lowest first, as 90-120",
            )

    @property
    def ends_on_event(self) -> bool:
        """Whether the seed, not the grower, ends the step."""
        return self.until in EVENTS

    @property
    def low(self) -> int:
        """Shortest length [whole days]."""
        return whole_days(self.low_days)

    @property
    def high(self) -> int:
        """Longest length [whole days]."""
        return whole_days(self.high_days)

    @property
    def plan(self) -> int:
        """Length to plan with [whole days]: the usual one, else the high end."""
        return whole_days(self.high_days if self.usual_days is None else self.usual_days)

    @property
    def least(self) -> int:
        """Length that must pass before the seed is ready [whole days]; an event cannot be shortened."""
        return self.plan if self.ends_on_event else self.low


class DatedStep(Struct, frozen=True):
    """A step on the calendar.

    ``start`` and ``end`` are the planned dates. The ranges are wider than one day only after or within a step
    that ends on an event. ``least_end`` is the planned start plus the low end of the range.
    """

    name: str
    until: str
    days: int
    start: date
    end: date
    start_earliest: date
    start_latest: date
    end_earliest: date
    end_latest: date
    least_end: date


def whole_days(days: float) -> int:
    """Days on a calendar for a length in days: under half a day is the same day, else rounded up.

    Parameters
    ----------
    days : float
        Length [days, finite].

    Raises
    ------
    Nothing is raised.

    >>> whole_days(20 / (24 * 60)), whole_days(0.5), whole_days(1.5), whole_days(90)
    (0, 1, 2, 90)
    """
    return 0 if days < 0.5 else math.ceil(days - 1e-9)


@lru_cache(maxsize=65_536)
def add_days(day: date, days: int) -> date:
    """The date a number of days later (or earlier, when negative).

    Parameters
    ----------
    day : date
        Day to start from [calendar date].
    days : int
        Days later; negative: earlier [days].

    Raises
    ------
    ColdspellError
        When the result lies outside the years 1 to 9999.
    """
    try:
        return day + timedelta(days=days)
    except OverflowError:
        raise ColdspellError(
            f"{abs(days)} days {'after' if days > 0 else 'before'} {day.isoformat()} is outside the calendar",
            mend="dates run from year 1 to 9999: check the date and the lengths",
        ) from None


def same_day(day: date, year: int) -> date:
    """The same day and month of another year; 29 February becomes 28 February.

    Parameters
    ----------
    day : date
        Day of a year [calendar date].
    year : int
        The other year [1 to 9999].

    Raises
    ------
    ColdspellError
        When there is no such year.

    >>> same_day(date(2028, 2, 29), 2029)
    datetime.date(2029, 2, 28)
    """
    try:
        return day.replace(year=year)
    except ValueError:
        if not 1 <= year <= 9999:
            raise ColdspellError(f"there is no year {year}", mend="years run from 1 to 9999") from None
        return day.replace(year=year, day=28)


def total_days(steps: Sequence[StepDays]) -> tuple[int, int, int]:
    """Shortest time that counts, planned time, and longest time of all steps together [days].

    Parameters
    ----------
    steps : sequence of StepDays
        Steps in order, of any number [days each].

    Raises
    ------
    Nothing is raised.

    >>> total_days([StepDays("warm", 14, 14), StepDays("cold", 90, 120)])
    (104, 134, 134)
    """
    return _total(tuple(steps))


@lru_cache(maxsize=4096)
def _total(steps: tuple[StepDays, ...]) -> tuple[int, int, int]:
    return (sum(s.least for s in steps), sum(s.plan for s in steps), sum(s.high for s in steps))


def longest_days(steps: Sequence[StepDays], hold_days: float | None = None) -> int:
    """Longest time from start to sowing [days] that the record allows.

    The larger of: all steps stretched to their high ends (an event cannot be stretched: it may come at its
    low end); the low ends plus the days it may be held; and the planned length, since an event may be late.

    Parameters
    ----------
    steps : sequence of StepDays
        Steps in order, of any number [days each].
    hold_days : float, optional
        How long treated seed may wait [days, finite]; ``None`` counts as 0.

    Raises
    ------
    Nothing is raised.
    """
    return _longest(tuple(steps), hold_days)


@lru_cache(maxsize=4096)
def _longest(steps: tuple[StepDays, ...], hold_days: float | None) -> int:
    stretched = sum(s.low if s.ends_on_event else s.high for s in steps)
    held = sum(s.low for s in steps) + math.floor(hold_days or 0)
    return max(stretched, held, total_days(steps)[1])


def lay_out(
    steps: Sequence[StepDays], start: date, lengths: Sequence[int] | None = None
) -> tuple[DatedStep, ...]:
    """Put steps one after another from a start date; ``lengths`` overrides the planned days.

    Parameters
    ----------
    steps : sequence of StepDays
        Steps in order, of any number [days each].
    start : date
        Start of the first step [calendar date].
    lengths : sequence of int, optional
        As many lengths as steps [days]; default: the planned ones.

    Raises
    ------
    ColdspellError
        When a date lies outside the years 1 to 9999.
    ValueError
        When steps and lengths are not as many.
    """
    chosen = [s.plan for s in steps] if lengths is None else list(lengths)
    at, earliest, latest, out = 0, 0, 0, []
    for step, days in zip(steps, chosen, strict=True):
        shortest, longest = (step.low, step.high) if step.ends_on_event else (days, days)
        out.append(
            DatedStep(
                name=step.name,
                until=step.until,
                days=days,
                start=add_days(start, at),
                end=add_days(start, at + days),
                start_earliest=add_days(start, earliest),
                start_latest=add_days(start, latest),
                end_earliest=add_days(start, earliest + shortest),
                end_latest=add_days(start, latest + longest),
                least_end=add_days(start, at + step.low),
            )
        )
        at, earliest, latest = at + days, earliest + shortest, latest + longest
    return tuple(out)
