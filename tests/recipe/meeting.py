"""One lot as it was met: what was said, its plan, its recipe, its page; what the invariants judge."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from functools import cached_property
from typing import Any

import pages

from coldspell.ask import Question, plan
from coldspell.decide.knowledge import Knowledge
from coldspell.decide.tables import Tables
from coldspell.library.library import Library
from coldspell.lot.read import make_lot
from coldspell.plan.plan import Plan
from coldspell.write.recipe import Recipe
from coldspell.write.write import write


class Met:
    """One lot as it was met: what was said, the day, its plan, its recipe and its page on one line."""

    def __init__(self, said: dict[str, Any], today: date, made: Plan, recipe: Recipe) -> None:
        self.said, self.today, self.plan, self.recipe = said, today, made, recipe

    @property
    def knowledge(self) -> Knowledge:
        """What is known of the kind."""
        return self.plan.decisions.knowledge

    @cached_property
    def page(self) -> str:
        """The one page, on one line so that wrapping does not matter."""
        return pages.on_one_line(self.recipe)

    @cached_property
    def sentences(self) -> tuple[str, ...]:
        """Every text of the recipe that a grower reads as a sentence."""
        return tuple(self._sentences())

    def _sentences(self) -> Iterator[str]:
        recipe = self.recipe
        yield recipe.verdict.sentence
        yield from recipe.notes
        yield from (step.text for step in recipe.steps)
        for part in (recipe.medium, recipe.layout, recipe.hold, recipe.sowing):
            yield from (str(getattr(part, name)) for name in _SAID if getattr(part, name, None))
        yield recipe.place or ""
        yield from (each.text for each in (*recipe.cautions, *recipe.instead, *recipe.offspring))
        yield from (each.then_do for each in recipe.what_if)
        yield from (way.text for way in recipe.timing.ways_out)

    @property
    def dies_dry(self) -> bool:
        """Whether seed of this kind dies when it dries, by its record."""
        storage, killed = self.knowledge.value("storage"), self.knowledge.value("killed_by")
        at = killed.moisture_percent_below if killed else None
        return bool((storage and storage.behaviour == "recalcitrant") or (at and at.low >= _DIES_MOIST))


_SAID = ("says", "material_says", "wetness", "closure", "place", "warmth")
_DIES_MOIST = 15
"""Seed that dies below so much water [percent] is dead when it is air-dry (8 to 12 percent)."""


def meet(name: str, said: dict[str, Any], today: date, library: Library, tables: Tables) -> Met:
    """Ask about one lot.

    Raises
    ------
    ColdspellError
        The lot cannot be; its refusal is no fault.
    """
    made = plan(Question(name, make_lot(said), today), library, tables)
    return Met(said, today, made, write(made, name, library, tables, "test"))
