"""What must hold of every recipe, of the time while seed lies or stands: what keeps it, how late, how long.

Functions from one met lot to the faults it shows, as in `invariants`, which gathers them; the faults that
are planted for them stand below.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date, datetime
from typing import Any

from meeting import Met
from msgspec.structs import replace

from coldspell.plan.plan import Plan
from coldspell.records.do import COLD, MOIST
from coldspell.write.recipe import Recipe

Faults = list[str]
Change = Callable[[Plan, Recipe], tuple[Plan, Recipe]]


def what_lies_warm_is_not_cooled(met: Met) -> Faults:
    """Seed that is kept warm alone is not held near freezing, and does not sprout in the cold."""
    recipe = met.recipe
    cold = any(step.do in COLD for step in recipe.steps)
    if recipe.does.lies != "warm" or recipe.hold is None or cold:
        return []
    return [f"kept warm, and “{recipe.hold.says}”"] if _CHILLED.search(recipe.hold.says) else []


_CHILLED = re.compile(r"near 0 °C|near freezing|in the cold\b")


def a_late_start_leaves_its_days(met: Met) -> Faults:
    """Begun on the last day that is named, the shortest treatment is still done by the sowing."""
    recipe, dated = met.recipe, met.plan.decisions.schedule
    told = recipe.hold and _BY.search(recipe.hold.says)
    moist = [step for step in recipe.steps if step.do in MOIST and step.days]
    if not told or dated.target is None or not moist:
        return []
    last = datetime.strptime(told[1], "%d %B %Y").date()
    least = sum(step.days[0] for step in moist if step.days)
    left = (dated.target - last).days
    return [f"{told[0]}: {left} days left of {least:g}"] if left < least else []


_BY = re.compile(r"Start by (\d+ \w+ \d+)")

MEANWHILE: dict[str, Callable[[Met], Faults]] = {
    holds.__name__: holds for holds in (what_lies_warm_is_not_cooled, a_late_start_leaves_its_days)
}


def _holds(text: str) -> Change:
    """The recipe with another word on how long it may wait."""

    def said(plan: Plan, recipe: Recipe) -> tuple[Plan, Recipe]:
        assert recipe.hold is not None
        return plan, replace(recipe, hold=replace(recipe.hold, says=text))

    return said


DAY = date(2026, 11, 25)
PLANTED: list[tuple[str, str, dict[str, Any], date, Change]] = [
    (
        "what_lies_warm_is_not_cooled",
        "Viburnum rufidulum",
        {"moisture": "fresh"},
        DAY,
        _holds("Some weeks, as near 0 °C as you can."),
    ),
    (
        "a_late_start_leaves_its_days",
        "Asclepias syriaca",
        {"moisture": "dried"},
        DAY,
        _holds("Start by 20 March 2027 at the latest."),
    ),
]
