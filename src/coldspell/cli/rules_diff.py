"""``coldspell rules diff OLD NEW``: which rules, and which recipes, differ between two sets of rules."""

from __future__ import annotations

import json
from bisect import bisect_left
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import NamedTuple

from coldspell.cli import output
from coldspell.cli.output import Form
from coldspell.decide.tables import tables_of
from coldspell.library.load import load_library, shipped_dirs
from coldspell.rulebook import load_rulebook
from coldspell.rules import RuleBook
from coldspell.rules.audit import audit
from coldspell.rules.model import Decision, Rule
from coldspell.rules.plain import PlainEngine
from coldspell.rules.session import pick
from coldspell.trial.changes import LOTS, RecipeChange, changes_by_rules

Changed = tuple[str, str]
"""What happened, and to what: ``added``, ``looks: fuzz``."""


def compared(old: Path, new: Path, records: int, form: Form) -> str:
    """The differences as text or JSON."""
    before, after = load_rulebook([old]).book, load_rulebook([new]).book
    library = load_library(shipped_dirs())
    names = [name for name in library.names if library.get(name).treatments or library.get(name).asks]
    asked = names[:: max(1, len(names) // records)][:records]
    rules = list(_rules(before, after))
    left = list(left_to_otherwise(before, after))
    watched = Watching()
    if rules:
        output.working(f"asking {len(asked)} kinds of both sets of rules")
    tables = (tables_of(before, PlainEngine()), tables_of(after, watched))
    recipes = changes_by_rules(library, asked, *tables) if rules else []
    unmet = list(_unmet(rules, after, watched.met))
    if form is Form.json:
        told = {
            "schema": "coldspell/rules-diff/1",
            "rules": [{"change": change, "rule": rule} for change, rule in rules],
            "left_to_otherwise": [each._asdict() for each in left],
            "unmet": [each._asdict() for each in unmet],
            "asked": {"records": len(asked), "lots": len(asked) * len(LOTS)},
            "recipes": [
                {"record": one.record, "lot": one.lot, "old": list(one.old), "new": list(one.new)}
                for one in recipes
            ],
        }
        return json.dumps(told, ensure_ascii=False, indent=2) + "\n"
    return _text(rules, left, unmet, recipes, len(asked))


class Watching(PlainEngine):
    """The plain evaluator, which keeps which rows answered: (decision, rule)."""

    def __init__(self) -> None:
        self.met: set[tuple[str, str]] = set()

    def matching(self, decision: Decision, labels: tuple[str, ...]) -> tuple[int, ...]:
        """The indexes of all rules that hold, in file order."""
        held = super().matching(decision, labels)
        self.met.update((decision.name, decision.rules[at].name) for at in pick(decision, labels, held))
        return held


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
                tests = [c for rule in reader.rules for c in rule.when if c.fact == name]
                named = any(answer in c.values and not c.words.startswith("not ") for c in tests)
                if tests and not named:
                    yield Left(f"{name}: {answer}", reader.name, tuple(_taking(reader, name, answer)))


def _taking(reader: Decision, fact: str, answer: str) -> Iterator[str]:
    """The rows that take an answer which none names: by `not`, or because those that tell it apart refuse it.

    Where the order decides, a row before all of these takes every answer alike, and the first row for
    everything ends the list.
    """
    apart = reader.policy != "first"
    for rule in reader.rules:
        tests = [c for c in rule.when if c.fact == fact]
        if any(answer not in c.values for c in tests):
            apart = True
        elif apart or tests:
            yield rule.name
            if reader.policy == "first" and not rule.when:
                return


class Unmet(NamedTuple):
    """A new or changed rule that no lot which was asked comes to, and why."""

    rule: str
    why: str


_ASKED_BY = {"trial": "coldspell trial", "arm": "coldspell trial", "caller": "coldspell trouble"}
"""The command that asks a decision which no plain recipe asks, by what it is asked for (``per``)."""


def _unmet(rules: Sequence[Changed], book: RuleBook, met: set[tuple[str, str]]) -> Iterator[Unmet]:
    changed = {name for change, name in rules if change != "removed"}
    found = [
        (decision, rule)
        for decision in book.decisions.values()
        for rule in decision.rules
        if _named(decision, rule) in changed and (decision.name, rule.name) not in met
    ]
    faults = audit(book).findings if found else ()
    dead = {one.where: one.message for one in faults if one.check == "dead-row"}
    for decision, rule in found:
        why = "no lot that was asked comes to it"
        if rule.place in dead:
            why = f"no lot can come to it: {dead[rule.place].partition(' never holds: ')[2]}"
        elif decision.per in _ASKED_BY:
            why = f"no recipe asks it; try it with {_ASKED_BY[decision.per]} … --rules NEW"
        elif rule.when:
            why += f"; it is for {'; '.join(f'{c.fact}: {c.words}' for c in rule.when)}"
        yield Unmet(_named(decision, rule), why)


def _named(decision: Decision, rule: Rule) -> str:
    return f"{decision.name}: {rule.name}"


def _rules(old: RuleBook, new: RuleBook) -> Iterator[Changed]:
    """Rules and answers that were added, removed, changed or moved, by decision and name."""
    before, after = _parts(old), _parts(new)
    moved = set(_moved(old, new))
    for name in sorted(before.keys() | after.keys()):
        if name not in after:
            yield "removed", name
        elif name not in before:
            yield "added", name
        elif before[name] != after[name]:
            yield "changed", name
        elif name in moved:
            yield "moved", name


def _parts(book: RuleBook) -> dict[str, object]:
    """What can differ, by a name for people; where it stands in its file is left out."""
    parts: dict[str, object] = {}
    for decision in book.decisions.values():
        applies = [(c.fact, c.words) for c in decision.applies]
        parts[f"{decision.name}: policy or applies"] = (decision.policy, applies, decision.per)
        for rule in decision.rules:
            when = [(c.fact, c.words) for c in rule.when]  # as written: labels are cut by other rows, too
            parts[_named(decision, rule)] = (
                *(rule.answer, rule.because, rule.cites, rule.text, rule.guaranteed_by),
                when,
            )
        for name, answer in decision.answers.items():
            parts[f"{decision.name}: answer {name}"] = answer
    for name, number in book.practice.items():
        parts[f"practice: {name}"] = number.value
    return parts


def _moved(old: RuleBook, new: RuleBook) -> Iterator[str]:
    """Rows of tables whose order decides that passed another one which was there before: as few as may be.

    A row that only stands further down because one was put in above it has not moved.
    """
    for decision in new.decisions.values():
        before = old.decisions.get(decision.name)
        if before is not None and decision.policy == before.policy == "first":
            ranks = {rule.name: rank for rank, rule in enumerate(before.rules)}
            common = [rule for rule in decision.rules if rule.name in ranks]
            stay = rising([ranks[rule.name] for rule in common])
            yield from (_named(decision, rule) for at, rule in enumerate(common) if at not in stay)


def rising(numbers: Sequence[int]) -> set[int]:
    """Where the numbers of a longest rising run stand, others between them left out.

    >>> sorted(rising([0, 3, 1, 2]))
    [0, 2, 3]
    """
    ends: list[int] = []  # the lowest end of a run of each length, and where it stands
    at: list[int] = []
    before: dict[int, int | None] = {}
    for index, number in enumerate(numbers):
        length = bisect_left(ends, number)
        before[index] = at[length - 1] if length else None
        ends[length:] = [number, *ends[length + 1 :]]
        at[length:] = [index, *at[length + 1 :]]
    found, last = set(), at[-1] if at else None
    while last is not None:
        found.add(last)
        last = before[last]
    return found


_MANY = 5
"""Rows of a notice that are named in text; JSON names them all."""


def _text(
    rules: list[Changed], left: list[Left], unmet: list[Unmet], recipes: list[RecipeChange], asked: int
) -> str:
    lines = [f"{change:<8} {name}" for change, name in rules]
    for one in left:
        rows = " or ".join(f"“{row}”" for row in one.rows[:_MANY]) or "no row"
        if len(one.rows) > _MANY:
            rows += f" or one of {len(one.rows) - _MANY} more (coldspell rules show {one.decision})"
        lines.append(f"notice   {one.answer} is new; {one.decision} names it nowhere: it falls to {rows}")
    lines += [f"notice   {one.rule}: {one.why}" for one in unmet]
    for recipe in recipes:
        lines.append(f"recipe   {recipe.record}, {recipe.lot}")
        lines += [f"    - {text}" for text in recipe.old if text not in recipe.new]
        lines += [f"    + {text}" for text in recipe.new if text not in recipe.old]
    differ = "1 rule or number differs" if len(rules) == 1 else f"{len(rules)} rules or numbers differ"
    change = "1 recipe changes" if len(recipes) == 1 else f"{len(recipes)} recipes change"
    lines.append(f"{differ}, {change}")
    lines.append(f"(asked: {asked} kinds with {len(LOTS)} lots each; --records asks more)")
    return "\n".join(lines) + "\n"
