"""Faults that are planted for the invariants on winter and spring: name, kind, what is said, day, change."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from typing import Any

from msgspec.structs import replace

from coldspell.plan.plan import Plan
from coldspell.write.recipe import Recipe

Change = Callable[[Plan, Recipe], tuple[Plan, Recipe]]


def noted(text: str) -> Change:
    """The recipe with one more note."""
    return lambda plan, recipe: (plan, replace(recipe, notes=(*recipe.notes, text)))


def later(days: int) -> Change:
    """The recipe with its sowing so many days later."""

    def moved(plan: Plan, recipe: Recipe) -> tuple[Plan, Recipe]:
        steps = []
        for step in recipe.steps:
            if step.do == "sow" and step.start:
                day = (date.fromisoformat(step.start) + timedelta(days=days)).isoformat()
                step = replace(step, start=day, end=day)
            steps.append(step)
        return plan, replace(recipe, steps=tuple(steps))

    return moved


def instead(text: str) -> Change:
    """The recipe with another way without a refrigerator."""

    def said(plan: Plan, recipe: Recipe) -> tuple[Plan, Recipe]:
        return plan, replace(recipe, instead=(replace(recipe.instead[0], text=text),))

    return said


PLANTED: list[tuple[str, str, dict[str, Any], date, Change]] = [
    (
        "nothing_rooted_is_held_for_half_a_year",
        "Malus domestica",
        {"rooted": 3},
        date(2026, 9, 20),
        noted("short roots stay in the cold bag"),
    ),
    (
        "what_is_sown_in_summer_does_not_wait_for_the_next",
        "Digitalis purpurea",
        {"moisture": "dried"},
        date(2026, 8, 20),
        later(270),
    ),
    (
        "nothing_moist_over_a_winter_is_dried",
        "Prunus cerasifera",
        {"moisture": "fresh", "cold_break_days": 10},
        date(2027, 3, 12),
        noted("Spread it thinly in an airy, shady place until it is dry, then keep it airtight."),
    ),
    (
        "one_answer_how_long_it_keeps",
        "Quercus alba",
        {"moisture": "fresh"},
        date(2027, 5, 20),
        noted("Pot what roots, root down, and keep it cold."),
    ),
    (
        "no_winter_is_left_unused",
        "Pyrus calleryana",
        {"moisture": "dried"},
        date(2027, 1, 21),
        instead("Sow outdoors next autumn under mesh."),
    ),
    (
        "no_winter_is_left_unused",
        "Eutrochium",
        {"moisture": "fresh", "refrigerator": "none", "sow": "2026-04-16"},
        date(2026, 1, 1),
        later(300),
    ),
    (
        "what_is_not_gathered_is_not_sown_now",
        "Pinus sylvestris",
        {"collected": "2027-02-01"},
        date(2026, 10, 12),
        instead("Sow outdoors now under mesh."),
    ),
]
