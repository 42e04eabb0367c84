"""The page of troubles without a browser: eight buttons, the questions, the answer, by plant and by kind."""

from __future__ import annotations

from html import unescape
from typing import Any

import pytest

pytest.importorskip("litestar", reason="type: uv run --all-groups pytest (the group surfaces)")

from coldspell.counter.trouble import WORDS


def test_eight_buttons_and_no_answer_before_one_is_pressed(client: Any) -> None:
    text = client.get("/trouble").text
    assert [f'value="{word}"' in text for word in WORDS] == [True] * 8
    assert "<h3>" not in text


@pytest.mark.parametrize("what", WORDS)
def test_each_button_answers_with_and_without_a_plant(client: Any, what: str) -> None:
    for address in (f"/trouble?what={what}", f"/trouble?what={what}&name=northern+red+oak"):
        found = client.get(address)
        assert found.status_code == 200
        assert "<h3>" in found.text
        assert "Do now" in found.text


def test_the_answers_of_the_questions_come_back(client: Any) -> None:
    asked = unescape(client.get("/trouble?what=mould&name=white+oak").text)
    assert 'name="mould"' in asked
    told = unescape(client.get("/trouble?what=mould&name=white+oak&mould=kernel&soft=no&seeds=40").text)
    assert "neighbours" in told
    assert 'name="mould"' not in told.split("<section>")[1]
    assert '<input type="hidden" name="seeds" value="40">' in told


def test_the_page_says_what_the_program_says(client: Any) -> None:
    from datetime import date

    from coldspell.api import shipped

    found = shipped().trouble("temperature", "sweet chestnut", today=date(2026, 11, 30), frozen="yes")
    text = unescape(client.get("/trouble?what=temperature&name=sweet+chestnut&frozen=yes").text)
    assert found.test in text
    assert found.verdict in text


def test_what_cannot_be_is_said(client: Any) -> None:
    assert client.get("/trouble?what=mould&name=apple&seeds=many").status_code == 400
    assert client.get("/trouble?what=mould&name=oak&mould=kernel").status_code == 200  # a genus on record
    assert client.get("/trouble?what=mould&name=nosuchplant").status_code == 404
    assert "<h3>" not in client.get("/trouble?what=fungus").text


def test_the_answer_page_leads_there(client: Any) -> None:
    text = unescape(client.get("/recipe?name=apple&seeds=15").text)
    assert all(f"/trouble?name=apple&seeds=15&what={word}" in text for word in WORDS)
