"""Both engines agree on every label class, and on random lots each with an evaluator that shares no code.

By default classes and lots are sampled; ``COLDSPELL_FULL=1`` runs all classes and 100,000 lots. A `collect`
table with many facts has more classes than anyone can run (`notes`: see the printed figures). An engine is
asked which rules hold, each by its own conditions; so beside a sample of the whole classes, each rule is met
and its facts are then changed one at a time, through all their labels, with labels drawn at random for the
facts that it does not test. A full run takes the facts of each rule through all labels together.
"""

from __future__ import annotations

import itertools
import math
import os
import random
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from msgspec.structs import replace
from rules_lots import GOOD, SHIPPED, book_of, limits, outcome, random_lot
from rules_oracle import ImpossibleRowError, Oracle

from coldspell.rules import Decision, RuleBook, Session, load_rules
from coldspell.rules.engine import ColumnEngine, Engine
from coldspell.rules.model import Rules
from coldspell.rules.plain import PlainEngine

pytestmark = pytest.mark.long

FULL = os.environ.get("COLDSPELL_FULL") == "1"
LOTS = 100_000 if FULL else 500
CLASSES = 2_000 if FULL else 400
MOST = 5_000_000  # classes of one table that a full run goes through
PUBLISHED = SHIPPED.parent / "docs" / "schemas" / "lot-1.json"
FOLDERS = [path for path in (GOOD, SHIPPED) if any(path.glob("*.yaml"))]


def compiled() -> Engine:
    """The compiled engine; what compares it is skipped where it is not built."""
    durable = pytest.importorskip(
        "coldspell.rules.durable", reason="the C module is not built here", exc_type=ImportError
    )
    engine: Engine = durable.DurableEngine()
    return engine


@pytest.fixture(params=FOLDERS, ids=lambda path: path.name, scope="module")
def book(request: pytest.FixtureRequest) -> RuleBook:
    return book_of(request.param)


def size(decision: Decision) -> int:
    """How many tuples of labels there are."""
    return math.prod(len(axis.labels) for axis in decision.axes)


