"""The one thing an engine does: say which rules of a decision hold for a tuple of labels."""

from __future__ import annotations

from typing import Protocol

from coldspell.rules.model import Decision


class Engine(Protocol):
    """Finds the rules that hold, from labels only; what it keeps between calls never changes an answer."""

    @property
    def name(self) -> str:
        """``durable-rules`` or ``plain``."""
        ...

    def matching(self, decision: Decision, labels: tuple[str, ...]) -> tuple[int, ...]:
        """The indexes of all rules that hold, in file order; `labels` are those of `decision.axes`."""
        ...


class ColumnEngine:
    """The plain evaluator for answers: ands the columns of a table, which say for each label what rules hold.

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


def best_engine() -> Engine:
    """The C engine where it can be loaded, else the plain one: the same answers, as the tests prove."""
    return _durable()[0] or ColumnEngine()


def about_engine() -> str:
    """Which engine runs, for ``--version``: durable-rules, or plain Python and why."""
    engine, why = _durable()
    return engine.name if engine else f"plain Python{why}"


def _durable() -> tuple[Engine | None, str]:
    try:
        import durable_rules_engine  # noqa: F401  (first: without it the adapter is not worth loading)

        from coldspell.rules.durable import DurableEngine
    except ModuleNotFoundError:
        return None, ""
    except Exception as error:  # a broken build: whatever it raises, the rules still run
        return None, f"; durable-rules is installed but does not load (README says what mends it): {error}"
    return DurableEngine(), ""
