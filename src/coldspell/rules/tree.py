"""Which lots a decision need not tell apart: its facts asked one after another, only those that still matter.

The first fact is one that most rules look at; what a lot says of it rules some of them out, and the next fact
is one that those left look at, until no other fact can change which rules answer. Branches grow as lots come.
"""

from __future__ import annotations

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
