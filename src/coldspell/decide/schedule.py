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
from coldspell.decide.names import SeasonFields
from coldspell.decide.practice import Practice
from coldspell.lot.lot import Lot

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


def outdoor_day(lot: Lot, first: date, season: Season) -> date:
    """Day on which dry seed goes outdoors (common practice): in the season that is running or comes next.

    With a sowing date it is the season before that date. Half a year is added in the south.
    """
    target = sowing_target(lot)
    limit = None if target is None else add_days(target, -season.least_days)
    for year in range(first.year - 1, first.year + 12):
        start = _season_day(year, *season.opens, southern=lot.southern)
        end = _season_day(year + (season.closes < season.opens), *season.closes, southern=lot.southern)
        if end < first:
            continue
        day = max(start, first)
        following = _season_day(year + 1, *season.opens, southern=lot.southern)
        if limit is None or following > limit:
            return day
    return first


class Season(Struct, frozen=True):
    """When outdoor sowing opens and closes (month and day, northern), and the least days until spring."""

    opens: tuple[int, int]
    closes: tuple[int, int]
    least_days: int


def season_of(fields: SeasonFields, practice: Practice) -> Season:
    """The season of an answer, with its days of common practice."""
    opens, closes, least = {
        "summer": (practice.summer_opens, practice.summer_closes, practice.summer_least_days),
        "late_autumn": (
            practice.late_autumn_opens, practice.late_autumn_closes, practice.late_autumn_least_days
        ),
        "autumn": (practice.autumn_opens, practice.autumn_closes, practice.autumn_least_days),
    }[fields.season]  # fmt: skip
    return Season((int(opens[0]), int(opens[1])), (int(closes[0]), int(closes[1])), int(least))


def _season_day(year: int, month: int, day: int, *, southern: bool) -> date:
    return date(year + (southern and month > 6), season_month(month, southern), day)
