"""Both engines agree on every label class and on random lots, and with an evaluator that shares no code.

By default classes and lots are sampled; ``COLDSPELL_FULL=1`` runs all classes and 100,000 lots.
"""

from __future__ import annotations

import itertools
import os
import random
from collections.abc import Iterator

import pytest
from rules_lots import GOOD, SHIPPED, limits, outcome, random_lot
from rules_oracle import ImpossibleRowError, Oracle

from coldspell.rules import Decision, PlainEngine, RuleBook, Session, load_rules

FULL = os.environ.get("COLDSPELL_FULL") == "1"
LOTS = 100_000 if FULL else 1_000
CLASSES = 2_000
FOLDERS = [path for path in (GOOD, SHIPPED) if any(path.glob("*.yaml"))]

durable = pytest.importorskip(
    "coldspell.rules.durable", reason="the C module is not built here", exc_type=ImportError
)


@pytest.fixture(params=FOLDERS, ids=lambda path: path.name, scope="module")
def book(request: pytest.FixtureRequest) -> RuleBook:
    return load_rules([request.param])


def classes(decision: Decision) -> Iterator[tuple[str, ...]]:
    """Every tuple of labels, or every n-th where there are too many for a quick run; ends included."""
    every = itertools.product(*(axis.labels for axis in decision.axes))
    count = 1
    for axis in decision.axes:
        count *= len(axis.labels)
    step = 1 if FULL or count <= CLASSES else count // CLASSES | 1
    return itertools.islice(every, 0, None, step)


def test_engines_agree_on_label_classes(book: RuleBook) -> None:
    plain, other = PlainEngine(), durable.DurableEngine()
    tried = 0
    for decision in book.decisions.values():
        for labels in classes(decision):
            assert other.matching(decision, labels) == plain.matching(decision, labels), (
                decision.name,
                labels,
            )
            tried += 1
    assert tried > 50
    print(f"\n{tried} label classes of {len(book.decisions)} decisions")


@pytest.mark.parametrize("folder", FOLDERS, ids=lambda path: path.name)
def test_engines_and_oracle_agree_on_lots(folder) -> None:  # type: ignore[no-untyped-def]
    book, oracle = load_rules([folder]), Oracle(folder)
    marks = limits(folder)
    sessions = [Session(book, engine, memo=False) for engine in (PlainEngine(), durable.DurableEngine())]
    chance = random.Random(20260501)
    fired, impossible = set(), 0
    for _ in range(LOTS):
        lot = random_lot(book, chance, marks)
        one, two = (outcome(session, lot, skip=()) for session in sessions)
        assert one == two
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
    plain, other = PlainEngine(), durable.DurableEngine()
    for labels in itertools.islice(itertools.product(*(a.labels for a in decision.axes)), 0, None, 97):
        assert other.matching(decision, labels) == plain.matching(decision, labels)
    top = (decision.axes[0].labels[0], decision.axes[1].labels[-1])
    assert len(other.matching(decision, top)) == 199
