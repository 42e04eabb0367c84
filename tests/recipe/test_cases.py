"""Walk tests/cases: each file is a list of lots and what their recipes must say and must never say."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import pages
import pytest

from coldspell.decide.names.asks import AT_THE_COUNTER
from coldspell.library.load import Library
from coldspell.rules import Rule, Session
from coldspell.write.recipe import Recipe
from coldspell.yaml import document

FOLDER = Path(__file__).parent.parent / "cases"
KEYS = {"case", "lot", "source", "expect"}
EXPECTED = {
    "route", "says", "never_says", "form", "material", "used", "days", "celsius", "rules", "fits", "alive",
    "identity", "refused", "possible", "need", "answers", "start", "end", "days_meet",
}  # fmt: skip

HELD: dict[str, set[tuple[str, str]]] = {}
"""The rules that held in the cases that were asked in this process."""


@cache
def _cases() -> list[Any]:
    found = []
    for path in sorted(FOLDER.glob("*.yaml")):
        root = document.parse(document.decode(document.read_bytes(path), str(path)), str(path))
        for i, case in enumerate(document.plain(root)):
            found.append(pytest.param(case, id=f"{path.stem}-{i}-{case.get('case', '?')}"))
    return found


@pytest.mark.parametrize("case", _cases())
def test_case(case: dict[str, Any], ask: Callable[..., Recipe], library: Library) -> None:
    assert case.keys() <= KEYS
    assert case["expect"].keys() <= EXPECTED
    recipe = ask_for(case, ask)
    held = HELD[case["case"]] = {(row.decision, row.rule) for row in recipe.trace}
    _source_is_independent(case, recipe, library)
    expect = case["expect"]
    page = " ".join(pages.render(recipe, 100).split())
    for phrase in _many(expect.get("says")):
        assert phrase.lower() in page.lower()
    for phrase in _many(expect.get("never_says")):
        assert phrase.lower() not in page.lower()
    _parts(recipe, expect)
    _steps(recipe, expect)
    assert set(_many(expect.get("rules"))) <= {f"{decision}: {rule}" for decision, rule in held}


def ask_for(case: dict[str, Any], ask: Callable[..., Recipe]) -> Recipe:
    """The recipe of a case; every case says which day is today, or takes the one of the tests."""
    lot = dict(case["lot"])
    name, today = lot.pop("name"), lot.pop("today", "2026-11-25")
    return ask(
        name, date.fromisoformat(today), **{"float_" if k == "float" else k: v for k, v in lot.items()}
    )


def _source_is_independent(case: dict[str, Any], recipe: Recipe, library: Library) -> None:
    """A case names common practice, an older answer kept, or a source the treatment does not cite."""
    source = case["source"]
    if source in ("practice", "regression"):
        return
    assert source["source"] in library.bibliography
    used = [t for t in recipe.treatments if t.status == "used"]
    cited = {recipe.sources[n - 1].source for t in used for n in t.cites}
    assert source["source"] not in cited


def _parts(recipe: Recipe, expect: dict[str, Any]) -> None:
    medium = recipe.medium
    found = {
        "route": recipe.route,
        "form": medium.form if medium else "none",
        "material": medium.material if medium else "none",
        "fits": recipe.timing.fits,
        "alive": recipe.verdict.alive,
        "identity": recipe.verdict.identity,
        "used": next((t.name for t in recipe.treatments if t.status == "used"), "none"),
    }
    for key, value in found.items():
        if key in expect:
            assert value in _many(expect[key]), key
    for status in ("refused", "possible"):
        names = {t.name for t in recipe.treatments if t.status == status}
        assert set(_many(expect.get(status))) <= names
    answers = {f"{row.decision}={row.answer}" for row in recipe.trace}
    assert set(_many(expect.get("answers"))) <= answers


def _steps(recipe: Recipe, expect: dict[str, Any]) -> None:
    for do, days in expect.get("days", {}).items():
        found = [s.days for s in recipe.steps if s.do == do and s.days is not None]
        if days == "none":
            assert not found, do
            continue
        low, high = days if isinstance(days, list) else (days, days)
        assert found, do
        total = (sum(d[0] for d in found), sum(d[2] for d in found))
        assert low <= total[0], do
        assert total[1] <= high, do
    for do, (low, high) in expect.get("days_meet", {}).items():
        found = [s.days for s in recipe.steps if s.do == do and s.days is not None]
        assert max(low, sum(d[0] for d in found)) <= min(high, sum(d[2] for d in found)), do
    for do, degrees in expect.get("celsius", {}).items():
        for step in recipe.steps:
            if step.do == do and step.celsius is not None:
                assert degrees[0] <= step.celsius[0], do
                assert step.celsius[2] <= degrees[1], do
    for do, need in expect.get("need", {}).items():
        assert [s.need for s in recipe.steps if s.do == do][:1] == [need], do
    for key in ("start", "end"):
        for do, day in expect.get(key, {}).items():
            assert [getattr(s, key) for s in recipe.steps if s.do == do][:1] == [str(day)], do


def _many(value: Any) -> list[Any]:
    return [] if value is None else value if isinstance(value, list) else [value]


def test_every_rule_has_a_case(ask: Callable[..., Recipe], session: Session, library: Library) -> None:
    """Every rule of every decision is exercised by at least one case.

    The decision ``step`` has a rule for each word of the record schema; those no record uses are left
    out. Rules on troubles have their own (tests/counter).
    """
    held = {rule for case in _cases() for rule in _held(case.values[0], ask)}
    done = {(s.do, s.until) for name in library.names for t in library.get(name).treatments for s in t.steps}
    missing = [
        f"{name}: {rule.name}"
        for name, table in session.book.decisions.items()
        for rule in table.rules
        if (name, rule.name) not in held and rule.answer != "impossible"
        if name not in AT_THE_COUNTER
        if name != "step" or _used(rule, done)
    ]
    assert not missing, "; ".join(missing)


def _held(case: dict[str, Any], ask: Callable[..., Recipe]) -> set[tuple[str, str]]:
    if case["case"] not in HELD:
        HELD[case["case"]] = {(row.decision, row.rule) for row in ask_for(case, ask).trace}
    return HELD[case["case"]]


def _used(rule: Rule, done: set[tuple[str, str]]) -> bool:
    asked = {c.fact: c.values for c in rule.when}
    return any(
        do in asked.get("do", (do,)) and until in asked.get("step_ends", (until,)) for do, until in done
    )


def test_cases_are_many_and_named_once() -> None:
    names = [p.values[0]["case"] for p in _cases()]
    assert len(names) >= 200
    assert len(names) == len(set(names))


def test_case_texts_have_no_unit_slips() -> None:
    """A phrase that names days must be one that the page can print: no hyphen for a dash."""
    for case in _cases():
        for phrase in _many(case.values[0]["expect"].get("says")):
            assert not re.search(r"\d-\d", phrase)
