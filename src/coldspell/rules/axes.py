"""Cut the facts of a decision into labels: values that no rule of the decision tells apart share one."""

from __future__ import annotations

import itertools
import math
from bisect import bisect_left
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from coldspell.errors import InternalFault
from coldspell.rules.conditions import range_words
from coldspell.rules.model import UNKNOWN, Axis, Condition, Decision, Fact, FactValue
from coldspell.rules.scope import Scope

Cell = tuple[float | None, float | None]  # over, up to


def cut_axes(decision: Decision, facts: Mapping[str, Fact], scope: Scope | None) -> Decision:
    """The decision with its axes and gates, and every condition with the labels that satisfy it."""
    axes = {}
    for name in decision.facts:
        tests = [c for r in decision.rules for c in r.when if c.fact == name]
        tests += [c for c in decision.applies if c.fact == name]
        limits = None if scope is None else scope.get(name)
        axes[name] = _axis(facts[name], tests, limits, asked=scope is not None)
    rules = tuple(replace(r, when=_labelled(r.when, axes)) for r in decision.rules)
    applies = _labelled(decision.applies, axes)
    return replace(
        decision,
        rules=rules,
        applies=applies,
        axes=tuple(axes[n] for n in decision.given),
        gates=tuple(axes[c.fact] for c in applies),
    )


def label_of(axis: Axis, value: FactValue) -> str:
    """The label a value falls under.

    Raises
    ------
    InternalFault
        The value is outside what the fact was declared to be.
    """
    if axis.bounds is None:
        word = UNKNOWN if value is None else "yes" if value is True else "no" if value is False else value
        if word in axis.atoms:
            return axis.classes[axis.atoms.index(str(word))]
        raise InternalFault(f"the fact {axis.fact!r} cannot be {value!r}", mend=_declared(axis))
    if value is None or value == UNKNOWN:
        if axis.may_be_unknown:
            return axis.classes[-1]
        raise InternalFault(f"the fact {axis.fact!r} cannot be unknown")
    low, high = axis.bounds
    if isinstance(value, bool | str) or not math.isfinite(value) or not low <= value <= high:
        raise InternalFault(f"the fact {axis.fact!r} cannot be {value!r}", mend=_declared(axis))
    return axis.classes[bisect_left(axis.cuts, value)]


def _declared(axis: Axis) -> str:
    words = ", ".join(axis.atoms)
    return f"Declared: {axis.bounds[0]:g} to {axis.bounds[1]:g}." if axis.bounds else f"Declared: {words}."


def _axis(fact: Fact, tests: Sequence[Condition], limits: Condition | None, *, asked: bool) -> Axis:
    marks = [*tests, limits] if limits else list(tests)
    cuts = tuple(sorted({x for c in marks for x in (c.over, c.up_to) if x is not None}))
    cells: list[Cell | str] = list(fact.values)
    if fact.bounds:
        edges = (None, *cuts, None)
        cells = list(itertools.pairwise(edges))
        cells += [UNKNOWN] if fact.may_be_unknown else []
    groups: dict[tuple[bool, ...], list[int]] = {}
    for index, cell in enumerate(cells):
        groups.setdefault(tuple(_satisfies(cell, c) for c in marks), []).append(index)
    classes = [""] * len(cells)
    within = []
    for signature, members in groups.items():
        label = _label(fact, cells, members)
        for index in members:
            classes[index] = label
        if asked and (limits is None or signature[-1]):
            within.append(label)
    atoms = tuple(c if isinstance(c, str) else range_words(*c) for c in cells)
    return Axis(
        fact.name,
        atoms,
        tuple(classes),
        tuple(dict.fromkeys(classes)),
        tuple(within),
        cuts,
        fact.bounds,
        fact.may_be_unknown,
    )


def _satisfies(cell: Cell | str, test: Condition) -> bool:
    if isinstance(cell, str):
        return test.unknown if not test.values else cell in test.values
    over, up_to = cell
    return (
        test.known
        and (test.over is None or (over is not None and over >= test.over))
        and (test.up_to is None or (up_to is not None and up_to <= test.up_to))
    )


def _label(fact: Fact, cells: Sequence[Cell | str], members: Sequence[int]) -> str:
    """A name for a class of values: short, readable, and different for different classes."""
    if len(members) == len(cells):
        return "any"
    if fact.bounds is None:
        words = [str(cells[i]) for i in members]
        others = [v for v in fact.values if v not in words]
        return " or ".join(words) if len(words) <= max(3, len(others)) else "not " + " nor ".join(others)
    parts: list[str] = []
    run: list[Cell] = []
    for index in members:
        cell = cells[index]
        if isinstance(cell, str):
            continue
        if run and run[-1][1] != cell[0]:
            parts, run = [*parts, range_words(run[0][0], run[-1][1])], []
        run.append(cell)
    parts += [range_words(run[0][0], run[-1][1])] if run else []
    return " or ".join([*parts, UNKNOWN] if UNKNOWN in [cells[i] for i in members] else parts)


def _labelled(conditions: Iterable[Condition], axes: Mapping[str, Axis]) -> tuple[Condition, ...]:
    made = []
    for condition in conditions:
        axis = axes[condition.fact]
        edges = (None, *axis.cuts, None)
        cells: list[Cell | str] = list(axis.atoms)
        if axis.bounds:
            cells = [*itertools.pairwise(edges), *([UNKNOWN] if axis.may_be_unknown else [])]
        held = {axis.classes[i] for i, cell in enumerate(cells) if _satisfies(cell, condition)}
        made.append(replace(condition, labels=tuple(label for label in axis.labels if label in held)))
    return tuple(made)
