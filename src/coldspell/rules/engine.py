"""The one thing an engine does: say which rules of a decision hold for a tuple of labels."""

from __future__ import annotations

from typing import Protocol

from coldspell.rules.model import Decision


class Engine(Protocol):
    """Finds the rules that hold, from labels only; what it keeps between calls never changes an answer."""

    @property
    def name(self) -> str:
        """For notes: ``durable-rules`` or ``plain``."""
        ...

    def matching(self, decision: Decision, labels: tuple[str, ...]) -> tuple[int, ...]:
        """The indexes of all rules that hold, in file order; `labels` are those of `decision.axes`."""
        ...
