"""Faults that are planted for the invariants on places and the order of the first steps."""

from __future__ import annotations

from datetime import date
from typing import Any

from msgspec.structs import replace
from planted_winter import Change, instead

from coldspell.plan.plan import Plan
from coldspell.write.recipe import Recipe


def turned(plan: Plan, recipe: Recipe) -> tuple[Plan, Recipe]:
    """The recipe with its first two steps the other way round."""
    first, second, *rest = recipe.steps
    return plan, replace(recipe, steps=(second, first, *rest))


def without_the_first(plan: Plan, recipe: Recipe) -> tuple[Plan, Recipe]:
    """The recipe without its first step."""
    return plan, replace(recipe, steps=recipe.steps[1:])


def sown(text: str) -> Change:
    """The recipe with a further sentence in the step of its sowing."""

    def said(plan: Plan, recipe: Recipe) -> tuple[Plan, Recipe]:
        steps = (replace(s, text=f"{s.text} {text}") if s.do == "sow" else s for s in recipe.steps)
        return plan, replace(recipe, steps=tuple(steps))

    return said


def unasked(plan: Plan, recipe: Recipe) -> tuple[Plan, Recipe]:
    """The recipe without its notes."""
    return plan, replace(recipe, notes=())


def lying(form: str, says: str) -> Change:
    """The recipe with another form of medium, in other words."""

    def said(plan: Plan, recipe: Recipe) -> tuple[Plan, Recipe]:
        assert recipe.medium is not None
        return plan, replace(recipe, medium=replace(recipe.medium, form=form, says=says))

    return said


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
    (
        "nothing_that_frost_kills_lies_in_open_ground_in_the_dark",
        "Cucurbita moschata",
        {"sow": "2027-01-10"},
        date(2026, 11, 30),
        sown("Broadcast them over a drained seedbed."),
    ),
    (
        "pots_under_cover_wait_for_no_frost",
        "Cucurbita moschata",
        {"seeds": 20_000, "sow": "2027-01-10"},
        date(2026, 11, 30),
        sown("Only once frosts are over and the soil has 18 °C."),
    ),
    (
        "words_of_spring_are_said_in_spring",
        "Solanum melongena",
        {"moisture": "dried"},
        date(2027, 6, 15),
        sown("Indoors, three to four weeks before the last frost."),
    ),
    (
        "an_odd_last_frost_moves_nothing",
        "Scirpus atrovirens",
        {"last_frost": "2026-10-14"},
        date(2026, 8, 15),
        unasked,
    ),
    (
        "thousands_are_told_of_no_pot",
        "Celastrus scandens",
        {"seeds": 20_000},
        date(2027, 6, 15),
        instead("Sow outdoors in autumn in a sunk pot."),
    ),
    (
        "one_medium_has_one_name",
        "Prunus armeniaca",
        {"seeds": 20_000, "medium": ["perlite"]},
        date(2027, 1, 28),
        lying("pit", "layers of seed and damp sand in a pit outdoors"),
    ),
    (
        "sand_at_hand_is_no_reason_for_paper",
        "Cornus sericea",
        {"medium": ["sand"]},
        date(2026, 10, 12),
        lying("towel_roll", "a moist paper-towel roll"),
    ),
]
