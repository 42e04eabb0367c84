"""Two days or two states of one lot side by side: each side says what its own answer says."""

from __future__ import annotations

import re
from datetime import date
from html import unescape
from typing import Any

import pytest

pytest.importorskip("litestar", reason="type: uv run --all-groups pytest (the group surfaces)")

from coldspell.api import shipped
from coldspell.views.side_by_side import side_by_side

TODAY = date(2026, 11, 30)
"""As `app` has it."""


def lines(**facts: tuple[Any, Any]) -> dict[str, bool]:
    """Which lines differ between two answers for apple; each fact with its value on both sides."""
    one, two = ({name: both[i] for name, both in facts.items() if both[i] is not None} for i in (0, 1))
    ask = shipped().recipe
    found = side_by_side(
        ask("apple", today=TODAY, seeds=40, **one),
        ask("apple", today=TODAY, seeds=40, **two),
        shipped().texts,
    )
    return {line.label: line.differs for line in found}


def test_a_lot_beside_itself_says_the_same() -> None:
    assert set(lines(moisture=("fresh", "fresh")).values()) == {False}


def test_another_day_changes_days_and_not_the_treatment() -> None:
    found = lines(sow=("2027-04-15", "2027-05-01"))
    assert found["Sowing"]
    assert found["Cold or warmth starts"]
    assert not found["The treatment"]
    assert not found["Safety"]


def test_each_side_says_the_days_of_its_own_answer(client: Any) -> None:
    said = {"name": "apple", "seeds": 40, "a-sow": "2027-04-15", "b-sow": "2027-05-01"}
    page = client.get("/compare", params=said).text
    text = unescape(re.sub(r'<span class="whole">|</span>', "", page)).replace("\xa0", " ")
    for sow in ("2027-04-15", "2027-05-01"):
        recipe = shipped().recipe("apple", today=TODAY, seeds=40, sow=sow)
        assert recipe.verdict.sentence in text
        assert f"/recipe?name=apple&seeds=40&sow={sow}" in text
    assert not re.search(
        r"\[\d+\]|\(p\)", text.split("<table")[1].split("</table>")[0]
    )  # no marks without sources


def test_what_is_said_keeps_its_order(client: Any) -> None:
    given = "medium=sand&medium=peat&medium=perlite&medium=coir"
    found = client.get(f"/api/recipe?name=apple&{given}").json()
    assert found["lot"]["said"]["medium"] == ["sand", "peat", "perlite", "coir"]
    assert f"/sheet.pdf?name=apple&{given}" in unescape(client.get(f"/recipe?name=apple&{given}").text)


def test_both_lines_of_days_have_one_scale(client: Any) -> None:
    """What stands at the same place is the same day."""
    text = client.get("/compare?name=apple&a-sow=2027-04-15&b-sow=2027-04-15&b-today=2026-12-10").text
    marks = [
        re.findall(r'd="M ([\d.]+) [\d.]+ l -6 -11', svg) for svg in re.findall(r"<svg.*?</svg>", text, re.S)
    ]
    sown = {found[-1] for found in marks if found}
    assert len(sown) == 2  # one in the wide pictures, one in the narrow ones


@pytest.mark.parametrize(
    ("query", "status", "says"),
    [
        ("", 200, "Show both"),
        ("name=apple&sow=2027-04-15", 200, 'name="b-sow" type="date" value="2027-04-15"'),
        ("name=apple&a-sow=soon&b-sow=", 400, 'id="wrong-a-sow"'),
        ("name=apple&b-sedds=3", 400, "Second:"),
        ("a-sow=2027-04-15", 400, "which plant"),
        ("name=cherry&a-sow=2027-04-15&b-sow=", 200, "/compare?name=Prunus+avium&amp;a-sow=2027-04-15"),
        ("name=zzqx&a-sow=2027-04-15", 404, "no record"),
        ("name=apple&place=<b>x&a-sow=2027-04-15&b-sow=<b>x", 400, "&lt;b&gt;x"),
        ("name=apple&a-bag=1x1&b-bag=", 400, "First:"),
    ],
)
def test_what_is_said_of_one_side_is_told_of_that_side(
    client: Any, query: str, status: int, says: str
) -> None:
    found = client.get(f"/compare?{query}")
    assert found.status_code == status
    assert says in found.text
