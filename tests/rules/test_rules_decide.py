"""What a decision answers, what it refuses to take, and why a rule did not hold."""

from __future__ import annotations

import math
from typing import Any

import pytest
from rules_lots import GOOD

from coldspell.errors import ColdspellError, InternalFault
from coldspell.rules import Near, RuleBook, Session, load_rules
from coldspell.rules.plain import PlainEngine
from coldspell.rules.table import as_table

LOT: dict[str, Any] = {
    "size": "small", "plant": "shrub", "damp": True, "seeds": 40, "days": 90.0, "share": 0.8, "suits": "yes",
}  # fmt: skip


@pytest.fixture(scope="module")
def book() -> RuleBook:
    return load_rules([GOOD])


def test_answers_become_facts_and_firings_carry_raw_values(book: RuleBook) -> None:
    out = book.run(LOT, PlainEngine())
    assert {n: d.answers for n, d in out.items()} == {
        "minds": (), "route": ("treat",), "medium": ("towel",), "closure": ("loose",), "lid": ("open",),
        "watch": ("weekly",), "hurry": ("no",),
    }  # fmt: skip
    (firing,) = out["medium"].firings
    assert firing.facts == {"size": "small", "seeds": 40, "days": 90.0}
    assert (firing.rule, firing.because) == ("small seed in a towel", "It is not lost.")


def test_fields_of_an_answer_are_facts_of_later_decisions_and_stand_in_firings(book: RuleBook) -> None:
    out = book.run(LOT, PlainEngine())
    assert out["medium"].fields == {"covered": "yes", "litres": "0.4"}
    assert out["watch"].firings[0].facts == {"medium.covered": "yes"}
    shut = book.run({**LOT, "share": 0.25}, PlainEngine())
    assert (shut["watch"].applies, shut["watch"].fields) == (False, None)
    assert shut["hurry"].firings[0].facts == {"medium.covered": "not_asked", "route.lies": "no"}


def test_practice_and_texts_are_read(book: RuleBook) -> None:
    assert {n: (p.value, p.unit) for n, p in book.practice.items()} == {
        "gap_mm": ((25,), "mm"), "layer_mm": ((25, 50), "mm"),
    }  # fmt: skip
    assert [(c.basis, c.source) for p in book.practice.values() for c in p.cites] == [
        ("practice", None), ("recalled", "handbook"),
    ]  # fmt: skip
    assert book.texts == {"asked": "What is it?"}


def test_a_rule_without_cite_is_common_practice(book: RuleBook) -> None:
    assert [(c.basis, c.source) for c in book.rule("watch", "covered").cites] == [("practice", None)]


def test_a_shut_gate_gives_no_answer(book: RuleBook) -> None:
    out = book.run({**LOT, "share": 0.25}, PlainEngine())
    assert (out["medium"].applies, out["medium"].answer, out["medium"].firings) == (False, None, ())
    assert out["lid"].firings[0].facts["medium"] == "not_asked"


def test_collected_answers_stand_once_in_file_order(book: RuleBook) -> None:
    decided = book.decide("minds", {**LOT, "plant": "nut tree", "size": "large", "days": 200}, PlainEngine())
    assert decided.answers == ("mice", "long")
    assert [f.rule for f in decided.firings] == ["nuts draw mice", "large seed draws mice", "long cold"]


@pytest.mark.parametrize(
    ("days", "answer"),
    [(100, "towel"), (100.0, "towel"), (math.nextafter(100, 101), "bag"), (None, "bag"), ("unknown", "bag")],
)
def test_up_to_includes_its_limit(book: RuleBook, days: Any, answer: str) -> None:
    facts = {**LOT, "days": days, "route": "treat"}
    assert book.decide("medium", facts, PlainEngine()).answer == answer


def test_candidates_are_decided_one_by_one(book: RuleBook) -> None:
    assert "treatment" not in book.run(LOT, PlainEngine())
    assert book.decide("treatment", {"suits": False}, PlainEngine()).answer == "refused"
    assert set(book.run(LOT, PlainEngine(), only=("treatment", "route"), skip=())) == {"treatment", "route"}


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"size": "huge"}, "'size' cannot be 'huge'"),
        ({"size": None, "plant": None}, "'plant' cannot be None"),
        ({"seeds": None}, "'seeds' cannot be unknown"),
        ({"seeds": 0}, "'seeds' cannot be 0"),
        ({"days": math.nan}, "'days' cannot be nan"),
        ({"days": math.inf}, "'days' cannot be inf"),
        ({"days": True}, "'days' cannot be True"),
        ({"days": "90"}, "'days' cannot be '90'"),
        ({"damp": 1}, "'damp' cannot be 1"),
        ({"sise": "small"}, "no fact is named 'sise'"),
    ],
)
def test_a_value_that_was_not_declared_is_a_fault(
    book: RuleBook, change: dict[str, Any], message: str
) -> None:
    for session in (Session(book, PlainEngine()), Session(book, PlainEngine(), memo=False)):
        session.run(LOT)
        with pytest.raises(InternalFault, match=message):
            session.run({**LOT, **change})


def test_a_missing_fact_is_a_fault(book: RuleBook) -> None:
    with pytest.raises(InternalFault, match=r"'share' is missing for the decision 'route'"):
        book.run({k: v for k, v in LOT.items() if k != "share"}, PlainEngine())
    with pytest.raises(InternalFault, match="no decision is named 'rout'"):
        book.decide("rout", LOT, PlainEngine())


def why(book: RuleBook, decision: str, answer: str, **change: Any) -> list[Near]:
    facts = {**LOT, **change}
    for name, decided in book.run(facts, PlainEngine()).items():
        facts.setdefault(name, decided.answer if decided.applies else "not_asked")
    return book.why_not(decision, answer, facts)


def test_why_not_names_the_conditions_that_failed(book: RuleBook) -> None:
    (near,) = why(book, "medium", "towel", days=120.0, seeds=900)
    assert [(f.fact, f.value, f.needs) for f in near.failed] == [
        ("seeds", 900, "up to 500"),
        ("days", 120.0, "up to 100"),
    ]
    (held,) = why(book, "medium", "towel")
    assert held.held


def test_why_not_names_a_shut_gate_and_the_rule_that_came_first(book: RuleBook) -> None:
    (shut,) = why(book, "medium", "towel", share=0.1)
    assert (shut.rule, shut.failed[0].fact, shut.failed[0].value) == ("", "route", "test")
    (near,) = why(book, "route", "sow", share=0.1, days=None)
    assert (near.failed, near.behind, near.held) == ((), "too little sound seed", False)


def test_an_answer_leads_to_its_decisions(book: RuleBook) -> None:
    assert book.answering("towel") == ["medium"]
    with pytest.raises(ColdspellError, match="no decision has the answer 'towl'") as caught:
        book.answering("towl")
    assert caught.value.mend == "Did you mean 'towel'?"


def test_a_decision_prints_as_its_table(book: RuleBook) -> None:
    table = as_table(book.decisions["medium"])
    assert table.head == ("rule", "size", "seeds", "days", "answer")
    assert table.lines[1] == (
        "small seed too long for a towel", "small", "up to 500", "over 100 or unknown", "bag"
    )  # fmt: skip
    narrow = as_table(book.decisions["route"], one_column=True)
    assert narrow.lines[1:] == (
        ("moist and in a hurry", "damp: yes; days: up to 0 or unknown", "sow"),
        ("otherwise", "everything else", "treat"),
    )
