"""Decide lots with one engine: cut each fact into its label, evaluate every distinct tuple of labels once."""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Callable, Collection, Mapping, Sequence
from operator import itemgetter
from typing import TYPE_CHECKING

from msgspec import Struct, field
from msgspec.structs import replace

from coldspell.errors import InternalFault, Place
from coldspell.rules.engine import Engine
from coldspell.rules.labels import label_of, labeller
from coldspell.rules.model import IMPOSSIBLE, NOT_ASKED, Axis, Decided, Decision, FactValue, Firing, Rule

if TYPE_CHECKING:
    from coldspell.rules.book import RuleBook

Facts = Mapping[str, FactValue]
Labeller = Callable[[FactValue], str]


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


class _Cut(Struct, frozen=True):
    """A decision ready to be asked many times.

    A lot is known again by its words as they are and its numbers as cells (``met``): that is cheaper to look
    up than the labels of all facts (``memo``), which say which lots are evaluated together. What the same
    rules answer is one value (``told``; ``held`` by the bits of ``columns``).
    """

    table: Decision
    columns: list[tuple[int, dict[FactValue, int]]] | None
    """Where each fact stands in a key, and the rules that hold with each of its words or cells, as bits.

    ``None`` for few lots: to make them takes longer than to decide one.
    """
    words: Callable[[Facts], tuple[FactValue, ...]]
    numbers: list[tuple[str, Labeller]]
    looked: Callable[[Facts], tuple[FactValue, ...]]
    """Words and numbers of facts whose numbers are cells already."""
    not_asked: _Chosen
    memo: dict[tuple[str, ...], _Chosen] = field(default_factory=dict)
    met: dict[tuple[FactValue, ...], _Chosen] = field(default_factory=dict)
    told: dict[tuple[int, ...], _Chosen] = field(default_factory=dict)
    held: dict[int, _Chosen] = field(default_factory=dict)


