"""A public page: nobody counts as trained, whatever an address says; as `coldspell sheet --public`."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Any

import pytest

pytest.importorskip("litestar", reason="type: uv run --all-groups pytest (the group surfaces)")

from coldspell.api import shipped

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
    for address in (asked, trained):
        assert public.get(address).json()["treatments"] == plain
    text = public.get(f"/recipe?{LOT}&professional=yes").text
    steps = client.get(f"/recipe?{LOT}").text.split("<main")[1].split("page_take")[0]
    assert text.split("<ol>")[1].split("</ol>")[0] == steps.split("<ol>")[1].split("</ol>")[0]


def test_the_form_does_not_ask_for_it(public: Any, client: Any) -> None:
    assert 'name="professional"' in client.get("/").text
    assert 'name="professional"' not in public.get("/").text
