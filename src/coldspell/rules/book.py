"""The rule book: all facts and decisions, and what they answer for a lot."""

# Without postponed annotations: msgspec evaluates those of each class anew at every start.

from collections.abc import Collection

from msgspec import Struct

from coldspell.errors import ColdspellError, InternalFault
from coldspell.rules.engine import Engine
from coldspell.rules.labels import label_of
from coldspell.rules.model import (
    Axis,
    Condition,
    Decided,
    DecisionsByName,
    Fact,
    Failed,
    Field,
    Near,
    Number,
    Rule,
)
from coldspell.rules.session import Facts, Session


class RuleBook(Struct, frozen=True):
    """Facts and decisions, the latter in an order in which they can be computed."""

    facts: dict[str, Fact]
    decisions: DecisionsByName
    fields: dict[str, Field] = {}
    practice: dict[str, Number] = {}
    texts: dict[str, str] = {}

    def decide(self, decision: str, facts: Facts, engine: Engine) -> Decided:
        """What one decision answers, evaluated anew; see `Session.decide`."""
        return Session(self, engine, memo=False).decide(decision, facts)

    def run(
        self,
        facts: Facts,
        engine: Engine,
        skip: Collection[str] | None = None,
        only: Collection[str] | None = None,
    ) -> dict[str, Decided]:
        """All decisions in order, answers becoming facts for later ones; see `Session.run`."""
        return Session(self, engine, memo=False).run(facts, skip, only)

    def why_not(self, decision: str, answer: str, facts: Facts) -> list[Near]:
        """For each rule with that answer: the conditions that failed and what they would need.

        Facts must hold the earlier answers too. A shut gate is reported once, with an empty rule name.
        """
        table = self.decisions[decision]
        shut = _failed(table.applies, table.gates, facts)
        if shut:
            return [Near(decision, "", answer, shut)]
        near = []
        for index, rule in enumerate(table.rules):
            if rule.answer == answer:
                ahead = [*table.rules][:index] if table.policy == "first" else ()
                behind = next((r.name for r in ahead if not _failed(r.when, table.axes, facts)), None)
                near.append(Near(decision, rule.name, answer, _failed(rule.when, table.axes, facts), behind))
        return near

    def needed_for(self, decision: str) -> frozenset[str]:
        """A decision and all that it looks at, directly or through others."""
        needed = {decision}
        for name in reversed(self.decisions):
            if name in needed:
                needed |= {f.partition(".")[0] for f in self.decisions[name].facts} & self.decisions.keys()
        return frozenset(needed)

    def answering(self, answer: str, decision: str = "") -> list[str]:
        """The decisions that can give an answer, in computed order; for ``--why-not``.

        Raises
        ------
        ColdspellError
            No decision, or not the one named, has that answer; the nearest one is offered.
        """
        from coldspell.near import did_you_mean  # only wanted when something is wrong

        if decision and decision not in self.decisions:
            mend = did_you_mean(decision, self.decisions)
            raise ColdspellError(f"no decision is named {decision!r}", mend=mend)
        found = [
            name
            for name, table in self.decisions.items()
            if answer in table.answers and decision in ("", name)
        ]
        if not found:
            tables = [self.decisions[decision]] if decision else list(self.decisions.values())
            known = [word for table in tables for word in table.answers]
            raise ColdspellError(f"no decision has the answer {answer!r}", mend=did_you_mean(answer, known))
        return found

    def rule(self, decision: str, rule: str) -> Rule:
        """One rule by name."""
        return next(r for r in self.decisions[decision].rules if r.name == rule)


def _failed(conditions: tuple[Condition, ...], axes: tuple[Axis, ...], facts: Facts) -> tuple[Failed, ...]:
    cut = {axis.fact: axis for axis in axes}
    failed = []
    for condition in conditions:
        if condition.fact not in facts:
            raise InternalFault(f"the fact {condition.fact!r} is missing")
        value = facts[condition.fact]
        if label_of(cut[condition.fact], value) not in condition.labels:
            failed.append(Failed(condition.fact, value, condition.words))
    return tuple(failed)
