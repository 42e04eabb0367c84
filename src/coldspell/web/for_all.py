"""What a public page says of a recipe and a record: nothing of methods that are only for trained people."""

from __future__ import annotations

from msgspec.structs import replace

from coldspell.records.do import PROFESSIONAL
from coldspell.records.model import Record
from coldspell.write.recipe import Recipe


def for_all(recipe: Recipe) -> Recipe:
    """The recipe without the treatments, and the words of other sources, that are for trained people.

    What the recipe warns of stays, and so do reasons that only mention such a method.
    """
    trained = {one.name for one in recipe.treatments if not PROFESSIONAL.isdisjoint(one.steps)}
    return replace(
        recipe,
        treatments=tuple(one for one in recipe.treatments if one.name not in trained),
        not_used=tuple(one for one in recipe.not_used if not one.trained),
        trace=tuple(row for row in recipe.trace if row.candidate not in trained),
    )


def record_for_all(record: Record) -> Record:
    """The record without the same, for the page of a record and its JSON."""
    return replace(
        record,
        treatments=tuple(
            one for one in record.treatments if PROFESSIONAL.isdisjoint(step.do for step in one.steps)
        ),
        not_used=tuple(one for one in record.not_used if not one.trained),
    )
