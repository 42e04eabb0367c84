"""What must hold of every recipe by how far off winter and spring are.

Functions from one met lot to the faults it shows, as in `invariants`, which gathers them. Each would have
caught a cause that readers who knew the page alone had found.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date, timedelta

from meeting import Met

Faults = list[str]

_HELD_BACK = re.compile(
    r"short roots stay in the cold bag|keep the pots moist at [^;.]*until (?:spring|you can)"
)
_MONTHS_HELD = 150
"""Days for which cold holds back what has rooted, at most (common practice)."""


def nothing_rooted_is_held_for_half_a_year(met: Met) -> Faults:
    """What has rooted is not put into the cold and dark in early autumn, to wait there for spring."""
    if not met.plan.lot.rooted or met.plan.lot.winter == "none" or met.recipe.does.page != "plan":
        return []
    if met.plan.decisions.facts["root_first"] == "yes":
        return []  # the root is the sign for the cold
    opens = _next(met.plan.decisions.schedule.first, (10, 1) if met.plan.lot.southern else (4, 1))
    days = (opens - met.plan.decisions.schedule.first).days
    texts = (met.recipe.verdict.sentence, *met.recipe.notes)
    return [f"“{m[0]}” for {days} days" for m in map(_HELD_BACK.search, texts) if m and days > _MONTHS_HELD]


def _next(day: date, month_day: tuple[int, int]) -> date:
    """The next day of a month and day."""
    this = date(day.year, *month_day)
    return this if this >= day else date(day.year + 1, *month_day)


def what_is_sown_in_summer_does_not_wait_for_the_next(met: Met) -> Faults:
    """Biennials whose months end in July are sown until mid September: kept, they flower a year later."""
    facts, lot, first = met.plan.decisions.facts, met.plan.lot, met.plan.decisions.schedule.first
    sown = [date.fromisoformat(s.start) for s in met.recipe.steps if s.do == "sow" and s.start]
    if facts["sown_said"] != "summer" or lot.sow or lot.last_frost or met.recipe.route != "sow_in_season":
        return []
    month = (first.month + 5) % 12 + 1 if lot.southern else first.month
    late = (8, 1) <= (month, first.day) <= (9, 10)
    return [f"sown {day}, asked {met.today}" for day in sown if late and day - first > timedelta(days=30)]


WINTER: dict[str, Callable[[Met], Faults]] = {
    holds.__name__: holds
    for holds in (
        nothing_rooted_is_held_for_half_a_year,
        what_is_sown_in_summer_does_not_wait_for_the_next,
    )
}
