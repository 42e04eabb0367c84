"""``coldspell species diff OLD NEW``: what changed between two versions of a library."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any

import typer

from coldspell.cli import output
from coldspell.cli.output import Form
from coldspell.counter.record_words import topic
from coldspell.library.compare import Change, Difference, difference
from coldspell.library.load import load_library
from coldspell.rulebook import load_tables
from coldspell.rules import best_engine
from coldspell.trial.changes import LOTS, RecipeChange, recipe_changes, touched


def diff(
    old: Annotated[Path, typer.Argument(help="Library directory, older.")],
    new: Annotated[Path, typer.Argument(help="Library directory, newer.")],
    form: Annotated[Form, typer.Option("--format", help="text or json")] = Form.text,
) -> None:
    """Show which records, and which recipes, differ between two versions of a library."""
    before, after = load_library([old]), load_library([new])
    found = difference(before, after)
    tables = load_tables(best_engine())
    names = touched(before, after, [*found.added, *found.removed, *(one.record for one in found.changes)])
    if len(names) > _LONG:
        output.working(f"comparing the recipes of {len(names)} kinds, some seconds for a hundred of them")
    recipes = recipe_changes(before, after, tables, names)
    if form is Form.json:
        values: dict[str, Any] = {
            "added": found.added,
            "removed": found.removed,
            "changes": [{"record": one.record, "topic": one.topic, **_sides(one)} for one in found.changes],
            "asked": {"records": len(names), "lots": len(names) * len(LOTS)},
            "recipes": [
                {"record": one.record, "lot": one.lot, "old": list(one.old), "new": list(one.new)}
                for one in recipes
            ],
        }
        output.answer(form, "species-diff", values, ())
    else:
        output.write(_text(found, recipes, len(names)))


_LONG = 60
"""Kinds whose comparison takes longer than anybody waits without a word."""


def _sides(change: Change) -> dict[str, str]:
    return {"old": topic(change.old), "new": topic(change.new)}


def _text(found: Difference, recipes: list[RecipeChange], asked: int) -> str:
    lines = [f"added    {name}" for name in found.added] + [f"removed  {name}" for name in found.removed]
    last = ""
    for change in found.changes:
        if change.record != last:
            lines.append(f"changed  {change.record}")
            last = change.record
        sides = _sides(change)
        lines += [f"  {change.topic.replace('_', ' ')}", f"    - {sides['old']}", f"    + {sides['new']}"]
    for recipe in recipes:
        lines.append(f"recipe   {recipe.record}, {recipe.lot}")
        lines += [f"    - {text}" for text in recipe.old if text not in recipe.new]
        lines += [f"    + {text}" for text in recipe.new if text not in recipe.old]
    records = len({change.record for change in found.changes})
    counts = f"{len(found.added)} added, {len(found.removed)} removed, {records} changed"
    lines.append(f"{counts}, {len(recipes)} recipes change")
    if asked:
        lines.append(f"(asked: {asked} kinds of the genera that differ, with {len(LOTS)} lots each)")
    elif not (found.added or found.removed or found.changes):
        lines.append("(the records say the same; comments, layout and what is accepted are not compared)")
    return "\n".join(lines) + "\n"
