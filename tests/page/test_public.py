"""A public page: nobody counts as trained, whatever an address says; as `coldspell sheet --public`."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Any

import pytest

pytest.importorskip("litestar", reason="type: uv run --all-groups pytest (the group surfaces)")

from coldspell.api import shipped
from coldspell.records.do import PROFESSIONAL

LOT = "name=Gymnocladus dioicus&moisture=dried"
"""A coat that trained people open with acid (tests/sheet)."""


@pytest.fixture(scope="module")
def public() -> Iterator[Any]:
    from litestar.testing import TestClient

    from coldspell.web.server import make_app

    app = make_app(shipped(), {}, lambda: date(2026, 11, 30), public=True)
    with TestClient(app=app) as found:
        yield found


def test_no_address_brings_what_is_for_trained_people(public: Any, client: Any) -> None:
    asked, trained = f"/api/recipe?{LOT}", f"/api/recipe?{LOT}&professional=true"
    plain = client.get(asked).json()["treatments"]
    assert client.get(trained).json()["treatments"] != plain
    plain = [one for one in plain if PROFESSIONAL.isdisjoint(one["steps"])]
    assert plain
    for address in (asked, trained):
        assert public.get(address).json()["treatments"] == plain
    text = public.get(f"/recipe?{LOT}&professional=yes").text
    steps = client.get(f"/recipe?{LOT}").text.split("<main")[1].split("page_take")[0]
    assert text.split("<ol>")[1].split("</ol>")[0] == steps.split("<ol>")[1].split("</ol>")[0]


def test_the_form_does_not_ask_for_it(public: Any, client: Any) -> None:
    assert 'name="professional"' in client.get("/").text
    assert 'name="professional"' not in public.get("/").text


TRAINED = [
    name
    for name in shipped().records.names
    if any(step.do in PROFESSIONAL for one in shipped().records.get(name).treatments for step in one.steps)
]
"""Every kind that has a treatment for trained people on record."""


@pytest.mark.parametrize("name", [*TRAINED[::6], "Gleditsia triacanthos", "Corylus colurna"])
def test_nothing_of_methods_for_trained_people_is_in_the_json(public: Any, client: Any, name: str) -> None:
    question = f"/api/recipe?name={name}&moisture=dried&professional=yes"
    found, whole = public.get(question).json(), client.get(question).json()
    assert not [one for one in found["treatments"] if not PROFESSIONAL.isdisjoint(one["steps"])]
    left = {one["name"] for one in found["treatments"]}
    assert {row["candidate"] for row in found["trace"]} - {None} <= left
    said = " ".join(f"{one['says']} {one['because']}" for one in found["not_used"]).casefold()
    assert not [word for word in (" acid", "gibberell", "regulator") if word in f" {said}"]
    assert found["cautions"] or not [one for one in whole["cautions"] if "prussic" in one["text"].lower()]


def test_the_page_does_not_say_in_its_reasons_what_the_json_leaves_out(public: Any, client: Any) -> None:
    question = "/recipe?name=Gleditsia triacanthos&moisture=dried"
    assert "Acid for one to two hours" in client.get(question).text
    assert "Acid for one to two hours" not in public.get(question).text