class Session:
    """Decides many lots; several threads may share one.

    The memo is a plain dictionary for each decision: reads and writes of one key are atomic, and two threads
    that meet on a key write the same value. It is emptied when it holds `limit` tuples, so memory stays flat
    over any number of lots. `memo=False` evaluates every lot anew. `traced=False` leaves the values of facts
    out of the firings, so that lots with the same answer share it: for many lots of which nobody asks why.
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
        self._runs: dict[tuple[frozenset[str] | None, ...], tuple[tuple[_Cut, ...], dict[str, Labeller]]] = {}
        self._needed: dict[str, frozenset[str]] = {}
        self._known = book.facts.keys() | book.decisions.keys() | book.fields.keys()
        self._cells: dict[str, Labeller] = {}
        self._looked = None if traced else {f for table in book.decisions.values() for f in table.facts}

    def decide(self, decision: str, facts: Facts) -> Decided:
        """What one decision answers for a lot.

        Raises
        ------
        InternalFault
            No such decision; a fact it looks at is missing or outside its declaration; or the rules fail.
        """
        cut = self._cuts.get(decision) or self._prepare(decision)
        try:
            key = cut.words(facts)
            if cut.numbers:
                key = (*key, *[cell(facts[fact]) for fact, cell in cut.numbers])
            chosen = cut.met.get(key)
        except (KeyError, InternalFault):  # of no matter where the decision is not asked at all
            key, chosen = None, None
        chosen = chosen or self._meet(cut, key, {}, facts)
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
        cuts, numbers = self._run(skip, only, facts)
        values, seen = dict(facts) if self.traced else {}, _seen(facts, numbers)
        answers: dict[str, Decided] = {}
        for cut in cuts:
            try:
                key = cut.looked(seen)
                chosen = cut.met.get(key)
            except KeyError:  # of no matter where the decision is not asked at all
                key, chosen = None, None
            if chosen is None:
                chosen = self._meet(cut, key, seen, facts)
            seen.update(chosen.after)
            if self.traced:
                answers[cut.table.name] = self._told(cut, chosen, values)
                values.update(chosen.after)
            else:
                answers[cut.table.name] = chosen.decided
        return answers

    def needed_for(self, decision: str) -> frozenset[str]:
        """As `RuleBook.needed_for`, found out once."""
        found = self._needed.get(decision)
        if found is None:
            found = self._needed[decision] = self.book.needed_for(decision)
        return found

    def _run(
        self, skip: Collection[str] | None, only: Collection[str] | None, facts: Facts
    ) -> tuple[tuple[_Cut, ...], dict[str, Labeller]]:
        """The decisions of a run, in computed order, and the numbers that they look at."""
        key = (None if skip is None else frozenset(skip), None if only is None else frozenset(only))
        found = self._runs.get(key)
        if (found is None or self.traced) and not facts.keys() <= self._known:
            unknown = min(facts.keys() - self._known)
            raise InternalFault(f"no fact is named {unknown!r}", mend="Declare it in facts.yaml.")
        if found is None:
            decisions = self.book.decisions
            names = [n for n in decisions if only is None or n in only]
            names = [n for n in names if (decisions[n].per is None if skip is None else n not in skip)]
            cuts = tuple(self._cuts.get(n) or self._prepare(n) for n in names)
            found = self._runs[key] = cuts, dict(pair for cut in cuts for pair in cut.numbers)
        return found

    def _meet(self, cut: _Cut, key: tuple[FactValue, ...] | None, seen: Facts, facts: Facts) -> _Chosen:
        """What facts come to that were not met before; remembered by their key.

        ``seen`` are answers of the same run, ``facts`` the numbers as they are.
        """
        held = None if key is None else _held(cut, key)
        found = None if held is None else cut.held.get(held)
        if found is None:
            found = self._cut(cut, {**seen, **facts})
            if self._limit and held is not None:
                if len(cut.held) >= self._limit:
                    cut.held.clear()
                cut.held[held] = found
        if self._limit and key is not None and {*map(type, key)} <= _WORDS:  # 1 and True would be one key
            if len(cut.met) >= self._limit:
                cut.met.clear()
            cut.met[key] = found
        return found

    def _cut(self, cut: _Cut, facts: Facts) -> _Chosen:
        """What facts come to by their labels."""
        try:
            table = cut.table
            for axis, condition in zip(table.gates, table.applies, strict=True):
                if label_of(axis, facts[axis.fact]) not in condition.labels:
                    return cut.not_asked
            labels = tuple([label_of(axis, facts[axis.fact]) for axis in table.axes])
        except KeyError as error:
            what = f"the fact {error.args[0]!r} is missing for the decision {cut.table.name!r}"
            raise InternalFault(what, cut.table.place) from None
        return cut.memo.get(labels) or self._choose(cut, labels)

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
        looked = {axis.fact: axis for axis in (*table.gates, *table.axes)}
        words = [fact for fact, axis in looked.items() if axis.bounds is None]
        numbers = [(fact, self._cell(axis)) for fact, axis in looked.items() if axis.bounds is not None]
        order = [*words, *[fact for fact, _ in numbers]]
        columns = None if self.traced else self._columns(table, order)
        every, closed = _looking(order), self._chosen(table, None)
        cut = _Cut(table, columns, _looking(words), numbers, every, closed)
        # two threads may both come here; setdefault lets one of the two equal tables stay
        return self._cuts.setdefault(decision, cut)

    def _cell(self, axis: Axis) -> Labeller:
        """The cell of a number between the cuts that any decision makes."""
        found = self._cells.get(axis.fact)
        if found is None:
            cuts = self.book.cuts[axis.fact]
            cells = tuple(map(str, range(len(cuts) + 2)))  # the last one: unknown
            found = self._cells[axis.fact] = labeller(replace(axis, cuts=cuts, classes=cells))
        return found

    def _labels(self, axis: Axis) -> dict[FactValue, str]:
        """The label of each word, or of each cell between the cuts of any decision."""
        if axis.bounds is None:
            return dict(zip(axis.atoms, axis.classes, strict=True))
        ends = (*self.book.cuts[axis.fact], math.inf)
        found: dict[FactValue, str] = {
            str(i): axis.classes[bisect_left(axis.cuts, end)] for i, end in enumerate(ends)
        }
        return {**found, str(len(ends)): axis.classes[-1]} if axis.may_be_unknown else found

    def _columns(self, table: Decision, order: list[str]) -> list[tuple[int, dict[FactValue, int]]]:
        gates = zip(table.gates, table.applies, strict=True)
        return [
            *((order.index(axis.fact), self._opens(axis, condition.labels)) for axis, condition in gates),
            *((order.index(axis.fact), self._holds(axis)) for axis in table.axes),
        ]

    def _opens(self, axis: Axis, allowed: tuple[str, ...]) -> dict[FactValue, int]:
        """All bits for each word or cell of a gate with which a decision is asked, no bit for the others."""
        return {word: -1 if label in allowed else 0 for word, label in self._labels(axis).items()}

    def _holds(self, axis: Axis) -> dict[FactValue, int]:
        """For each word or cell the rules that hold with it, a bit for each; the lowest bit is always set."""
        bits = {
            label: int.from_bytes(holds, "big") << 1 | 1
            for label, holds in zip(axis.labels, axis.holds, strict=True)
        }
        return {word: bits[label] for word, label in self._labels(axis).items()}

    def _choose(self, cut: _Cut, labels: tuple[str, ...]) -> _Chosen:
        table = cut.table
        held = pick(table, labels, self.engine.matching(table, labels))
        chosen = cut.told.get(held) or self._chosen(table, held)
        if self._limit:
            if len(cut.memo) >= self._limit:
                cut.memo.clear()
                cut.told.clear()
            cut.memo[labels] = cut.told[held] = chosen
        return chosen

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


def _held(cut: _Cut, key: tuple[FactValue, ...]) -> int | None:
    """The rules that hold for a key of words and cells as bits; ``None`` where that is not known by them.

    No bit at all is set where the decision is not asked.
    """
    if cut.columns is None:
        return None
    held = -1
    try:
        for at, bits in cut.columns:
            held &= bits[key[at]]
    except KeyError:
        return None
    return held


_WORDS = {str, type(None)}


def _seen(facts: Facts, numbers: Mapping[str, Labeller]) -> dict[str, FactValue]:
    """Facts with numbers as their cells; where one cannot be, it is refused by what asks for it."""
    seen = dict(facts)
    try:
        for fact, cell in numbers.items():
            if fact in facts:
                seen[fact] = cell(facts[fact])
    except InternalFault:
        return dict(facts)
    return seen


def _looking(facts: Sequence[str]) -> Callable[[Facts], tuple[FactValue, ...]]:
    """The values of some facts."""
    if len(facts) > 1:
        return itemgetter(*facts)
    return lambda values: tuple([values[fact] for fact in facts])


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
