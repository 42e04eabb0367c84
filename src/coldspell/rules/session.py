"""Decide lots with one engine: what need not be told apart is evaluated once."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import TYPE_CHECKING

from msgspec import UNSET, Struct, field

from coldspell.errors import InternalFault, Place
from coldspell.rules.engine import Engine
from coldspell.rules.labels import label_of
from coldspell.rules.model import IMPOSSIBLE, NOT_ASKED, Decided, Decision, FactValue, Firing, Rule
from coldspell.rules.tree import Columns, Tree

if TYPE_CHECKING:
    from coldspell.rules.book import RuleBook

Facts = Mapping[str, FactValue]


class _Chosen(Struct, frozen=True):
    """What one tuple of labels comes to, for every lot that has it."""

    rules: tuple[Rule, ...]
    decided: Decided
    """The answer without the values that a lot gave the facts."""
    after: dict[str, FactValue]
    """Of the answer and its fields what later decisions look at."""


class RuleFault(InternalFault):
    """The rules themselves fail for a lot: none, two, or an impossible row holds."""

    def __init__(
        self, what: str, where: Place, decision: str, rules: tuple[str, ...], lot: dict[str, str]
    ) -> None:
        super().__init__(what, where, "Run: coldspell rules check")
        self.place, self.decision, self.rules, self.lot = where, decision, rules, lot


class _Cut(Struct):
    """A decision ready to be asked many times.

    Lots that it need not tell apart are found together by its ``ways``. What the same rules answer is
    one value (``told``).
    """

    table: Decision
    not_asked: _Chosen
    ways: Tree[_Chosen] | Columns[_Chosen] | None = None
    """``None`` before the second lot: for one alone they cost more than to decide it."""
    met: bool = False
    told: dict[tuple[int, ...], _Chosen] = field(default_factory=dict)


class Session:
    """Decides many lots; several threads may share one.

    The trees are plain dictionaries: reads and writes of one key are atomic, and two threads that meet on a
    key write the same value. One is emptied when it holds `limit` nodes, so memory stays flat over any number
    of lots. `memo=False` evaluates every lot anew. `traced=False` leaves the values of facts out of the
    firings, so that lots with the same answer share it: for many lots of which nobody asks why.
    """

    def __init__(
        self,
        book: RuleBook,
        engine: Engine,
        *,
        memo: bool = True,
        limit: int = 10_000,
        traced: bool = True,
    ) -> None:
        self.book, self.engine = book, engine
        self._limit = limit if memo else 0
        self.traced = traced
        self._cuts: dict[str, _Cut] = {}
        self._runs: dict[tuple[frozenset[str] | None, ...], tuple[_Cut, ...]] = {}
        self._needed: dict[str, frozenset[str]] = {}
        self._known = book.facts.keys() | book.decisions.keys() | book.fields.keys()
        self._looked = None if traced else {f for table in book.decisions.values() for f in table.facts}

    def decide(self, decision: str, facts: Facts) -> Decided:
        """What one decision answers for a lot.

        Raises
        ------
        InternalFault
            No such decision; a fact it looks at is missing or outside its declaration; or the rules fail.
        """
        cut = self._cuts.get(decision) or self._prepare(decision)
        chosen = self._find(cut, facts)
        return self._told(cut, chosen, facts) if self.traced else chosen.decided

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
        cuts, values = self._run(skip, only, facts), dict(facts)
        answers: dict[str, Decided] = {}
        for cut in cuts:
            chosen = self._find(cut, values)
            answers[cut.table.name] = self._told(cut, chosen, values) if self.traced else chosen.decided
            values.update(chosen.after)
        return answers

    def needed_for(self, decision: str) -> frozenset[str]:
        """As `RuleBook.needed_for`, found out once."""
        found = self._needed.get(decision)
        if found is None:
            found = self._needed[decision] = self.book.needed_for(decision)
        return found

    def _run(
        self, skip: Collection[str] | None, only: Collection[str] | None, facts: Facts
    ) -> tuple[_Cut, ...]:
        """The decisions of a run, in computed order."""
        key = (None if skip is None else frozenset(skip), None if only is None else frozenset(only))
        found = self._runs.get(key)
        if (found is None or self.traced) and not facts.keys() <= self._known:
            unknown = min(facts.keys() - self._known)
            raise InternalFault(f"no fact is named {unknown!r}", mend="Declare it in facts.yaml.")
        if found is None:
            decisions = self.book.decisions
            names = [n for n in decisions if only is None or n in only]
            names = [n for n in names if (decisions[n].per is None if skip is None else n not in skip)]
            found = self._runs[key] = tuple(self._cuts.get(n) or self._prepare(n) for n in names)
        return found

    def _find(self, cut: _Cut, facts: Facts) -> _Chosen:
        """What a lot comes to: that of the lots which need not be told apart from it, else by its labels."""
        ways = cut.ways
        if ways is None:
            if not (self._limit and cut.met):
                cut.met = True
                return self._cut(cut, facts)
            kind = Columns if cut.table.policy == "collect" else Tree
            ways = cut.ways = kind(cut.table, self._limit)
        if isinstance(ways, Tree):
            return self._by_tree(cut, ways, facts)
        return self._by_columns(cut, ways, facts)

    def _by_columns(self, cut: _Cut, ways: Columns[_Chosen], facts: Facts) -> _Chosen:
        try:
            held = ways.held(facts)
        except (KeyError, InternalFault):  # of no matter where the decision is not asked at all
            return self._cut(cut, facts)
        found = ways.get(held)
        if found is None:
            ways.keep(held, found := self._cut(cut, facts))
        return found

    def _by_tree(self, cut: _Cut, tree: Tree[_Chosen], facts: Facts) -> _Chosen:
        node = tree.root
        try:
            while node.fact is not None:
                value = facts[node.fact]
                if node.read is not None:
                    value = node.read(value)
                node = node.to.get(value) or tree.grow(node, value)
        except KeyError:
            raise _missing(cut.table, facts) from None
        if node.found is UNSET:
            node.found = self._cut(cut, facts)
        return node.found

    def _cut(self, cut: _Cut, facts: Facts) -> _Chosen:
        """What facts come to by their labels."""
        table = cut.table
        try:
            for axis, condition in zip(table.gates, table.applies, strict=True):
                if label_of(axis, facts[axis.fact]) not in condition.labels:
                    return cut.not_asked
            labels = tuple([label_of(axis, facts[axis.fact]) for axis in table.axes])
        except KeyError:
            raise _missing(table, facts) from None
        held = pick(table, labels, self.engine.matching(table, labels))
        chosen = cut.told.get(held) or self._chosen(table, held)
        if self._limit:
            if len(cut.told) >= self._limit:
                cut.told.clear()
            cut.told[held] = chosen
        return chosen

    def _told(self, cut: _Cut, chosen: _Chosen, facts: Facts) -> Decided:
        """The answer to one lot."""
        if not (self.traced and chosen.rules):
            return chosen.decided
        firings = tuple([_firing(cut.table, rule, facts) for rule in chosen.rules])
        return Decided(cut.table.name, True, chosen.decided.answers, firings)

    def _prepare(self, decision: str) -> _Cut:
        table = self.book.decisions.get(decision)
        if table is None:
            raise InternalFault(f"no decision is named {decision!r}")
        # two threads may both come here; setdefault lets one of the two equal tables stay
        return self._cuts.setdefault(decision, _Cut(table, self._chosen(table, None)))

    def _chosen(self, table: Decision, held: tuple[int, ...] | None) -> _Chosen:
        """What the rules that held come to; ``None``: the decision was not asked."""
        rules = tuple(table.rules[index] for index in held or ())
        answers = tuple(dict.fromkeys(rule.answer for rule in rules))
        firings = tuple(_firing(table, rule, None) for rule in rules)
        decided = Decided(table.name, held is not None, answers, firings)
        after = {} if table.policy == "collect" else as_facts(table, decided)
        if self._looked is not None:
            after = {fact: value for fact, value in after.items() if fact in self._looked}
        return _Chosen(rules, decided, after)


def _missing(table: Decision, facts: Facts) -> InternalFault:
    fact = next(axis.fact for axis in (*table.gates, *table.axes) if axis.fact not in facts)
    return InternalFault(f"the fact {fact!r} is missing for the decision {table.name!r}", table.place)


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


def _firing(table: Decision, rule: Rule, facts: Facts | None) -> Firing:
    tested = {} if facts is None else {condition.fact: facts[condition.fact] for condition in rule.when}
    answer = table.answers[rule.answer]
    says = rule.text or answer.says
    return Firing(table.name, rule.name, rule.answer, tested, rule.because, says, answer.fields, rule.cites)
