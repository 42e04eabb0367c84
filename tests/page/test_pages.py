"""The pages and the JSON without a browser: what is answered, refused and escaped, and the headers."""

from __future__ import annotations

import json
import re
from datetime import date
from pathlib import Path
from typing import Any

import pytest

WHY = "type: uv run --all-groups pytest (the group surfaces)"
for _name in ("litestar", "uvicorn", "jinja2", "segno", "typst"):
    pytest.importorskip(_name, reason=WHY)

import msgspec  # noqa: E402

from coldspell.api import shipped, to_json  # noqa: E402
from coldspell.lot.table import FACTS  # noqa: E402
from coldspell.web.server import MOST_BODY, MOST_QUERY  # noqa: E402

TODAY = date(2026, 11, 30)
"""As `app` has it."""

ALL = ["/", "/recipe?name=apple", "/recipe?name=cherry", "/library", "/library/Quercus", "/nope", "/page.css"]


@pytest.mark.parametrize("path", ALL)
def test_nothing_from_outside_and_nothing_inline(client: Any, path: str) -> None:
    """CSP Level 3: with no 'unsafe-inline' a style or script in the page would be refused."""
    found = client.get(path)
    policy = dict(
        part.strip().partition(" ")[::2] for part in found.headers["content-security-policy"].split(";")
    )
    assert policy["default-src"] == "'none'"
    assert {value for key, value in policy.items() if key != "default-src"} <= {"'self'", "'none'"}
    assert found.headers["x-content-type-options"] == "nosniff"
    if "html" in found.headers["content-type"]:
        assert not re.search(r"<style|\sstyle=|\son[a-z]+=|<script(?! src=\"/)", found.text)
        assert not re.search(r"(src|action)=\"(?!/)|<link[^>]*href=\"(?!/)", found.text)


def test_the_answer_says_all_of_the_short_page(client: Any) -> None:
    from html import unescape

    from coldspell.views.short import short_page

    facts = {"seeds": 40, "moisture": "fresh", "sow": "2027-04-15"}
    recipe = shipped().recipe("northern red oak", today=TODAY, **facts)  # type: ignore[arg-type]
    said = short_page(recipe, shipped().texts)
    page = client.get("/recipe", params={"name": "northern red oak", **facts}).text
    text = unescape(re.sub(r'<span class="whole">|</span>', "", page)).replace("\xa0", " ")
    rows = [*said.needs, *said.lines, *(said.looks.rows if said.looks else ())]
    wanted = [
        said.sentence,
        *said.band,
        *(s.text for s in said.steps),
        *(cell for row in rows for cell in row),
    ]
    left_out = {label for label, _ in said.safety}  # the heading of the box says it
    assert [one for one in wanted if one not in text and one not in left_out] == []
    assert "<svg" in text


def test_the_json_is_that_of_the_command_line_and_fits_its_schema(client: Any) -> None:
    import jsonschema

    found = client.get("/api/recipe", params={"name": "apple", "seeds": 15, "medium": ["sand", "peat"]})
    recipe = shipped().recipe("apple", today=TODAY, seeds=15, medium=["sand", "peat"])
    assert found.json() == json.loads(to_json(recipe))
    path = Path(__file__).parents[2] / "docs" / "schemas" / f"recipe-{recipe.schema}.json"
    jsonschema.validate(found.json(), json.loads(path.read_text("utf-8")))


def test_the_document_of_the_api_has_every_fact_with_its_words_and_limits(client: Any) -> None:
    document = client.get("/api/openapi.json").json()
    assert document["openapi"].startswith("3.1")
    given = {one["name"]: one for one in document["paths"]["/api/recipe"]["get"]["parameters"]}
    assert given.keys() == {"name", "today", "trial", *FACTS}
    assert given["name"]["required"]
    text = json.dumps(given["seeds"])
    assert '"minimum": 1' in text or '"minimum": 1.0' in text
    for name, fact in FACTS.items():
        assert all(f'"{word}"' in json.dumps(given[name]) for word in fact.words), name
    assert set(document["paths"]) == {"/api/recipe", "/api/find", "/api/species/{name}"}


