"""``coldspell rules diff OLD NEW``: which rules, and which recipes, differ between two sets of rules."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

from coldspell.cli.output import Form
from coldspell.decide.tables import tables_of
from coldspell.library.load import load_library, shipped_dirs
from coldspell.rulebook import load_rulebook
from coldspell.rules import PlainEngine, RuleBook
from coldspell.trial.changes import LOTS, RecipeChange, changes_by_rules


def compared(old: Path, new: Path, records: int, form: Form) -> str:
    """The differences as text or JSON."""
    before, after = load_rulebook([old]).book, load_rulebook([new]).book
    library = load_library(shipped_dirs())
    names = [name for name in library.names if library.get(name).treatments or library.get(name).asks]
    asked = names[:: max(1, len(names) // records)][:records]
    rules = list(_rules(before, after))
    tables = [tables_of(book, PlainEngine()) for book in (before, after)]
    recipes = changes_by_rules(library, asked, *tables) if rules else []
    if form is Form.json:
        told = {
            "schema": "coldspell/rules-diff/1",
            "rules": [{"change": change, "rule": rule} for change, rule in rules],
            "asked": {"records": len(asked), "lots": len(asked) * len(LOTS)},
            "recipes": [
                {"record": one.record, "lot": one.lot, "old": list(one.old), "new": list(one.new)}
                for one in recipes
            ],
        }
        return json.dumps(told, ensure_ascii=False, indent=2) + "\n"
    return _text(rules, recipes, len(asked))


def _rules(old: RuleBook, new: RuleBook) -> Iterator[tuple[str, str]]:
    """Rules and answers that were added, removed or changed, by decision and name."""
    before, after = _parts(old), _parts(new)
    for name in sorted(before.keys() | after.keys()):
        if name not in after:
            yield "removed", name
        elif name not in before:
            yield "added", name
        elif before[name] != after[name]:
            yield "changed", name


def _parts(book: RuleBook) -> dict[str, object]:
    """What can differ, by a name for people; where it stands in its file is left out."""
    parts: dict[str, object] = {}
    for decision in book.decisions.values():
        for rank, rule in enumerate(decision.rules):
            place = rank if decision.policy == "first" else 0  # where the order decides, a move is a change
            when = [(c.fact, c.labels) for c in rule.when]
            parts[f"{decision.name}: {rule.name}"] = (
                *(rule.answer, rule.because, rule.cites, rule.text, rule.guaranteed_by),
                *(when, place),
            )
        for name, answer in decision.answers.items():
            parts[f"{decision.name}: answer {name}"] = answer
    for name, number in book.practice.items():
        parts[f"practice: {name}"] = number.value
    return parts


def _text(rules: list[tuple[str, str]], recipes: list[RecipeChange], asked: int) -> str:
    lines = [f"{change:<8} {name}" for change, name in rules]
    for recipe in recipes:
        lines.append(f"recipe   {recipe.record}, {recipe.lot}")
        lines += [f"    - {text}" for text in recipe.old if text not in recipe.new]
        lines += [f"    + {text}" for text in recipe.new if text not in recipe.old]
    lines.append(f"{len(rules)} rules or numbers differ, {len(recipes)} recipes change")
    lines.append(f"(asked: {asked} kinds with {len(LOTS)} lots each; --records asks more)")
    return "\n".join(lines) + "\n"