def classes(decision: Decision) -> Iterator[tuple[str, ...]]:
    """Every tuple of labels; some of them, drawn evenly, where there are too many for the run."""
    labels, count = [axis.labels for axis in decision.axes], size(decision)
    if count <= (MOST if FULL else CLASSES):
        yield from itertools.product(*labels)
        return
    chance = random.Random(count)
    for _ in range(MOST // 100 if FULL else CLASSES):
        yield tuple(chance.choice(own) for own in labels)


def classes_of_rules(decision: Decision) -> Iterator[tuple[str, ...]]:
    """For each rule labels that meet it, and each of its facts through all labels; the others are drawn."""
    chance = random.Random(7)
    for rule in decision.rules:
        own = {condition.fact: condition.labels for condition in rule.when}
        every = [axis.labels if axis.fact in own else (chance.choice(axis.labels),) for axis in decision.axes]
        if FULL and math.prod(map(len, every)) <= 5 * CLASSES:  # a rule of eight facts has some thousands
            yield from itertools.product(*every)
            continue
        meets = tuple(chance.choice(own.get(axis.fact, axis.labels)) for axis in decision.axes)
        yield meets
        for at, axis in enumerate(decision.axes):
            if axis.fact in own:
                yield from ((*meets[:at], label, *meets[at + 1 :]) for label in axis.labels)


def test_engines_agree_on_label_classes(book: RuleBook) -> None:
    plain, other, columns = PlainEngine(), compiled(), ColumnEngine()
    tried, sampled = 0, []
    for decision in book.decisions.values():
        for labels in itertools.chain(classes(decision), classes_of_rules(decision)):
            held = plain.matching(decision, labels)
            assert other.matching(decision, labels) == held, (decision.name, labels)
            assert columns.matching(decision, labels) == held, (decision.name, labels)
            tried += 1
        if size(decision) > (MOST if FULL else CLASSES):
            sampled.append(f"{decision.name} ({size(decision):.1e} classes)")
    assert tried > 50
    print(f"\n{tried} label classes of {len(book.decisions)} decisions; sampled: {', '.join(sampled)}")


def test_classes_of_every_rule_meet_it_and_miss_it(book: RuleBook) -> None:
    """The sampling above has teeth: each rule that tests anything holds in some class, and fails in some."""
    plain = PlainEngine()
    for decision in book.decisions.values():
        met: dict[int, set[bool]] = {n: set() for n, rule in enumerate(decision.rules) if rule.when}
        for labels in itertools.chain(classes(decision), classes_of_rules(decision)):
            held = plain.matching(decision, labels)
            for index, seen in met.items():
                seen.add(index in held)
        assert all(seen == {True, False} for seen in met.values()), decision.name


def test_a_rule_that_forgets_one_label_is_noticed(book: RuleBook) -> None:
    chance = random.Random(11)
    plain = PlainEngine()
    for decision in book.decisions.values():
        tests = [(n, m) for n, rule in enumerate(decision.rules) for m, _ in enumerate(rule.when)]
        if not tests:
            continue
        at, which = chance.choice(tests)
        rule = decision.rules[at]
        when = list(rule.when)
        when[which] = replace(when[which], labels=when[which].labels[1:])
        rules = [*decision.rules]
        rules[at] = replace(rule, when=tuple(when))
        broken = replace(decision, rules=Rules(rules))
        tried = (plain.matching(decision, c) != plain.matching(broken, c) for c in classes_of_rules(decision))
        assert any(tried), (decision.name, rule.name)


@pytest.mark.parametrize("made", [PlainEngine, compiled], ids=["plain", "compiled"])
@pytest.mark.parametrize("folder", FOLDERS, ids=lambda path: path.name)
def test_engine_and_oracle_agree_on_lots(folder: Path, made: Callable[[], Engine]) -> None:
    engine = made()
    book, oracle = book_of(folder), Oracle(folder, PUBLISHED if folder == SHIPPED else None)
    marks = limits(folder)
    session = Session(book, engine, memo=False)
    chance = random.Random(20260501)
    fired, impossible = set(), 0
    for _ in range(LOTS):
        lot = random_lot(book, chance, marks)
        one = outcome(session, lot, skip=())
        try:
            expected = oracle.run(lot)
        except ImpossibleRowError:
            expected = None
        assert (expected is None) == isinstance(one, tuple), (one, lot)
        impossible += expected is None
        for name, answer in (expected or {}).items():
            decided = one[name]
            if answer is None:
                assert not decided.applies, (name, lot)
                continue
            rules, answers = answer
            assert [f.rule for f in decided.firings] == rules, (name, lot)
            assert list(decided.answers) == list(dict.fromkeys(answers)), (name, lot)
            fired |= {(name, rule) for rule in rules}
    assert impossible < LOTS / 2
    print(f"\n{LOTS} lots ({impossible} end in an impossible row), {len(fired)} rules fired")


def test_a_decision_of_many_rules_takes_several_rulesets(tmp_path) -> None:  # type: ignore[no-untyped-def]
    """More rules than one ruleset of the C module can hold pending at once (64)."""
    values = [f"v{n}" for n in range(200)]
    (tmp_path / "facts.yaml").write_text(
        "facts:\n- {fact: kind, from: lot, means: Kind., values: [" + ", ".join(values) + "]}\n"
        "- {fact: n, from: lot, means: A number., unit: seeds, bounds: [0, 300]}\n"
    )
    rows = "".join(
        f"- {{rule: r{n}, when: {{kind: not {v}, n: over {n}}}, add: a, because: B., cite: practice}}\n"
        for n, v in enumerate(values)
    )
    (tmp_path / "d.yaml").write_text(
        "decision: d\nasks: Which?\npolicy: collect\ngiven: [kind, n]\nanswers: {a: A.}\nrules:\n" + rows
    )
    decision = load_rules([tmp_path]).decisions["d"]
    plain, other = PlainEngine(), compiled()
    for labels in itertools.islice(itertools.product(*(a.labels for a in decision.axes)), 0, None, 397):
        assert other.matching(decision, labels) == plain.matching(decision, labels)
    top = (decision.axes[0].labels[0], decision.axes[1].labels[-1])
    assert len(other.matching(decision, top)) == 199
