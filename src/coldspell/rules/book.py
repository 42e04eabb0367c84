"""The rule book: all facts and decisions, and what they answer for a lot."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass

from coldspell.errors import InternalFault, Place
from coldspell.rules.axes import label_of
from coldspell.rules.engine import Engine
from coldspell.rules.model import (
    IMPOSSIBLE,
    NOT_ASKED,
    Condition,
    Decided,
    Decision,
    Fact,
    FactValue,
    Failed,
    Firing,
    Near,
    Rule,
)

Facts = Mapping[str, FactValue]


class RuleFault(InternalFault):
    """The rules themselves fail for a lot: none, two, or an impossible row holds."""

    def __init__(
        self, what: str, where: Place, decision: str, rules: tuple[str, ...], lot: dict[str, str]
    ) -> None:
        super().__init__(what, where, "Run: coldspell rules check")
        self.place, self.decision, self.rules, self.lot = where, decision, rules, lot


@dataclass(frozen=True, slots=True)
class RuleBook:
    """Facts and decisions, the latter in an order in which they can be computed."""

    facts: dict[str, Fact]
    decisions: dict[str, Decision]

    def decide(self, decision: str, facts: Facts, engine: Engine) -> Decided:
        """What one decision answers, evaluated anew (no memo).

        Raises
        ------
        InternalFault
            A fact that the decision looks at is missing or outside its declaration, or the rules fail.
        """
        return Session(self, engine, memo=False).decide(decision, facts)

    def run(
        self,
        facts: Facts,
        engine: Engine,
        skip: Collection[str] | None = None,
        only: Collection[str] | None = None,
    ) -> dict[str, Decided]:
        """All decisions in order, answers becoming facts for later ones (no memo); see `Session.run`."""
        return Session(self, engine, memo=False).run(facts, skip, only)

    def why_not(self, decision: str, answer: str, facts: Facts) -> list[Near]:
        """For each rule with that answer: the conditions that failed and what they would need.

        Facts must hold the earlier answers too. A shut gate is reported once, with an empty rule name.
        """
        table = self.decisions[decision]
        shut = _failed(table.applies, table, facts, gates=True)
        if shut:
            return [Near(decision, "", answer, shut)]
        near = []
        for index, rule in enumerate(table.rules):
            if rule.answer != answer:
                continue
            behind = None
            if table.policy == "first":
                behind = next(
                    (r.name for r in table.rules[:index] if not _failed(r.when, table, facts)), None
                )
            near.append(Near(decision, rule.name, answer, _failed(rule.when, table, facts), behind))
        return near

    def rule(self, decision: str, rule: str) -> Rule:
        """One rule by name."""
        return next(r for r in self.decisions[decision].rules if r.name == rule)


class Session:
    """Decides many lots with one engine; each distinct tuple of labels is evaluated once.

    The memo is a plain dictionary: reads and writes of one key are atomic, and two threads that meet on a key
    write the same value. It is emptied when full, so memory stays flat over any number of lots.
    """

    def __init__(self, book: RuleBook, engine: Engine, *, memo: bool = True, limit: int = 50_000) -> None:
        self.book, self.engine = book, engine
        self._limit = limit if memo else 0
        self._memo: dict[tuple[str, tuple[str, ...]], tuple[int, ...]] = {}

    def decide(self, decision: str, facts: Facts) -> Decided:
        """What one decision answers for a lot."""
        table = self.book.decisions.get(decision)
        if table is None:
            raise InternalFault(f"no decision is named {decision!r}")
        if not all(
            label_of(axis, _value(table, axis.fact, facts)) in condition.labels
            for axis, condition in zip(table.gates, table.applies, strict=True)
        ):
            return Decided(decision, False, (), ())
        labels = tuple(label_of(axis, _value(table, axis.fact, facts)) for axis in table.axes)
        rules = self._chosen(table, labels)
        firings = tuple(_firing(table, rule, facts) for rule in rules)
        return Decided(decision, True, tuple(dict.fromkeys(rule.answer for rule in rules)), firings)

    def run(
        self, facts: Facts, skip: Collection[str] | None = None, only: Collection[str] | None = None
    ) -> dict[str, Decided]:
        """All decisions in computed order, each answer becoming a fact for the later ones.

        Parameters
        ----------
        facts
            Values of all facts that are looked at; may hold answers of decisions that are left out.
        skip
            Decisions to leave out; those decided `per: candidate` when not given.
        only
            Where given, every other decision is left out.
        """
        book = self.book
        unknown = facts.keys() - book.facts.keys() - book.decisions.keys()
        if unknown:
            raise InternalFault(f"no fact is named {min(unknown)!r}", mend="Declare it in facts.yaml.")
        values = dict(facts)
        answers: dict[str, Decided] = {}
        for name, table in book.decisions.items():
            left_out = table.per is not None if skip is None else name in skip
            if left_out or (only is not None and name not in only):
                continue
            answers[name] = decided = self.decide(name, values)
            if table.policy != "collect":
                values[name] = decided.answer if decided.applies else NOT_ASKED
        return answers

    def _chosen(self, table: Decision, labels: tuple[str, ...]) -> list[Rule]:
        key = (table.name, labels)
        indexes = self._memo.get(key)
        if indexes is None:
            indexes = pick(table, labels, self.engine.matching(table, labels))
            if self._limit:
                if len(self._memo) >= self._limit:
                    self._memo.clear()
                self._memo[key] = indexes
        return [table.rules[index] for index in indexes]


def pick(table: Decision, labels: tuple[str, ...], held: tuple[int, ...]) -> tuple[int, ...]:
    """The rules that answer, out of those that hold, by the policy of the decision.

    Raises
    ------
    RuleFault
        No rule or more than one holds where exactly one must, or the row says that it cannot be reached.
    """
    chosen = held[:1] if table.policy == "first" else held
    names = tuple(table.rules[i].name for i in chosen)
    lot = dict(zip(table.given, labels, strict=True))
    told = ", ".join(f"{fact}: {label}" for fact, label in lot.items())
    if table.policy != "collect" and len(chosen) != 1:
        which = f"{len(chosen)} rules hold ({'; '.join(names)})" if chosen else "no rule holds"
        raise RuleFault(f"{table.name}: {which} for {told}", table.place, table.name, names, lot)
    for index in chosen:
        if table.rules[index].answer == IMPOSSIBLE:
            rule = table.rules[index]
            raise RuleFault(
                f"{table.name}: the impossible row {rule.name!r} was reached by {told}",
                rule.place,
                table.name,
                names,
                lot,
            )
    return chosen


def _value(table: Decision, fact: str, facts: Facts) -> FactValue:
    try:
        return facts[fact]
    except KeyError:
        raise InternalFault(
            f"the fact {fact!r} is missing for the decision {table.name!r}", table.place
        ) from None


def _firing(table: Decision, rule: Rule, facts: Facts) -> Firing:
    tested = {condition.fact: facts[condition.fact] for condition in rule.when}
    return Firing(table.name, rule.name, rule.answer, tested, rule.because, rule.text, rule.cites)


def _failed(
    conditions: tuple[Condition, ...], table: Decision, facts: Facts, *, gates: bool = False
) -> tuple[Failed, ...]:
    axes = {axis.fact: axis for axis in (table.gates if gates else table.axes)}
    failed = []
    for condition in conditions:
        value = _value(table, condition.fact, facts)
        if label_of(axes[condition.fact], value) not in condition.labels:
            failed.append(Failed(condition.fact, value, condition.words))
    return tuple(failed)
