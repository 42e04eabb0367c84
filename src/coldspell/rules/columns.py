"""The plain evaluator for answers: what rules hold is read off the columns of a table, not off its rows."""

from __future__ import annotations

from coldspell.rules.model import Decision


class ColumnEngine:
    """Ands the columns of a lot: for each label they say which rules hold with it, a bit for each.

    No state, so any number of threads may share one.
    """

    name = "plain"

    def matching(self, decision: Decision, labels: tuple[str, ...]) -> tuple[int, ...]:
        """The indexes of all rules that hold, in file order."""
        held = (1 << len(decision.rules)) - 1
        for axis, label in zip(decision.axes, labels, strict=True):
            held &= int.from_bytes(axis.holds[axis.labels.index(label)], "big")
        found = []
        while held:
            found.append((held & -held).bit_length() - 1)
            held &= held - 1
        return tuple(found)
