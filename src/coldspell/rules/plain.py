"""The plain evaluator, oracle of the other engine: a rule holds when each condition lists the label."""

from __future__ import annotations

from coldspell.rules.model import Decision


class PlainEngine:
    """Reads each row as it stands; no state, so any number of threads may share one."""

    name = "plain"

    def matching(self, decision: Decision, labels: tuple[str, ...]) -> tuple[int, ...]:
        """The indexes of all rules that hold, in file order."""
        lot = dict(zip(decision.given, labels, strict=True))
        return tuple(
            index
            for index, rule in enumerate(decision.rules)
            if all(lot[condition.fact] in condition.labels for condition in rule.when)
        )
