"""Phrases that the short and the full page share: what seed lies in, its weight, the rest of a question."""

from __future__ import annotations

from coldspell.texts import Texts
from coldspell.write.recipe import Recipe
from coldspell.write.recipe_work import Medium
from coldspell.write.units import Units

MANY_SEEDS = 500
"""From so many on seed is weighed, not counted (our choice)."""


def weighing(recipe: Recipe, texts: Texts, units: Units, seeds: int) -> str:
    """The weight in brackets, after a space; empty for few seeds, and where nobody knows."""
    expect = recipe.expectation
    if seeds < MANY_SEEDS or expect is None or expect.seeds_mass_g is None:
        return ""
    return " " + texts.say("weighing", mass=units.mass(expect.seeds_mass_g * seeds / expect.seeds))


def medium_says(medium: Medium, *, listed: bool = False) -> str:
    """The form of the medium and its material, unless that is ``listed``; seed alone lies in none."""
    says = f"{medium.says[0].upper()}{medium.says[1:]}"
    return f"{says}." if listed or medium.material == "nothing" else f"{says}: {medium.material_says}."


def otherwise(recipe: Recipe, texts: Texts) -> str:
    """What to do where no answer to the question fits; seed in hand is kept meanwhile. Empty: no question."""
    if recipe.does.page != "question":
        return ""
    text = texts.say("trial_otherwise", name=recipe.species.name)
    return text if recipe.lot.said["sown"] else f"{text} {texts.say('trial_meanwhile')}"
