"""The one thing an engine does: say which rules of a decision hold for a tuple of labels."""

from __future__ import annotations

from typing import Protocol

from coldspell.rules.model import Decision
from coldspell.rules.plain import PlainEngine


class Engine(Protocol):
    """Finds the rules that hold, from labels only; what it keeps between calls never changes an answer."""

    @property
    def name(self) -> str:
        """For notes: ``durable-rules`` or ``plain``."""
        ...

    def matching(self, decision: Decision, labels: tuple[str, ...]) -> tuple[int, ...]:
        """The indexes of all rules that hold, in file order; `labels` are those of `decision.axes`."""
        ...


def best_engine() -> tuple[Engine, str | None]:
    """The C engine where it can be loaded, else the plain one with a note that says so."""
    try:
        from coldspell.rules.durable import DurableEngine
    except ImportError as error:
        return (
            PlainEngine(),
            f"The durable-rules module does not load here ({error}); rules ran in plain Python.",
        )
    return DurableEngine(), None
