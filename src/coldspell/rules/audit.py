"""Prove that the rules leave no gap and do not contradict each other, or show a lot for which they do.

Everything is exact. The space of a decision is made of the labels that can occur: those that `applies`
leaves and, for earlier answers, those that some rule still gives.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass

from coldspell.rules.axes import words_of
from coldspell.rules.book import RuleBook
from coldspell.rules.boxes import Box, first_gap, grown, meet, volume
from coldspell.rules.engine import Engine
from coldspell.rules.findings import Findings, nearest
from coldspell.rules.model import IMPOSSIBLE, NOT_ASKED, Decision, FactValue, Finding
from coldspell.rules.plain import PlainEngine
from coldspell.rules.session import RuleFault, Session

_CHECK_ID = re.compile(r"[a-z0-9]+(-[a-z0-9]+)+\Z")


@dataclass(frozen=True, slots=True)
class Proof:
    """What was looked at for one decision: `cells` is the number of label combinations that are settled."""

    decision: str
    policy: str
    facts: int
    rules: int
    cells: int


@dataclass(frozen=True, slots=True)
class Report:
    """The outcome of an audit; `fired` counts the lots of `combinations` for which each rule held."""

    proofs: tuple[Proof, ...]
    findings: tuple[Finding, ...]
    lots: int
    fired: dict[str, dict[str, int]]


def audit(
    book: RuleBook,
    combinations: Iterable[Mapping[str, FactValue]] | None = None,
    *,
    known_checks: Collection[str] | None = None,
    engine: Engine | None = None,
) -> Report:
    """Every gap, overlap, dead row and unkept guarantee of a rule book.

    Parameters
    ----------
    book
        Rules without errors of form.
    combinations
        Lots that can occur, as values of all facts: run through all decisions to show that no impossible row
        is reached. A decision `per: candidate` is run where its facts are there.
    known_checks
        Ids of library checks that `guaranteed_by` may name; without them any id of that form is taken.
    engine
        Runs the combinations; the plain one when not given.

    Returns
    -------
    Report
        Proofs by decision in computed order and findings by place. Nothing is raised for faulty rules.
    """
    out = Findings()
    reach: dict[str, frozenset[str]] = {}
    proofs = []
    for decision in book.decisions.values():
        proofs.append(_Audit(decision, reach, out).prove())
        _check_guarantees(decision, book, known_checks, out)
    lots, fired = _run(book, combinations or (), engine or PlainEngine(), out)
    return Report(tuple(proofs), tuple(out.ordered()), lots, fired)


class _Audit:
    """One decision as boxes; `reach` holds the answers that earlier decisions can give, and takes its own."""

    def __init__(self, decision: Decision, reach: dict[str, frozenset[str]], out: Findings) -> None:
        self.decision, self.reach, self.out = decision, reach, out
        self.space: Box = tuple(
            sum(
                1 << index
                for index, label in enumerate(axis.labels)
                if label in axis.within
                and any(
                    name == label and (axis.fact not in reach or atom in reach[axis.fact])
                    for atom, name in zip(axis.atoms, axis.classes, strict=True)
                )
            )
            for axis in decision.axes
        )
        self.boxes = [self._box(index) for index in range(len(decision.rules))]

    def prove(self) -> Proof:
        """Note every fault of this decision, and what it can answer."""
        decision = self.decision
        if decision.policy == "unique":
            self._overlaps()
            self._gap()
        live = [index for index in range(len(decision.rules)) if self._is_live(index)]
        answers = {decision.rules[index].answer for index in live}
        for answer in decision.answers:
            if answer not in answers and answer in {rule.answer for rule in decision.rules}:
                self._error("unreachable-answer", f"{answer!r} is never answered: its rules hold for no lot")
        asked = {NOT_ASKED} if decision.applies else set()
        self.reach[decision.name] = frozenset(answers | asked) - {IMPOSSIBLE}
        told = [decision.fields_of(a) for a in answers if a in decision.answers]
        for path in told[0] if told else ():
            self.reach[path] = frozenset({fields[path] for fields in told} | asked)
        return Proof(
            decision.name, decision.policy, len(decision.axes), len(decision.rules), volume(self.space)
        )

    def _box(self, index: int) -> Box:
        wanted = {condition.fact: condition.labels for condition in self.decision.rules[index].when}
        return tuple(
            sum(1 << n for n, label in enumerate(axis.labels) if label in wanted.get(axis.fact, axis.labels))
            for axis in self.decision.axes
        )

    def _overlaps(self) -> None:
        rules = self.decision.rules
        for second, rule in enumerate(rules):
            for first in range(second):
                both = meet(self.boxes[first], self.boxes[second])
                both = meet(both, self.space) if both else None
                if both:
                    self.out.error(
                        rule.place,
                        "overlap",
                        f"{self.decision.name}: {rules[first].name!r} and {rule.name!r} both hold for "
                        f"{self._lot(both)}",
                        "Narrow one of the two.",
                    )

    def _gap(self) -> None:
        gap = first_gap(self.space, self.boxes)
        if gap:
            wide = grown(gap, self.space, self.boxes)
            mend = "Write the rule, or a row that chooses impossible with guaranteed_by."
            self._error("gap", f"no rule holds for {self._lot(wide)}", mend)

    def _is_live(self, index: int) -> bool:
        """Whether a row can ever answer; a dead one is noted."""
        rule, box = self.decision.rules[index], meet(self.boxes[index], self.space)
        earlier = self.boxes[:index] if self.decision.policy == "first" else []
        if box and (not earlier or first_gap(box, earlier)):
            return True
        why = "no lot that can occur meets its conditions"
        if box:
            names = [repr(r.name) for r, b in zip(self.decision.rules, earlier, strict=False) if meet(b, box)]
            why = f"every lot it is for is taken by {', '.join(names)} before it"
        self.out.error(
            rule.place, "dead-row", f"{self.decision.name}: {rule.name!r} never holds: {why}", "Take it out."
        )
        return False

    def _lot(self, box: Box) -> str:
        """A box as a lot a person can read: only the facts that matter."""
        told = []
        for axis, bits, whole in zip(self.decision.axes, box, self.space, strict=True):
            if bits & whole != whole:
                labels = [label for n, label in enumerate(axis.labels) if bits >> n & 1]
                told.append(f"{axis.fact}: {words_of(axis, labels)}")
        return f"a lot with {', '.join(told)}" if told else "every lot"

    def _error(self, check: str, message: str, mend: str = "") -> None:
        self.out.error(self.decision.place, check, f"{self.decision.name}: {message}", mend)


def _check_guarantees(
    decision: Decision, book: RuleBook, known_checks: Collection[str] | None, out: Findings
) -> None:
    names = {*book.decisions, *(rule.name for d in book.decisions.values() for rule in d.rules)}
    names -= {rule.name for rule in decision.rules}
    for rule in decision.rules:
        for name in rule.guaranteed_by:
            kept = name in (names if known_checks is None else {*names, *known_checks})
            if not kept and (known_checks is not None or not _CHECK_ID.match(name)):
                out.error(
                    rule.place,
                    "unguaranteed",
                    f"{decision.name}: {rule.name!r}: no check, decision or rule is named {name!r}",
                    nearest(name, sorted({*names, *(known_checks or ())})),
                )


def _run(
    book: RuleBook, combinations: Iterable[Mapping[str, FactValue]], engine: Engine, out: Findings
) -> tuple[int, dict[str, dict[str, int]]]:
    """Run lots through the book; a fault of the rules is noted once with the first lot that shows it."""
    session = Session(book, engine)
    fired = {d.name: {rule.name: 0 for rule in d.rules} for d in book.decisions.values()}
    faults: dict[tuple[str, tuple[str, ...]], RuleFault] = {}
    lots = 0
    for lots, facts in enumerate(combinations, start=1):  # noqa: B007
        try:
            for decided in session.run(facts, skip=tuple(_without_facts(book, facts))).values():
                for firing in decided.firings:
                    fired[firing.decision][firing.rule] += 1
        except RuleFault as fault:
            shown = faults.setdefault((fault.decision, fault.rules), fault)
            if shown is fault:
                out.error(fault.place, "reached", fault.what, "Mend the rules, or what was to guarantee it.")
    return lots, fired


def _without_facts(book: RuleBook, facts: Mapping[str, FactValue]) -> Iterator[str]:
    for decision in book.decisions.values():
        if decision.per and not all(f in facts or f in book.decisions for f in decision.facts):
            yield decision.name
