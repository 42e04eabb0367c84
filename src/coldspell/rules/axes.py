"""Cut the facts of a decision into labels: values that no rule of the decision tells apart share one."""

from __future__ import annotations

import itertools
from collections.abc import Collection, Iterable, Mapping, Sequence

from msgspec.structs import replace

from coldspell.rules.model import UNKNOWN, Axis, Condition, Decision, Fact, Rules
from coldspell.rules.scope import Scope
from coldspell.rules.wording import range_words

Cell = tuple[float | None, float | None]  # over, up to


def cut_axes(decision: Decision, facts: Mapping[str, Fact], scope: Scope | None) -> Decision:
    """The decision with its axes and gates, and every condition with the labels that satisfy it."""
    axes = {}
    for name in decision.facts:
        tests = [c for r in decision.rules for c in r.when if c.fact == name]
        tests += [c for c in decision.applies if c.fact == name]
        limits = None if scope is None else scope.get(name)
        axes[name] = _axis(facts[name], tests, limits, asked=scope is not None)
    rules = Rules(replace(r, when=_labelled(r.when, axes)) for r in decision.rules)
    applies = _labelled(decision.applies, axes)
    return replace(
        decision,
        rules=rules,
        applies=applies,
        axes=tuple(replace(axes[n], holds=_holds(axes[n], rules)) for n in decision.given),
        gates=tuple(axes[c.fact] for c in applies),
    )


def words_of(axis: Axis, labels: Collection[str]) -> str:
    """Some labels of an axis in one phrase that a person can read: ``over 14, up to 100 or unknown``."""
    members = [index for index, label in enumerate(axis.classes) if label in labels]
    return _words(_cells(axis.atoms, axis.cuts, axis.bounds is not None), members)


def _holds(axis: Axis, rules: Rules) -> tuple[bytes, ...]:
    """For each label a bit for each rule that holds with it: those that list it, or do not ask."""
    found = dict.fromkeys(axis.labels, 0)
    for index, rule in enumerate(rules):
        asked = next((c.labels for c in rule.when if c.fact == axis.fact), axis.labels)
        for label in asked:
            found[label] |= 1 << index
    return tuple(bits.to_bytes(len(rules) // 8 + 1, "big") for bits in found.values())


def _axis(fact: Fact, tests: Sequence[Condition], limits: Condition | None, *, asked: bool) -> Axis:
    marks = [*tests, limits] if limits else list(tests)
    cuts = tuple(sorted({x for c in marks for x in (c.over, c.up_to) if x is not None}))
    extra = (UNKNOWN,) if fact.may_be_unknown else ()
    cells = _cells(fact.values or ("",) * (len(cuts) + 1) + extra, cuts, fact.bounds is not None)
    groups: dict[tuple[bool, ...], list[int]] = {}
    for index, cell in enumerate(cells):
        groups.setdefault(tuple(_satisfies(cell, c) for c in marks), []).append(index)
    classes = [""] * len(cells)
    within = []
    for signature, members in groups.items():
        label = _words(cells, members)
        for index in members:
            classes[index] = label
        if asked and (limits is None or signature[-1]):
            within.append(label)
    return Axis(
        fact.name,
        atoms=tuple(cell if isinstance(cell, str) else range_words(*cell) for cell in cells),
        classes=tuple(classes),
        labels=tuple(dict.fromkeys(classes)),
        within=tuple(within),
        cuts=cuts,
        bounds=fact.bounds,
        may_be_unknown=fact.may_be_unknown,
    )


def _cells(atoms: Sequence[str], cuts: Sequence[float], number: bool) -> list[Cell | str]:
    """The finest pieces of a fact: its values; or the ranges between cuts, and ``unknown`` if it can be."""
    if not number:
        return list(atoms)
    return [*itertools.pairwise((None, *cuts, None)), *([UNKNOWN] if len(atoms) > len(cuts) + 1 else [])]


def _satisfies(cell: Cell | str, test: Condition) -> bool:
    if isinstance(cell, str):
        return test.unknown if not test.values else cell in test.values
    over, up_to = cell
    return (
        test.known
        and (test.over is None or (over is not None and over >= test.over))
        and (test.up_to is None or (up_to is not None and up_to <= test.up_to))
    )


def _words(cells: Sequence[Cell | str], members: Sequence[int]) -> str:
    """A name for some cells: short, readable, and different for different cells."""
    if len(members) == len(cells):
        return "any"
    words = [cell for index in members if isinstance(cell := cells[index], str)]
    runs: list[Cell] = []
    for index in members:
        cell = cells[index]
        if isinstance(cell, str):
            continue
        if runs and runs[-1][1] == cell[0]:
            runs[-1] = (runs[-1][0], cell[1])
        else:
            runs.append(cell)
    others = [cell for cell in cells if isinstance(cell, str) and cell not in words]
    if len(others) < len(words) > 3 and not runs:
        return "not " + " nor ".join(others)
    return " or ".join([*(range_words(*run) for run in runs), *words])


def _labelled(conditions: Iterable[Condition], axes: Mapping[str, Axis]) -> tuple[Condition, ...]:
    made = []
    for condition in conditions:
        axis = axes[condition.fact]
        cells = _cells(axis.atoms, axis.cuts, axis.bounds is not None)
        held = {axis.classes[i] for i, cell in enumerate(cells) if _satisfies(cell, condition)}
        made.append(replace(condition, labels=tuple(label for label in axis.labels if label in held)))
    return tuple(made)