@pytest.mark.parametrize(
    ("path", "status", "says"),
    [
        ("/recipe?name=apple&seeds=x", 400, "digits"),
        ("/recipe?name=apple&seeds=0", 400, "outside 1"),
        ("/recipe?name=apple&moisture=wet", 400, "one of"),
        ("/recipe?name=apple&sedds=3", 400, "seeds"),
        ("/recipe?name=apple&seeds=3&kilograms=1", 400, "not both"),
        ("/recipe?name=", 400, "which plant"),
        ("/recipe?name=zzqx", 404, "no record"),
        ("/recipe?name=cherry", 200, "Prunus avium"),
        ("/recipe?name=Acer", 200, "Acer"),
        ("/recipe?name=apple&today=soon", 400, "2027-04-15"),
        ("/library/Nothing", 404, "library"),
        ("/library?page=99999&month=77&plant=robot", 200, "Page"),
        ("/nope", 404, "no such page"),
        ("/sheet.pdf?name=apple&seeds=x", 400, "digits"),
        ("/days.ics?name=cherry", 200, "Prunus avium"),
        ("/days.ics?name=mango&today=2026-11-30&seeds=x", 400, "digits"),
        ("/sheet.pdf?name=cherry", 200, "Prunus avium"),
    ],
)
def test_what_cannot_be_is_said_on_a_page_with_what_to_mend(
    client: Any, path: str, status: int, says: str
) -> None:
    found = client.get(path)
    assert found.status_code == status
    assert says.lower() in found.text.lower()
    assert "coldspell " not in found.text.split("<main")[1].replace("coldspell 0", "")  # nothing to type
    assert "--" not in found.text.split("<main")[1]


@pytest.mark.parametrize(
    ("path", "status"),
    [("/api/recipe?name=apple&seeds=x", 400), ("/api/recipe?name=apple&sedds=1", 400),
     ("/api/recipe?name=zzqx", 400), ("/api/recipe", 400), ("/api/species/None", 404)],
)  # fmt: skip
def test_the_api_says_what_is_wrong_as_json(client: Any, path: str, status: int) -> None:
    found = client.get(path)
    assert found.status_code == status
    assert found.json().keys() == {"what", "mend", "candidates"}
    assert "--" not in found.text


@pytest.mark.parametrize(
    ("query", "what", "mend"),
    [
        ("name=cherry", "No plant on record is called just 'cherry'.", "Perhaps: Prunus avium, "),
        ("name=apple&sedds=1", "Unknown fact of a lot: sedds.", "Did you mean 'seeds'?"),
        ("name=apple&moisture=wet", "Moisture cannot be 'wet'. One of: fresh, dried.", "/api/openapi.json"),
    ],
)
def test_the_api_says_apart_what_is_wrong_and_what_to_do(
    client: Any, query: str, what: str, mend: str
) -> None:
    """A form or an address bar is nothing to a program: what to mend is that of the error itself."""
    found = client.get(f"/api/recipe?{query}").json()
    assert found["what"] == what
    assert found["mend"].startswith(mend)


@pytest.mark.parametrize("path", ["/", "/recipe", "/api/recipe", "/library"])
def test_it_only_reads(client: Any, path: str) -> None:
    for method in ("POST", "PUT", "DELETE"):
        found = client.request(method, path)
        assert found.status_code == 405
        assert "GET" in found.headers["allow"]


def test_long_bodies_and_addresses_are_refused(client: Any) -> None:
    assert client.request("GET", "/", content=b"x" * (MOST_BODY + 1)).status_code == 413
    assert client.get("/recipe?name=" + "x" * MOST_QUERY).status_code == 414


def test_a_second_sheet_at_once_is_told_to_wait(app: Any, client: Any) -> None:
    """RFC 9110: 503 with Retry-After."""

    class Taken:
        def locked(self) -> bool:
            return True

    site, free = app.state.site, app.state.site._setting
    site._setting = Taken()
    try:
        found = client.get("/sheet.pdf?name=apple")
    finally:
        site._setting = free
    assert (found.status_code, found.headers["retry-after"]) == (503, "2")
    assert "text/html" in found.headers["content-type"]


