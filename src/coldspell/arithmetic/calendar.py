"""Dates of a treatment: backward from the sowing date, forward from a start, and what stands in the way.

How lengths are read stands in :mod:`coldspell.arithmetic.lengths`. Days to hold count from the earliest day
the seed can be ready, never from the upper end of a range.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import date
from typing import Literal

from msgspec import Struct

from coldspell.arithmetic.lengths import (
    DatedStep,
    StepDays,
    add_days,
    lay_out,
    longest_days,
    same_day,
    total_days,
)

__all__ = [
    "DatedStep",
    "Infeasible",
    "Plan",
    "StepDays",
    "add_days",
    "plan_back",
    "plan_forward",
    "total_days",
]


class Plan(Struct, frozen=True):
    """A schedule that fits.

    ``window_first`` to ``window_last``: the days on which one may start (from not outrunning minimum and
    hold, to still reaching the minimum). ``slack_days``: from the planned start to ``window_last``.
    ``wait_before_days``: days the seed waits before the treatment, ``None`` when nothing says from when.
    ``hold_after_days``: planned days between ready and target; ``hold_until``: last day it may be kept moist.
    """

    target: date
    start: date
    ready: date
    ready_earliest: date
    ready_latest: date
    steps: tuple[DatedStep, ...]
    window_first: date
    window_last: date
    slack_days: int
    wait_before_days: int | None
    hold_after_days: int
    hold_until: date
    ends_on_event: bool
    shortened: bool = False


Constraint = Literal["today", "collected", "wait_before"]


class Infeasible(Struct, frozen=True):
    """Why no schedule fits, and each way out as a number; ranking them is the rules' work.

    ``constraint``: ``collected`` or ``today`` (the later of the two binds: too little time is left) or
    ``wait_before`` (the seed cannot wait long enough before the treatment). ``days_short``: by how many days.
    ``days_short_low``: the same when every step that allows it is planned with its low end (0 = that fits).
    ``sow_date``: nearest sowing date that would fit as planned; ``sow_date_low``: with low ends.
    ``next_target``: same day of the first later year that fits, ``next_wait_days``: days to wait before that
    treatment starts. Both are ``None`` when the trouble is waiting. ``target_passed``: the target lies before
    the first possible day.
    """

    constraint: Constraint
    days_short: int
    days_short_low: int
    needed_days: int
    needed_days_low: int
    available_days: int
    first_day: date
    sow_date: date
    sow_date_low: date
    next_target: date | None
    next_wait_days: int | None
    target_passed: bool


def plan_forward(start: date, steps: Sequence[StepDays], *, hold_days: float | None = None) -> Plan:
    """Start on a day: when will the seed be ready, and until when may it be kept.

    Parameters
    ----------
    start : date
        Start of the first step [calendar date].
    steps : sequence of StepDays
        Steps in order, of any number [days each].
    hold_days : float, optional
        How long treated seed may wait [days]; ``None`` counts as 0.

    Raises
    ------
    ColdspellError
        When a date lies outside the years 1 to 9999.

    >>> plan = plan_forward(date(2027, 1, 18), [StepDays("cold_moist", 42, 42)])
    >>> plan.ready.isoformat()        # Forest Research, Metasequoia page: chill from 18 January for 1 March
    '2027-03-01'
    """
    return _plan(add_days(start, total_days(steps)[1]), start, steps, hold_days, None, None)


def plan_back(
    target: date,
    steps: Sequence[StepDays],
    today: date | None = None,
    earliest_start: date | None = None,
    hold_days: float | None = None,
    *,
    wait_before_days_max: float | None = None,
    shortened: bool = False,
) -> Plan | Infeasible:
    """Date the steps so that the seed is ready on the target, or say what stands in the way.

    Parameters
    ----------
    target : date
        Day of sowing [calendar date].
    steps : sequence of StepDays
        In the order in which they are done, of any number [days each].
    today, earliest_start : date, optional
        Nothing starts before today, nor before the seed is gathered [calendar dates].
    hold_days : float, optional
        How long treated seed may wait [days]; ``None`` is not known and counts as 0.
    wait_before_days_max : float, optional
        How long the seed may wait before the treatment (dry, or moist and cool if drying kills it) [days],
        counted from ``earliest_start``, else from today.
    shortened : bool
        Use lengths between the low end and the planned one when the planned ones do not fit [yes or no].

    Raises
    ------
    ColdspellError
        When a date lies outside the years 1 to 9999.

    Notes
    -----
    A start fits when the time to the target is at least the planned length (``shortened``: the least length)
    and at most :func:`longest_days`. The latest start that fits is taken, so that the seed waits before the
    treatment rather than after it, unless the wait is limited.

    >>> steps = [StepDays("warm_moist", 168, 168), StepDays("cold_moist", 280, 280)]
    >>> plan_back(date(2027, 3, 1), steps).start.isoformat()     # 24 + 40 weeks; page prints 6 December
    '2025-12-08'
    """
    least, planned, _ = total_days(steps)
    needed = least if shortened else planned
    first = max((d for d in (today, earliest_start) if d is not None), default=None)
    wanted = add_days(target, -planned)
    if first is not None and wanted < first:
        if not shortened or add_days(target, -needed) < first:
            return _too_late(target, steps, first, today)
        wanted = first
    if first is None or wait_before_days_max is None:
        return _plan(target, wanted, steps, hold_days, first, earliest_start)
    last_wait = add_days(earliest_start or first, math.floor(wait_before_days_max))
    window_first = add_days(target, -longest_days(steps, hold_days))
    if last_wait < max(first, window_first):
        return _cannot_wait(target, steps, first, last_wait, max(first, window_first), hold_days)
    return _plan(target, min(wanted, last_wait), steps, hold_days, first, earliest_start)


def _plan(
    target: date,
    start: date,
    steps: Sequence[StepDays],
    hold_days: float | None,
    first: date | None,
    earliest_start: date | None,
) -> Plan:
    least, planned, _ = total_days(steps)
    longest = longest_days(steps, hold_days)
    given = (target - start).days
    dated = lay_out(steps, start, _lengths(steps, given))
    ready, early, late = (
        (dated[-1].end, dated[-1].end_earliest, dated[-1].end_latest) if dated else (start, start, start)
    )
    window_last = add_days(target, -least)
    since = earliest_start or first
    return Plan(
        target=target,
        start=start,
        ready=ready,
        ready_earliest=early,
        ready_latest=late,
        steps=dated,
        window_first=add_days(target, -longest),
        window_last=window_last,
        slack_days=(window_last - start).days,
        wait_before_days=None if since is None else (start - since).days,
        hold_after_days=(target - ready).days,
        hold_until=add_days(start, longest),
        ends_on_event=any(s.ends_on_event for s in steps),
        shortened=given < planned,
    )


def _lengths(steps: Sequence[StepDays], available_days: int) -> list[int]:
    """Planned lengths; when they do not fit, low ends plus what is left, given to the last steps first."""
    lengths = [s.least for s in steps]
    left = available_days - sum(lengths)
    for i in range(len(steps) - 1, -1, -1):
        more = max(0, min(left, steps[i].plan - lengths[i]))
        lengths[i], left = lengths[i] + more, left - more
    return lengths


def _too_late(target: date, steps: Sequence[StepDays], first: date, today: date | None) -> Infeasible:
    least, planned, _ = total_days(steps)
    available = (target - first).days
    sow = add_days(first, planned)
    following = next(
        (d for d in (same_day(target, min(y, 9999)) for y in (sow.year, sow.year + 1)) if d >= sow), None
    )
    return Infeasible(
        constraint="today" if first == today else "collected",
        days_short=planned - available,
        days_short_low=max(0, least - available),
        needed_days=planned,
        needed_days_low=least,
        available_days=available,
        first_day=first,
        sow_date=sow,
        sow_date_low=add_days(first, least),
        next_target=following,
        next_wait_days=None if following is None else (following - sow).days,
        target_passed=target < first,
    )


def _cannot_wait(
    target: date,
    steps: Sequence[StepDays],
    first: date,
    last_wait: date,
    needed_start: date,
    hold_days: float | None,
) -> Infeasible:
    (least, planned, _), short = total_days(steps), (needed_start - last_wait).days
    return Infeasible(
        constraint="wait_before",
        days_short=short,
        days_short_low=short,
        needed_days=planned,
        needed_days_low=least,
        available_days=(target - first).days,
        first_day=first,
        sow_date=add_days(max(first, last_wait), longest_days(steps, hold_days)),
        sow_date_low=add_days(first, least),
        next_target=None,
        next_wait_days=None,
        target_passed=False,
    )
