"""How lots that a decision need not tell apart are found together.

A tree asks one fact after another: first one that most rules look at. What a lot says of it rules some of
them out; the next is one that those left look at, until no other fact can change which rules answer. Branches
grow as lots come. Where all rules that hold answer, nearly every fact matters: there the columns are anded.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import reduce
from operator import and_
from typing import Generic, TypeVar

from msgspec import UNSET, Struct, UnsetType, field

from coldspell.rules.labels import Labeller, label_of, labeller
from coldspell.rules.model import Axis, Decision, FactValue

T = TypeVar("T")


class Node(Struct, Generic[T]):
    """A fact to ask for, and where each of its values leads; without a fact what has been ``found``."""

    fact: str | None
    axis: Axis | None
    read: Labeller | None
    """The label of a number; words are looked up as they are."""
    left: int
    """The rules that may still answer, a bit for each."""
    asked: int
    """The gates and axes asked for so far, a bit for each in their order."""
    to: dict[FactValue, Node[T]] = field(default_factory=dict)
    found: T | UnsetType = UNSET


class Tree(Generic[T]):
    """The facts of one decision in the order in which they are asked."""

    def __init__(self, table: Decision, limit: int) -> None:
        self._table, self._limit = table, limit
        self._looked = (*table.gates, *table.axes)
        self._read = [None if axis.bounds is None else labeller(axis) for axis in self._looked]
        every = (1 << len(table.rules)) - 1
        opens = [
            {label: every if label in condition.labels else 0 for label in axis.labels}
            for axis, condition in zip(table.gates, table.applies, strict=True)
        ]
        holds = [
            {label: int.from_bytes(bits, "big") for label, bits in zip(axis.labels, axis.holds, strict=True)}
            for axis in table.axes
        ]
        self._holds = [*opens, *holds]
        self._tells = [every & ~reduce(and_, bits.values(), every) for bits in self._holds]
        """For each gate and axis the rules that do not hold with every label of it."""
        self._nodes: dict[tuple[int, int], Node[T]] = {}
        self.root = self._node(every, 0)

    def __len__(self) -> int:
        return len(self._nodes)

    def grow(self, node: Node[T], value: FactValue) -> Node[T]:
        """Where a value leads that a lot has for the first time.

        Raises
        ------
        InternalFault
            The value is outside what the fact was declared to be.
        """
        axis = node.axis
        assert axis is not None, "nothing is left to ask"
        label = str(value) if node.read else label_of(axis, value)
        at = self._next(node.left, node.asked)
        child = self._node(node.left & self._holds[at][label], node.asked | 1 << at)
        if value is None or type(value) is str:  # 1 and True would be one key
            node.to[value] = child
        return child

    def _node(self, left: int, asked: int) -> Node[T]:
        found = self._nodes.get((left, asked))
        if found is not None:
            return found
        if len(self._nodes) >= self._limit:  # memory stays flat over any number of lots
            self._nodes.clear()
            self.root.to.clear()
        at = self._next(left, asked)
        if at < 0:
            found = Node(None, None, None, left, asked)
        else:
            axis = self._looked[at]
            found = Node(axis.fact, axis, self._read[at], left, asked)
        self._nodes[left, asked] = found
        return found

    def _next(self, left: int, asked: int) -> int:
        """The gate or axis that is asked for next; -1: none can change what the decision comes to."""
        gates = len(self._table.gates)
        first = next((at for at in range(gates) if not asked >> at & 1), None)
        if first is not None and left:
            return first
        matters = left & -left if self._table.policy == "first" else left
        open_ = [
            at
            for at in range(gates, len(self._looked))
            if not asked >> at & 1 and self._tells[at] & matters
        ]
        return max(open_, key=lambda at: (self._tells[at] & left).bit_count(), default=-1)


class Columns(Generic[T]):
    """Which rules hold for a lot, by all facts of a decision.

    For decisions that collect what holds: there nearly every fact matters, and few lots come to the same.
    """

    def __init__(self, table: Decision, limit: int) -> None:
        self._limit = limit
        self._looked = [
            *(
                _column(axis, {label: -1 if label in condition.labels else 0 for label in axis.labels})
                for axis, condition in zip(table.gates, table.applies, strict=True)
            ),
            *(
                _column(axis, dict(zip(axis.labels, map(_bits, axis.holds), strict=True)))
                for axis in table.axes
            ),
        ]
        self._found: dict[int, T] = {}

    def __len__(self) -> int:
        return len(self._found)

    def held(self, facts: Mapping[str, FactValue]) -> int:
        """The rules that hold as bits; none at all where the decision is not asked.

        Raises
        ------
        KeyError
            A fact is missing, or no word or number as it was declared.
        """
        held = -1
        for fact, read, bits in self._looked:
            value = facts[fact]
            held &= bits[value if read is None else read(value)]
        return held

    def get(self, held: int) -> T | None:
        """What these rules come to, where some lot had them."""
        return self._found.get(held)

    def keep(self, held: int, found: T) -> None:
        """Remember what these rules come to."""
        if len(self._found) >= self._limit:
            self._found.clear()
        self._found[held] = found


def _bits(holds: bytes) -> int:
    """The rules that hold with a label, a bit for each; the lowest is always set."""
    return int.from_bytes(holds, "big") << 1 | 1


def _column(axis: Axis, bits: dict[FactValue, int]) -> tuple[str, Labeller | None, dict[FactValue, int]]:
    """A fact, how its label is read, and the rules that hold with each of its labels or words."""
    if axis.bounds is not None:
        return axis.fact, labeller(axis), bits
    return axis.fact, None, {word: bits[label] for word, label in zip(axis.atoms, axis.classes, strict=True)}
