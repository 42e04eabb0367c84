"""The plain evaluator for many lots: what rules hold is read off the columns of a table, not off its rows."""

from __future__ import annotations

from coldspell.rules.model import Decision

Column = dict[str, int]


class ColumnEngine:
    """Keeps for each label of a column which rules hold with it, a bit for each; a lot ands its columns.

    It costs some milliseconds when a decision is first asked, and a hundredth of the rows afterwards. Any
    number of threads may share one: two that prepare the same decision write the same columns.
    """

    name = "plain"

    def __init__(self) -> None:
        self._kept: dict[int, tuple[Decision, list[Column]]] = {}

    def matching(self, decision: Decision, labels: tuple[str, ...]) -> tuple[int, ...]:
        """The indexes of all rules that hold, in file order."""
        kept = self._kept.get(id(decision))
        if kept is None:  # the decision is kept, so its id stays its own
            kept = self._kept[id(decision)] = (decision, columns(decision))
        held = (1 << len(decision.rules)) - 1
        for column, label in zip(kept[1], labels, strict=True):
            held &= column[label]
        found = []
        while held:
            found.append((held & -held).bit_length() - 1)
            held &= held - 1
        return tuple(found)


def columns(decision: Decision) -> list[Column]:
    """For each axis: by label, a bit for each rule that holds with it."""
    free = [set(range(len(decision.rules))) for _ in decision.axes]
    found = [dict.fromkeys(axis.labels, 0) for axis in decision.axes]
    place = {axis.fact: i for i, axis in enumerate(decision.axes)}
    for index, rule in enumerate(decision.rules):
        for condition in rule.when:
            at = place[condition.fact]
            free[at].discard(index)
            for label in condition.labels:
                found[at][label] |= 1 << index
    for column, every in zip(found, free, strict=True):
        bits = sum(1 << index for index in every)
        for label in column:
            column[label] |= bits
    return found
