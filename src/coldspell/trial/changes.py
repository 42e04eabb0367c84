"""Which recipes change between two versions of a library or of the rules: the same few lots asked of both."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from coldspell.ask import Question, answer
from coldspell.decide.tables import Tables
from coldspell.library.library import Library
from coldspell.lot.read import make_lot
from coldspell.write.recipe import Recipe

LOTS: dict[str, dict[str, str | int]] = {
    "fresh": {"moisture": "fresh", "seeds": 30},
    "dried": {"moisture": "dried", "seeds": 30},
    "stored three years": {"moisture": "dried", "stored_years": 3, "seeds": 30},
    "kernels": {"moisture": "fresh", "shell": "kernel", "seeds": 30},
    "northern": {"moisture": "fresh", "origin": "north", "seeds": 30},
}
"""The lots asked of both libraries, by what is special about them."""
_DAY = date(2026, 10, 1)


@dataclass(frozen=True, slots=True)
class RecipeChange:
    """One lot whose recipe differs: what it said and says now."""

    record: str
    lot: str
    old: tuple[str, ...]
    new: tuple[str, ...]


def recipe_changes(old: Library, new: Library, tables: Tables) -> list[RecipeChange]:
    """Compare the recipes of the kinds that stand in both libraries.

    A change in a genus record shows at every species that it fills up. What changes alike for several lots is
    told for the first of them only.
    """
    return _changes(sorted(set(old.names) & set(new.names)), (old, tables), (new, tables))


def changes_by_rules(library: Library, names: Sequence[str], old: Tables, new: Tables) -> list[RecipeChange]:
    """Compare the recipes of some kinds between two sets of rules; alike for several lots, told once."""
    return _changes(names, (library, old), (library, new))


def _changes(
    names: Sequence[str], old: tuple[Library, Tables], new: tuple[Library, Tables]
) -> list[RecipeChange]:
    found = []
    for name in names:
        seen = set()
        for lot, said in LOTS.items():
            question = Question(name, make_lot(said), _DAY)
            before, after = (_gist(answer(question, lib, tables, "")) for lib, tables in (old, new))
            told = (frozenset(before) - frozenset(after), frozenset(after) - frozenset(before))
            if before != after and told not in seen:
                seen.add(told)
                found.append(RecipeChange(name, lot, before, after))
    return found


def _gist(recipe: Recipe) -> tuple[str, ...]:
    """What a grower would do differently: all that the page says, but for numbers that follow from it."""
    lines = [recipe.verdict.sentence, *(step.text for step in recipe.steps)]
    if recipe.medium is not None:
        lines += [recipe.medium.says, recipe.medium.wetness, recipe.medium.closure]
    lines += [recipe.layout.says] if recipe.layout is not None else []
    lines += [recipe.place] if recipe.place else []
    if recipe.checks is not None:
        lines += [f"{look.look_for}: {look.then_do}" for look in recipe.checks.looks]
        lines += [text for text in (recipe.checks.on_mould, recipe.checks.on_sprouts) if text]
    lines += [f"{case.look_for} {case.then_do}" for case in recipe.what_if]
    if recipe.hold is not None:
        days = "" if recipe.hold.days is None else f"up to {recipe.hold.days[2]:g} days: "
        lines.append(days + recipe.hold.says)
    return (*lines, *(note.text for note in recipe.cautions))