@pytest.mark.parametrize("field", ["name", "place", "seeds", "container", "today", "q", "<b>x"])
@pytest.mark.parametrize("path", ["/", "/recipe", "/library"])
def test_what_is_typed_is_never_markup(client: Any, path: str, field: str) -> None:
    typed = "\"><script>alert(1)</script><img src=x onerror='y'>"
    given = {"name": "apple", field: typed}
    found = client.get(path, params=given)
    assert found.status_code < 500
    assert "<script>alert" not in found.text
    assert "<img" not in found.text


def test_a_fault_of_ours_is_no_traceback(app: Any, client: Any, capsys: pytest.CaptureFixture[str]) -> None:
    site = app.state.site
    kept = site.recipe
    site.recipe = lambda question: 1 / 0
    try:
        found = client.get("/recipe?name=apple")
    finally:
        site.recipe = kept
    assert found.status_code == 500
    assert "ZeroDivision" not in found.text
    assert "ZeroDivision" in capsys.readouterr().err


def test_the_sheet_to_take_along_is_a_pdf(client: Any) -> None:
    found = client.get("/sheet.pdf?name=apple&seeds=15")
    assert found.content.startswith(b"%PDF-")
    assert "apple.pdf" in found.headers["content-disposition"]


def test_the_days_to_take_along_are_those_of_the_recipe(client: Any) -> None:
    """RFC 5545, read by its library: an event on each day on which a step of the recipe starts."""
    import icalendar

    found = client.get("/days.ics?name=apple&seeds=15")
    assert found.headers["content-type"].startswith("text/calendar")
    days = {
        event["dtstart"].dt.isoformat()
        for event in icalendar.Calendar.from_ical(found.content).walk("VEVENT")
    }
    assert "/days.ics?name=mango" in client.get("/recipe?name=mango").text  # sown the same day: one event
    assert client.get("/days.ics?name=mango").content.count(b"BEGIN:VEVENT") >= 1
    assert "/days.ics" not in client.get("/recipe?name=walnut").text  # a question has no days
    assert client.get("/days.ics?name=walnut").status_code == 400
    steps = {step.start for step in shipped().recipe("apple", today=TODAY, seeds=15).steps if step.start}
    assert steps <= days


@pytest.mark.parametrize(
    ("query", "count"),
    [("plant=conifer", None), ("q=Eiche", None), ("month=10&plant=nut tree", None)],
)
def test_the_library_is_filtered_as_by_the_command(client: Any, query: str, count: int | None) -> None:
    text = client.get(f"/library?{query}").text
    number = re.search(r"Records found: (\d+)", text)
    assert number is not None
    records = [shipped().records.get(name) for name in shipped().records.names]
    if query == "plant=conifer":
        assert int(number[1]) == sum(record.plant == "conifer" for record in records)
    assert int(number[1]) > 0
    if query == "q=Eiche":
        assert "Quercus" in text


def test_names_are_offered_in_other_languages(client: Any) -> None:
    found = client.get("/api/find", params={"q": "nogal"}).json()
    assert any(one["name"].startswith("Juglans") for one in found)
    assert msgspec.json.decode(client.get("/api/species/Juglans regia").content)["family"] == "Juglandaceae"


@pytest.mark.parametrize(
    "query", ["southern=yes", "sow=end of March", "fridge_celsius=39F", "children=yes&animals=yes"]
)
def test_the_link_to_the_data_answers_whatever_the_form_says(client: Any, query: str) -> None:
    """A box that is ticked, a day in words and degrees Fahrenheit were refused by the API alone."""
    assert client.get(f"/recipe?name=apple&{query}").status_code == 200
    assert client.get(f"/api/recipe?name=apple&{query}").status_code == 200


@pytest.mark.parametrize(
    "query", ["", "?name=apple&name=pear", "?name=apple&seeds=", "?name=apple&seeds=1.000"]
)
def test_the_api_speaks_of_what_was_asked_and_not_of_its_types(client: Any, query: str) -> None:
    found = client.get(f"/api/recipe{query}")
    assert found.status_code == 400
    assert "null" not in found.text
    assert "Expected" not in found.text


def test_degrees_fahrenheit_can_be_typed_into_the_form(client: Any) -> None:
    field = re.search(r'<input [^>]*name="fridge_celsius"[^>]*>', client.get("/").text)
    assert field is not None
    assert 'type="text"' in field[0]
    assert "about seed alone" in client.get("/recipe?name=tulip bulbs").text
