"""Cut the facts of a decision into labels: values that no rule of the decision tells apart share one."""

from __future__ import annotations

import itertools
import math
from bisect import bisect_left
from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
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


def labeller(axis: Axis) -> Callable[[FactValue], str]:
    """A fast form of `label_of` for one axis; what it does not know at once it leaves to `label_of`."""
    if axis.bounds is None:
        table: dict[FactValue, str] = dict(zip(axis.atoms, axis.classes, strict=True))

        def choice(value: FactValue) -> str:
            # 1 and True are one key to a dictionary: only texts are looked up
            return table[value] if type(value) is str and value in table else label_of(axis, value)

        return choice
    cuts, classes, (low, high) = axis.cuts, axis.classes, axis.bounds

    def number(value: FactValue) -> str:
        if (type(value) is float or type(value) is int) and low <= value <= high:
            return classes[bisect_left(cuts, value)]
        return label_of(axis, value)

    return number


def _declared(axis: Axis) -> str:
    words = ", ".join(axis.atoms)
    return f"Declared: {axis.bounds[0]:g} to {axis.bounds[1]:g}." if axis.bounds else f"Declared: {words}."


def words_of(axis: Axis, labels: Collection[str]) -> str:
    """Some labels of an axis in one phrase that a person can read: ``over 14, up to 100 or unknown``."""
    members = [index for index, label in enumerate(axis.classes) if label in labels]
    return _words(_cells(axis.atoms, axis.cuts, axis.bounds is not None), members)


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
