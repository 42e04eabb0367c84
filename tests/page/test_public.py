"""A public page: nobody counts as trained, whatever an address says; as `coldspell sheet --public`."""

from __future__ import annotations

import html
import re
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


WORDS = re.compile(r"\b(sulph?uric|gibberellic|[0-9]+ (minutes?|hours?) (in|of) acid)", re.IGNORECASE)
"""Instructions for trained people, in prose; reasons may say that acid is not needed."""


@pytest.mark.parametrize("name", [*TRAINED[::9], "Gleditsia triacanthos", "Corylus colurna", "Rubus"])
def test_a_record_does_not_say_how_it_is_done_by_trained_people(public: Any, client: Any, name: str) -> None:
    found, whole = (one.get(f"/api/species/{name}").json() for one in (public, client))
    steps = [{step["do"] for step in one["steps"]} for one in found["treatments"]]
    assert all(PROFESSIONAL.isdisjoint(each) for each in steps)
    assert [one for one in whole["not_used"] if not one["trained"]] == found["not_used"]
    assert found["hazards"] == whole["hazards"]
    known = shipped().records.get(name)
    page = public.get(f"/library/{name}").text
    genus = shipped().records.genus(name)
    for one in (*known.treatments, *(genus.treatments if genus else ())):
        if any(step.do in PROFESSIONAL for step in one.steps) and one.because:
            assert one.because not in html.unescape(page)
    assert "/record" not in page
    assert "/record?" in client.get(f"/library/{name}").text


def test_a_public_page_mends_no_records(public: Any, client: Any) -> None:
    assert (public.get("/record").status_code, client.get("/record").status_code) == (404, 200)
    assert "/record" not in public.get("/library").text


def test_every_way_of_others_that_names_such_a_method_says_whom_it_is_for() -> None:
    """The field alone is read; `species check` asks for it where the words stand."""
    records = shipped().records
    others = [one for name in records.names for one in records.get(name).not_used]
    assert sum(one.trained for one in others) > 100
    assert not [one for one in others if WORDS.search(f"{one.says} {one.because}") and not one.trained]


def test_the_page_does_not_say_in_its_reasons_what_the_json_leaves_out(public: Any, client: Any) -> None:
    question = "/recipe?name=Gleditsia triacanthos&moisture=dried"
    assert "Acid for one to two hours" in client.get(question).text
    assert "Acid for one to two hours" not in public.get(question).text
