"""When the steps of a treatment run: back from the sowing date, or forward from a start."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from msgspec import Struct
from msgspec.structs import replace

from coldspell.arithmetic.calendar import (
    Infeasible,
    Plan,
    StepDays,
    add_days,
    plan_back,
    plan_forward,
    total_days,
)
from coldspell.arithmetic.seasons import season_month, target_from_last_frost
from coldspell.recipe import practice
from coldspell.recipe.lot import Lot

_BRIEF = ("soak", "leach", "dry_back")


class Schedule(Struct, frozen=True):
    """Dates of a treatment for a lot. Without a sowing date ``plan`` runs forward from ``first``.

    ``days_spare`` is what is left between the first possible day and sowing after the planned treatment,
    ``days_spare_short`` the same after the shortest; negative is too late, ``None`` without a date.
    """

    target: date | None
    first: date
    plan: Plan
    infeasible: Infeasible | None
    days_spare: float | None
    days_spare_short: float | None
    held: bool = False
    """Whether it is treated at once and then waits, moist and cold, until it is sown."""


def sowing_target(lot: Lot) -> date | None:
    """The sowing date: as said, or from the last frost by where the seedlings grow."""
    if lot.sow is not None:
        return lot.sow
    return None if lot.last_frost is None else target_from_last_frost(lot.last_frost, lot.grow_in)


def schedule(
    timed: Sequence[StepDays], lot: Lot, today: date, hold_days: float | None, *, at_once: bool = False
) -> Schedule:
    """Date the steps of a treatment; ``at_once`` starts it on the first day, and the seed waits afterwards.

    When they do not fit before the sowing date the plan runs forward from the first possible day, and
    ``infeasible`` says what stands in the way.
    """
    target = sowing_target(lot)
    first = max(today, lot.collected) if lot.collected else today
    if target is not None and all(s.name in _BRIEF for s in timed):  # nothing has to end on the day
        brief = add_days(first, total_days(timed)[1])
        target = None if target < first else max(target, brief)
    if target is None:
        return Schedule(None, first, plan_forward(first, timed, hold_days=hold_days), None, None, None)
    least, planned, _ = total_days(timed)
    available = (target - first).days
    found = plan_back(target, timed, today, lot.collected, hold_days)
    if isinstance(found, Infeasible) and available >= least:
        short = plan_back(target, timed, today, lot.collected, hold_days, shortened=True)
        plan = short if isinstance(short, Plan) else plan_forward(first, timed, hold_days=hold_days)
        return Schedule(target, first, plan, found, available - planned, available - least)
    if isinstance(found, Infeasible):
        forward = plan_forward(first, timed, hold_days=hold_days)
        return Schedule(target, first, forward, found, available - planned, available - least)
    held = at_once and found.start > first
    if held:
        found = _from_the_first_day(target, first, timed, hold_days)
        target = found.target
    return Schedule(target, first, found, None, available - planned, available - least, held)


def _from_the_first_day(
    target: date, first: date, timed: Sequence[StepDays], hold_days: float | None
) -> Plan:
    """Treat now and hold until the target; the days to hold count from the earliest day it can be ready."""
    forward = plan_forward(first, timed, hold_days=hold_days)
    if hold_days is not None and timed:  # no later than its record lets it wait
        target = max(forward.ready, min(target, forward.hold_until))
    return replace(
        forward,
        target=target,
        window_first=first,
        window_last=first,
        slack_days=0,
        hold_after_days=(target - forward.ready).days,
    )


def outdoor_day(lot: Lot, first: date, shape: str) -> date:
    """Day on which dry seed goes outdoors (common practice): in the season that is running or comes next.

    That is autumn, for seed that wants cold alone when the soil is cool, and summer for seed that wants
    warmth first. With a sowing date it is the season before that date. Half a year is added in the south.
    """
    opens, closes, least = practice.OUTDOOR_SOWING.get(shape, practice.OUTDOOR_SOWING["other"])
    target = sowing_target(lot)
    limit = None if target is None else add_days(target, -least)
    for year in range(first.year - 1, first.year + 12):
        start = _season_day(year, *opens, southern=lot.southern)
        end = _season_day(year + (closes < opens), *closes, southern=lot.southern)
        if end < first:
            continue
        day = max(start, first)
        following = _season_day(year + 1, *opens, southern=lot.southern)
        if limit is None or following > limit:
            return day
    return first


def _season_day(year: int, month: int, day: int, *, southern: bool) -> date:
    return date(year + (southern and month > 6), season_month(month, southern), day)


def look_days(total: int, least: int, medium: str) -> tuple[int, ...]:
    """Days after the start on which to look: a first look, then every two weeks, weekly near the end.

    Common practice: towels first after about a week, bags after two; weekly within three weeks of the least
    treatment.

    >>> look_days(90, 90, "bag")
    (14, 28, 42, 56, 70, 77, 84, 90)
    """
    first = practice.FIRST_LOOK_DAYS.get(medium, practice.FIRST_LOOK_DAYS["other"])
    weekly = least - practice.LOOK_WEEKLY_WITHIN_DAYS
    days: list[int] = []
    day = first
    while day < total and len(days) < 100:
        days.append(day)
        day += 7 if day >= weekly else practice.LOOK_EVERY_DAYS
    return (*days, total) if total > 0 else ()


def look_dates(start: date, days: Sequence[int]) -> tuple[date, ...]:
    """The dates of `look_days`."""
    return tuple(add_days(start, day) for day in days)


def iso(day: object) -> str | None:
    """ISO 8601 text of a date, ``None`` for anything else."""
    return day.isoformat() if isinstance(day, date) else None
