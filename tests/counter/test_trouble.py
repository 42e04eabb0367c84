"""Troubles: each row of ``troubles.yaml`` meets its rule, and every rule of the tables is met by one."""

from __future__ import annotations

from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from ruamel.yaml import YAML

from coldspell.api import Library, shipped
from coldspell.counter.trouble import WORDS, Trouble
from coldspell.decide.names.asks import ON_TROUBLE, Ask
from coldspell.errors import ColdspellError
from coldspell.views import trouble_page

_FILE = Path(__file__).parent / "troubles.yaml"
ROWS: list[list[Any]] = YAML(typ="safe", pure=True).load(_FILE.read_text("utf-8"))


def _said(value: Any) -> Any:
    return {True: "yes", False: "no"}.get(value, value) if isinstance(value, bool) else value


@cache
def answer(number: int) -> Trouble:
    what, name, lot, *_ = ROWS[number]
    said = {key: _said(value) for key, value in lot.items()}
    today = said.pop("today", date(2027, 1, 20))
    return shipped().trouble(what, name, today=today, **said)


@pytest.mark.parametrize("number", range(len(ROWS)), ids=[f"{row[0]}, {row[1]}: {row[3]}" for row in ROWS])
def test_trouble(number: int) -> None:
    _, _, _, rule, keep, says, *_ = ROWS[number]
    found = answer(number)
    assert f"{Ask.TROUBLE_VERDICT}: {rule}" in found.rules
    assert found.keep == keep
    assert says in found.verdict.lower()
    assert (found.again is None) == (keep == "none")
    assert found.again is None or date.fromisoformat(found.again) >= date.fromisoformat(found.asked_on)
    assert "{" not in found.test + found.verdict


def test_every_rule_is_met_by_a_row() -> None:
    book = shipped().tables.book
    met = {rule for number in range(len(ROWS)) for rule in answer(number).rules}
    assert not {f"{ask}: {rule.name}" for ask in ON_TROUBLE for rule in book.decisions[ask].rules} - met


def test_no_trouble_asks_more_than_three_questions() -> None:
    kinds = ("northern red oak", "white oak", "mango", "Kentucky coffeetree", "foxglove", "common hawthorn")
    for name in kinds:
        for what in WORDS:
            found = shipped().trouble(what, name, today=date(2027, 1, 20))
            assert 1 <= len(found.asks) <= 3, (name, what)
            assert len({one.tells for one in found.asks}) == len(found.asks)


def test_what_is_answered_is_not_asked_again() -> None:
    asked = shipped().trouble("mould", "apple", today=date(2027, 1, 20))
    told = shipped().trouble("mould", "apple", today=date(2027, 1, 20), mould="shell", soft="no")
    assert {one.tells for one in asked.asks} == {"mould", "soft"}
    assert told.asks == ()


@pytest.mark.parametrize("what", WORDS)
def test_page_is_short_and_whole(what: str) -> None:
    found = shipped().trouble(what, "northern red oak", today=date(2027, 1, 20))
    page = trouble_page.render(found, shipped().texts, 80)
    assert len(page.splitlines()) <= 24
    assert max(map(len, page.splitlines())) <= 80
    flat = " ".join(page.split())
    assert found.test.split(".")[0] in flat
    assert all(" ".join(one.text.split()) in flat for one in found.asks)


def test_another_word_is_refused() -> None:
    with pytest.raises(ColdspellError, match="no trouble is called 'fungus'"):
        Library().trouble("fungus", "apple")


def test_a_genus_that_asks_is_asked_first_and_never_told_that_its_cold_is_done() -> None:
    lib = shipped()
    genera = [
        name for name in lib.records.names if lib.record(name).rank == "genus" and lib.record(name).asks
    ]
    assert {"Tilia", "Fraxinus", "Carpinus", "Crataegus", "Acer"} <= set(genera)
    for name in genera:
        found = lib.trouble("nothing", name, today=date(2027, 3, 6), cold_days_done=90)
        asks = lib.record(name).asks
        assert "cold is done" not in found.verdict, name
        assert "warm-country seed" in found.because or found.asks[0].tells == "name", name
        assert asks is not None
        assert asks.question in found.asks[0].text, name
        assert len(found.asks) <= 3
