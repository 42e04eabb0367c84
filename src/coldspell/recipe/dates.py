"""When the steps of a treatment run: back from the sowing date, or forward from a start."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from msgspec import Struct

from coldspell.arithmetic.calendar import (
    Infeasible,
    Plan,
    StepDays,
    add_days,
    plan_back,
    plan_forward,
    total_days,
)
from coldspell.arithmetic.seasons import target_from_last_frost
from coldspell.recipe import practice
from coldspell.recipe.lot import Lot


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


def sowing_target(lot: Lot) -> date | None:
    """The sowing date: as said, or from the last frost by where the seedlings grow."""
    if lot.sow is not None:
        return lot.sow
    return None if lot.last_frost is None else target_from_last_frost(lot.last_frost, lot.grow_in)


def schedule(timed: Sequence[StepDays], lot: Lot, today: date, hold_days: float | None) -> Schedule:
    """Date the steps of a treatment.

    When they do not fit before the sowing date the plan runs forward from the first possible day, and
    ``infeasible`` says what stands in the way.
    """
    target = sowing_target(lot)
    first = max(today, lot.collected) if lot.collected else today
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
    return Schedule(target, first, found, None, available - planned, available - least)


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
