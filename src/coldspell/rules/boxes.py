"""Exact set arithmetic on boxes: a box is one bit set of labels for each fact of a decision.

A decision's rules are boxes in the space of all its labels. Nothing is sampled: a gap is found by cutting the
space one fact at a time, keeping only the boxes that are still alive, and stopping where one of them covers
all that is left.
"""

from __future__ import annotations

from collections.abc import Sequence

Box = tuple[int, ...]


def meet(one: Box, two: Box) -> Box | None:
    """What two boxes have in common; None when that is nothing."""
    both = tuple(a & b for a, b in zip(one, two, strict=True))
    return both if all(both) else None


def volume(box: Box) -> int:
    """How many cells a box holds (an exact integer; one cell for a box without facts)."""
    cells = 1
    for bits in box:
        cells *= bits.bit_count()
    return cells


def first_gap(space: Box, boxes: Sequence[Box]) -> Box | None:
    """A part of the space that no box reaches, or None where they cover it all.

    The part is a box of its own. Boxes may overlap and may reach beyond the space.
    """
    inside = [both for box in boxes if (both := meet(box, space))]
    return None if not all(space) else _Search(space, inside).gap(0, (1 << len(inside)) - 1)


def grown(part: Box, space: Box, boxes: Sequence[Box]) -> Box:
    """The part widened fact by fact as far as no box is met, so that it names only what matters."""
    wide = list(part)
    for axis, all_labels in enumerate(space):
        rest = all_labels & ~wide[axis]
        for trial in (rest, *_singles(rest)):
            tried = (*wide[:axis], wide[axis] | trial, *wide[axis + 1 :])
            if not any(meet(tried, box) for box in boxes):
                wide[axis] |= trial
    return tuple(wide)


class _Search:
    """Cuts the space axis by axis; remembers what is known to be covered by which boxes."""

    def __init__(self, space: Box, boxes: Sequence[Box]) -> None:
        self.space, self.boxes = space, boxes
        self.covered: set[tuple[int, int]] = set()
        # full[axis]: the boxes that leave out nothing from this axis on
        self.full = [0] * (len(space) + 1)
        for index, box in enumerate(boxes):
            for axis in range(len(space), -1, -1):
                if axis < len(space) and box[axis] != space[axis]:
                    break
                self.full[axis] |= 1 << index

    def gap(self, axis: int, alive: int) -> Box | None:
        if not alive:
            return self.space[axis:]
        if alive & self.full[axis] or (axis, alive) in self.covered:
            return None
        groups: dict[int, int] = {}  # boxes still alive -> labels that leave them alive
        for label in _singles(self.space[axis]):
            left = sum(1 << i for i in _indexes(alive) if self.boxes[i][axis] & label)
            groups[left] = groups.get(left, 0) | label
        for left, labels in groups.items():
            found = self.gap(axis + 1, left)
            if found is not None:
                return (labels, *found)
        self.covered.add((axis, alive))
        return None


def _singles(bits: int) -> list[int]:
    return [1 << index for index in _indexes(bits)]


def _indexes(bits: int) -> list[int]:
    return [index for index in range(bits.bit_length()) if bits >> index & 1]
