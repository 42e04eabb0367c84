"""The JSON of the page against its own OpenAPI document, by jsonschema (JSON Schema 2020-12, OpenAPI 3.1)."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

pytest.importorskip("litestar", reason="type: uv run --all-groups pytest (the group surfaces)")

from jsonschema import Draft202012Validator

LOTS = (
    "name=apple",
    "name=apple&seeds=15&moisture=dried&stored_years=3",
    "name=apple&seeds=15&stored_years=0.5&cut=8/10",
    "name=apple&media=sand&media=peat&seeds=40&trial=yes",
    "name=northern red oak&seeds=40&rooted=12&moisture=fresh",
    "name=Juglans nigra&warm_days_done=0&cold_days_done=30&cold_break_days=2&seeds=30",
    "name=oak",
    "name=walnut",
    "name=unknown&seeds=30",
    "name=Nothofagus alpina&seeds=30&kilograms=",
    "name=tree of heaven&place=Bavaria, Germany",
    "name=Gymnocladus dioicus&moisture=dried&professional=yes",
    "name=Taxus baccata&fridge=no&winter=cold&want=20&units=us",
    "name=mango&sow=end of April",
    "name=apple&sow=2026-12-15&southern=yes",
    "name=zzqx",
    "name=cherry laurel seeds dried",
    "seeds=4",
)
QUESTIONS = (
    *(f"/api/recipe?{lot}&today=2026-11-30" for lot in LOTS),
    *("/api/find?q=walnut", "/api/find?q=zz", "/api/find?q=oak&limit=50", "/api/find?limit=900&q=oak"),
    *("/api/species/Juglans nigra", "/api/species/Quercus", "/api/species/apple", "/api/species/zzqx"),
    *("/api/species/Malus%20domestica", "/api/species/chestnut", "/api/species/Gymnocladus dioicus"),
)


@pytest.fixture(scope="module")
def document(client: Any) -> dict[str, Any]:
    found: dict[str, Any] = client.get("/api/openapi.json").json()
    return found


def faults(document: dict[str, Any], path: str, status: int, body: Any) -> list[str]:
    responses = document["paths"][path]["get"]["responses"]
    if str(status) not in responses:
        return [f"the document has no status {status} of {path}"]
    schema = responses[str(status)]["content"]["application/json"]["schema"]
    whole = {**schema, "components": document["components"]}
    return [f"{error.json_path}: {error.message}" for error in Draft202012Validator(whole).iter_errors(body)]


def path_of(question: str) -> str:
    path = question.split("?")[0]
    return "/api/species/{name}" if path.startswith("/api/species/") else path


@pytest.mark.parametrize("question", QUESTIONS)
def test_an_answer_is_as_the_document_says(client: Any, document: dict[str, Any], question: str) -> None:
    found = client.get(question)
    assert found.status_code in (200, 400, 404)
    assert faults(document, path_of(question), found.status_code, found.json()) == []


def test_the_check_sees_what_is_wrong(client: Any, document: dict[str, Any]) -> None:
    """A whole number fits where any number does; a text, or a key that is missing, does not fit."""
    body = client.get(QUESTIONS[1]).json()
    assert body["lot"]["said"]["seeds"] == 15
    del body["verdict"]
    body["lot"]["said"]["seeds"] = {"many": 1}
    assert len(faults(document, "/api/recipe", 200, body)) == 2


@pytest.mark.parametrize("name", ["apple", "Malus x domestica", "Malus domestica", "malus × domestica"])
def test_a_record_is_had_by_every_name_that_a_recipe_takes(client: Any, name: str) -> None:
    from coldspell.api import record

    found = client.get(f"/api/species/{name}")
    assert found.status_code == 200
    assert found.json()["name"] == record(name).name == "Malus × domestica"


@pytest.mark.parametrize(("name", "candidate"), [("aple", "apple"), ("chestnut", "Castanea")])
def test_a_name_without_one_record_is_404_with_what_may_be_meant(
    client: Any, name: str, candidate: str
) -> None:
    found = client.get(f"/api/species/{name}")
    assert found.status_code == 404
    assert candidate in found.json()["candidates"]


@pytest.mark.parametrize("path", ["/api/nonsense", "/api/recipe/x", "/api/openapi.yaml"])
def test_below_api_even_what_is_not_there_is_json(client: Any, path: str) -> None:
    found = client.get(path)
    assert found.status_code == 404
    assert found.headers["content-type"].startswith("application/json")
    assert found.json().keys() == {"what", "mend", "candidates"}
    assert client.post("/api/find").json().keys() == {"what", "mend", "candidates"}


def test_every_page_of_the_menu_is_in_the_docs(client: Any) -> None:
    menu = client.get("/").text.split("<nav")[1].split("</nav>")[0]
    text = (Path(__file__).parent.parent.parent / "docs" / "page.md").read_text("utf-8")
    words = re.findall(r">([^<>]*\w[^<>]*)</a>", menu)
    assert len(words) > 4
    assert [word for word in words if word != "Coldspell" and f"- **{word}**" not in text] == []
