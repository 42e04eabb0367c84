"""Decide lots with one engine: cut each fact into its label, evaluate every distinct tuple of labels once."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from typing import TYPE_CHECKING

from msgspec import Struct, field

from coldspell.errors import InternalFault, Place
from coldspell.rules.engine import Engine
from coldspell.rules.labels import labeller
from coldspell.rules.model import IMPOSSIBLE, NOT_ASKED, Decided, Decision, FactValue, Firing, Rule

if TYPE_CHECKING:
    from coldspell.rules.book import RuleBook

Facts = Mapping[str, FactValue]
Chosen = tuple[tuple[Rule, ...], tuple[str, ...]]  # rules, their answers each once


class RuleFault(InternalFault):
    """The rules themselves fail for a lot: none, two, or an impossible row holds."""

    def __init__(
        self, what: str, where: Place, decision: str, rules: tuple[str, ...], lot: dict[str, str]
    ) -> None:
        super().__init__(what, where, "Run: coldspell rules check")
        self.place, self.decision, self.rules, self.lot = where, decision, rules, lot


class _Cut(Struct, frozen=True):
    """A decision ready to be asked many times."""

    table: Decision
    gates: list[tuple[str, Callable[[FactValue], str], tuple[str, ...]]]
    axes: list[tuple[str, Callable[[FactValue], str]]]
    not_asked: Decided
    memo: dict[tuple[str, ...], Chosen] = field(default_factory=dict)


class Session:
    """Decides many lots; several threads may share one.

    The memo is a plain dictionary for each decision: reads and writes of one key are atomic, and two threads
    that meet on a key write the same value. It is emptied when it holds `limit` tuples, so memory stays flat
    over any number of lots. `memo=False` evaluates every lot anew.
    """

    def __init__(self, book: RuleBook, engine: Engine, *, memo: bool = True, limit: int = 10_000) -> None:
        self.book, self.engine = book, engine
        self._limit = limit if memo else 0
        self._cuts: dict[str, _Cut] = {}

    def decide(self, decision: str, facts: Facts) -> Decided:
        """What one decision answers for a lot.

        Raises
        ------
        InternalFault
            No such decision; a fact it looks at is missing or outside its declaration; or the rules fail.
        """
        cut = self._cuts.get(decision) or self._prepare(decision)
        try:
            for fact, label, allowed in cut.gates:
                if label(facts[fact]) not in allowed:
                    return cut.not_asked
            labels = tuple([label(facts[fact]) for fact, label in cut.axes])
        except KeyError as error:
            what = f"the fact {error.args[0]!r} is missing for the decision {decision!r}"
            raise InternalFault(what, cut.table.place) from None
        rules, answers = cut.memo.get(labels) or self._choose(cut, labels)
        return Decided(decision, True, answers, tuple([_firing(cut.table, rule, facts) for rule in rules]))

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
        unknown = facts.keys() - book.facts.keys() - book.decisions.keys() - book.fields.keys()
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
                values |= as_facts(table, decided)
        return answers

    def _prepare(self, decision: str) -> _Cut:
        table = self.book.decisions.get(decision)
        if table is None:
            raise InternalFault(f"no decision is named {decision!r}")
        gates = [
            (axis.fact, labeller(axis), condition.labels)
            for axis, condition in zip(table.gates, table.applies, strict=True)
        ]
        axes = [(axis.fact, labeller(axis)) for axis in table.axes]
        # two threads may both come here; setdefault lets one of the two equal tables stay
        return self._cuts.setdefault(decision, _Cut(table, gates, axes, Decided(decision, False, (), ())))

    def _choose(self, cut: _Cut, labels: tuple[str, ...]) -> Chosen:
        held = pick(cut.table, labels, self.engine.matching(cut.table, labels))
        rules = tuple(cut.table.rules[index] for index in held)
        chosen = (rules, tuple(dict.fromkeys(rule.answer for rule in rules)))
        if self._limit:
            if len(cut.memo) >= self._limit:
                cut.memo.clear()
            cut.memo[labels] = chosen
        return chosen


def as_facts(table: Decision, decided: Decided) -> dict[str, FactValue]:
    """An answer and its fields as facts for later decisions."""
    if decided.applies and decided.answer is not None:
        return {table.name: decided.answer, **table.fields_of(decided.answer)}
    fields = next(iter(table.answers.values())).fields if table.answers else {}
    return {table.name: NOT_ASKED, **{f"{table.name}.{field}": NOT_ASKED for field in fields}}


def pick(table: Decision, labels: tuple[str, ...], held: tuple[int, ...]) -> tuple[int, ...]:
    """The rules that answer, out of those that hold, by the policy of the decision.

    Raises
    ------
    RuleFault
        No rule or more than one holds where exactly one must, or the row says that it cannot be reached.
    """
    chosen = held[:1] if table.policy == "first" else held
    if table.policy != "collect" and len(chosen) != 1:
        names = "; ".join(table.rules[i].name for i in chosen)
        which = f"{len(chosen)} rules hold ({names})" if chosen else "no rule holds"
        raise _fault(table, labels, chosen, which, table.place)
    for index in chosen:
        rule = table.rules[index]
        if rule.answer == IMPOSSIBLE:
            raise _fault(table, labels, chosen, f"the impossible row {rule.name!r} was reached", rule.place)
    return chosen


def _fault(
    table: Decision, labels: tuple[str, ...], chosen: tuple[int, ...], what: str, where: Place
) -> RuleFault:
    lot = dict(zip(table.given, labels, strict=True))
    told = ", ".join(f"{fact}: {label}" for fact, label in lot.items())
    rules = tuple(table.rules[index].name for index in chosen)
    return RuleFault(f"{table.name}: {what} for a lot with {told}", where, table.name, rules, lot)


def _firing(table: Decision, rule: Rule, facts: Facts) -> Firing:
    tested = {condition.fact: facts[condition.fact] for condition in rule.when}
    answer = table.answers[rule.answer]
    says = rule.text or answer.says
    return Firing(table.name, rule.name, rule.answer, tested, rule.because, says, answer.fields, rule.cites)
