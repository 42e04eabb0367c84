"""What must hold of every recipe: all records, each with lots that strain the dates and the waiting.

Nothing here knows a right answer; it knows what can never be one. By turns each record is met in three or
four of the ten states; ``COLDSPELL_FULL=1`` meets each in all.
"""

from __future__ import annotations

import os
import re
from collections.abc import Callable
from datetime import date
from typing import Any

import pages
import pytest

from coldspell.library.load import Library
from coldspell.records.do import MOIST
from coldspell.write.recipe import Recipe, Step

AUTUMN, WINTER, SUMMER = date(2026, 10, 12), date(2027, 1, 12), date(2026, 7, 1)
LOTS: list[tuple[str, date, dict[str, Any]]] = [
    ("fresh with a date", AUTUMN, {"moisture": "fresh", "sow": "2027-04-15"}),
    ("dried with a date", AUTUMN, {"moisture": "dried", "sow": "2027-04-15"}),
    ("fresh, a year and a half to go", SUMMER, {"moisture": "fresh", "sow": "2028-04-15"}),
    ("dried, no refrigerator", WINTER, {"moisture": "dried", "refrigerator": "none", "winter": "cold"}),
    ("sixty days cold", WINTER, {"moisture": "fresh", "cold_days_done": 60, "sow": "2027-04-15"}),
    ("sixty days warm", WINTER, {"moisture": "fresh", "warm_days_done": 60, "sow": "2027-09-15"}),
    ("some rooted", WINTER, {"moisture": "fresh", "rooted": 5, "root_mm": 5, "sow": "2027-04-15"}),
    ("swollen", WINTER, {"moisture": "dried", "swollen": "yes", "sow": "2027-04-15"}),
    ("southern", date(2027, 4, 1), {"moisture": "dried", "southern": True, "sow": "2027-09-15"}),
    ("tight", WINTER, {"moisture": "dried", "sow": "2027-03-15"}),
]
FULL = os.environ.get("COLDSPELL_FULL") == "1"
EVERY = 3
WET = ("soak", "leach", "scarify_mechanical", "scarify_hot_water", "scarify_acid", "crack_shell")


@pytest.mark.parametrize(("name", "today", "said"), LOTS, ids=[each[0] for each in LOTS])
def test_no_recipe_contradicts_itself(
    name: str, today: date, said: dict[str, Any], ask: Callable[..., Recipe], library: Library
) -> None:
    faults = []
    turn = 0 if FULL else [each[0] for each in LOTS].index(name) % EVERY
    for record in list(library.names)[turn :: 1 if FULL else EVERY]:
        recipe = ask(record, today, seeds=40, **said)
        faults += [f"{record}: {fault}" for fault in _faults(recipe, today)]
    assert not faults, f"{len(faults)} recipes ({name}): " + "; ".join(faults[:8])


def _faults(recipe: Recipe, today: date) -> list[str]:
    page = pages.render(recipe, 100)
    return [*_dates(recipe.steps, today), *_wet_then_dry(recipe.steps), *_wording(recipe, page)]


def _dates(steps: tuple[Step, ...], today: date) -> list[str]:
    found = []
    last = today.isoformat()
    for step in steps:
        if step.start is None or step.end is None:
            continue
        if step.start < last:
            found.append(f"{step.do} of {step.start} after a step of {last}")
        if step.end < step.start:
            found.append(f"{step.do} ends before it starts")
        if step.do in MOIST and step.end == step.start:
            found.append(f"{step.do} without a day")
        last = step.start
    return found


def _wet_then_dry(steps: tuple[Step, ...]) -> list[str]:
    dry = [
        i
        for i, s in enumerate(steps)
        if s.do == "hold" and re.search(r"\bdry, airtight|until it is dry", s.text)
    ]
    return [f"{s.do} before it is kept dry" for s in steps[: dry[-1] if dry else 0] if s.do in WET]


def _wording(recipe: Recipe, page: str) -> list[str]:
    flat = " ".join(page.split())
    found = [bad for bad in ("{", " ,", " . ", "..", "0–0 ") if bad in flat.replace("...", "")]
    if recipe.species.storage == "recalcitrant" and "a refrigerator is good" in flat:
        found.append("a refrigerator for seed that must not dry")
    if recipe.hold and recipe.hold.until and recipe.route == "treat_indoors":
        ends = [s.end for s in recipe.steps if s.do in MOIST and s.end]
        if ends and recipe.hold.until < ends[-1]:
            found.append("to be held for less than it is treated")
    return found
