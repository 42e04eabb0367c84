"""``coldspell rules diff OLD NEW``: which rules, and which recipes, differ between two sets of rules."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

from coldspell.cli.output import Form
from coldspell.decide.tables import tables_of
from coldspell.library.load import load_library, shipped_dirs
from coldspell.rulebook import load_rulebook
from coldspell.rules import RuleBook
from coldspell.rules.plain import PlainEngine
from coldspell.trial.changes import LOTS, RecipeChange, changes_by_rules


def compared(old: Path, new: Path, records: int, form: Form) -> str:
    """The differences as text or JSON."""
    before, after = load_rulebook([old]).book, load_rulebook([new]).book
    library = load_library(shipped_dirs())
    names = [name for name in library.names if library.get(name).treatments or library.get(name).asks]
    asked = names[:: max(1, len(names) // records)][:records]
    rules = list(_rules(before, after))
    left = list(left_to_otherwise(before, after))
    tables = [tables_of(book, PlainEngine()) for book in (before, after)]
    recipes = changes_by_rules(library, asked, *tables) if rules else []
    if form is Form.json:
        told = {
            "schema": "coldspell/rules-diff/1",
            "rules": [{"change": change, "rule": rule} for change, rule in rules],
            "left_to_otherwise": [each._asdict() for each in left],
            "asked": {"records": len(asked), "lots": len(asked) * len(LOTS)},
            "recipes": [
                {"record": one.record, "lot": one.lot, "old": list(one.old), "new": list(one.new)}
                for one in recipes
            ],
        }
        return json.dumps(told, ensure_ascii=False, indent=2) + "\n"
    return _text(rules, left, recipes, len(asked))


class Left(NamedTuple):
    """A new answer that no rule of a decision that reads it names, and the rows that take it all the same."""

    answer: str
    decision: str
    rows: tuple[str, ...]


def left_to_otherwise(old: RuleBook, new: RuleBook) -> Iterator[Left]:
    """New answers that fall, without a word, into rows written for the answers that were there before.

    Only decisions that tell answers of that one apart: what does not look at it is none the worse.
    """
    for name, decision in new.decisions.items():
        before = old.decisions.get(name)
        for answer in [] if before is None else decision.answers.keys() - before.answers.keys():
            for reader in new.decisions.values():
                tests = [(rule, c) for rule in reader.rules for c in rule.when if c.fact == name]
                named = any(answer in c.values and not c.words.startswith("not ") for _, c in tests)
                if not tests or named:
                    continue
                refused = {rule.name for rule, c in tests if answer not in c.values}
                rows = [rule for rule in reader.rules if rule.name not in refused]
                rows = [rule for rule in rows if not rule.when] or rows
                yield Left(f"{name}: {answer}", reader.name, tuple(rule.name for rule in rows[:3]))


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
            when = [(c.fact, c.words) for c in rule.when]  # as written: labels are cut by other rows, too
            parts[f"{decision.name}: {rule.name}"] = (
                *(rule.answer, rule.because, rule.cites, rule.text, rule.guaranteed_by),
                *(when, place),
            )
        for name, answer in decision.answers.items():
            parts[f"{decision.name}: answer {name}"] = answer
    for name, number in book.practice.items():
        parts[f"practice: {name}"] = number.value
    return parts


def _text(
    rules: list[tuple[str, str]], left: list[Left], recipes: list[RecipeChange], asked: int
) -> str:
    lines = [f"{change:<8} {name}" for change, name in rules]
    for one in left:
        rows = " or ".join(f"“{row}”" for row in one.rows) or "no row"
        lines.append(f"notice   {one.answer} is new; {one.decision} names it nowhere: it takes {rows}")
    for recipe in recipes:
        lines.append(f"recipe   {recipe.record}, {recipe.lot}")
        lines += [f"    - {text}" for text in recipe.old if text not in recipe.new]
        lines += [f"    + {text}" for text in recipe.new if text not in recipe.old]
    differ = "1 rule or number differs" if len(rules) == 1 else f"{len(rules)} rules or numbers differ"
    change = "1 recipe changes" if len(recipes) == 1 else f"{len(recipes)} recipes change"
    lines.append(f"{differ}, {change}")
    lines.append(f"(asked: {asked} kinds with {len(LOTS)} lots each; --records asks more)")
    return "\n".join(lines) + "\n"
