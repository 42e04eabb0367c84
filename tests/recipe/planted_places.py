"""Faults that are planted for the invariants on places and the order of the first steps."""

from __future__ import annotations

from datetime import date
from typing import Any

from msgspec.structs import replace
from planted_winter import Change

from coldspell.plan.plan import Plan
from coldspell.write.recipe import Recipe


def turned(plan: Plan, recipe: Recipe) -> tuple[Plan, Recipe]:
    """The recipe with its first two steps the other way round."""
    first, second, *rest = recipe.steps
    return plan, replace(recipe, steps=(second, first, *rest))


def without_the_first(plan: Plan, recipe: Recipe) -> tuple[Plan, Recipe]:
    """The recipe without its first step."""
    return plan, replace(recipe, steps=recipe.steps[1:])


PLANTED: list[tuple[str, str, dict[str, Any], date, Change]] = [
    (
        "what_has_to_come_off_is_off_before_the_test",
        "Morella pensylvanica",
        {"moisture": "fresh"},
        date(2027, 1, 28),
        turned,
    ),
    (
        "what_the_record_takes_off_is_taken_off",
        "Morella cerifera",
        {"holes": True},
        date(2027, 1, 28),
        without_the_first,
    ),
]
