"""The page of a season: what it says of a lot is so, and what it counts is what there is."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from seasons import DAY, some_lots, written

from coldspell.cli.main import main
from coldspell.season.planning import Planner

Page = Callable[..., str]
FACTS = ("--no-settings", "--today")
WHY = "type: uv run --all-groups pytest (the group surfaces)"


@pytest.fixture
def page(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Page:
    def made(lots: list[dict[str, Any]], *more: str, today: str = DAY.isoformat()) -> str:
        main(["season", str(written(tmp_path / "lots.csv", lots)), *FACTS, today, *more])
        return " ".join(capsys.readouterr().out.split())

    return made


APPLE = {"lot": "A1", "name": "apple", "seeds": 100, "moisture": "dried", "sow": "2027-04-15"}


def test_a_lot_that_may_be_kept_says_until_when(page: Page) -> None:
    """As the recipe: bur oak keeps 180 days from the day it was gathered, white oak as briefly as can be."""
    oak = {"seeds": 40, "moisture": "fresh", "collected": "2026-10-02", "sow": "2027-04-15"}
    told = page([{"lot": "B", "name": "bur oak", **oak}, {"lot": "W", "name": "white oak", **oak}])
    assert "B bur oak, 40: first test; sow or plant 30 Nov; or keep it moist and cold, until 31 Mar" in told
    assert "W white oak, 40: first test; sow or plant 30 Nov; or keep it moist and cold, as briefly" in told
    assert "or keep" not in page([APPLE])


def test_a_soak_without_a_day_says_how_long(page: Page) -> None:
    walnut = {"name": "English walnut", "seeds": 30, "moisture": "dried", "sow": "2027-04-15"}
    assert "first soak 24–72 hours" in page([walnut])


def test_a_lot_under_way_is_not_begun_again(page: Page) -> None:
    """It lies in its bag: no bag, no medium, no start; its looks, its litres and its label stay."""
    fresh, on = page([APPLE], today="2027-02-01"), page([{**APPLE, "cold_days_done": 20}], today="2027-02-01")
    assert re.search(r"YOU NEED .*(bag|roll)", fresh)
    assert not re.search(r"\d (bag|roll|litres of \w+iculite)", on)
    assert "start A1" in fresh
    assert "start A1" not in on
    assert "1 label" in on
    assert re.search(r"[\d.]+ litres of room in the cold", on)
    assert re.search(r"look \d+ Feb: A1", on)


def test_what_has_had_its_warmth_moves_into_the_cold(page: Page) -> None:
    lot = {**APPLE, "name": "Crataegus monogyna", "warm_days_done": 140, "sow": "2028-04-15"}
    assert "move A1 Crataegus monogyna, 100: into moist cold" in page([lot], today="2027-02-01")


def test_a_day_that_is_not_kept_is_named(page: Page) -> None:
    """The recipes say so: the seed decides, or the seasons outdoors do it."""
    thorn = {"name": "Crataegus monogyna", "cold_days_done": 20, "warm_days_done": 120}
    told = page([APPLE, {**APPLE, "lot": "B", **thorn}, {**APPLE, "lot": "G", "name": "Gentiana lutea"}])
    _, _, rest = told.partition("SOWN ON ANOTHER DAY THAN WAS GIVEN")
    assert rest.startswith(" B Crataegus monogyna, 100: given 15 Apr; sow 16 Mar")
    assert "G Gentiana lutea, 100: given 15 Apr; sow 30 Nov" in rest
    assert "A1" not in rest.partition("YOU NEED")[0]


def test_the_same_fault_of_many_rows_is_told_once(page: Page) -> None:
    lots = [{**APPLE, "lot": f"A{i}", "sow": f"{i}.04.2027"} for i in range(1, 10)]
    told = page([*lots, {**APPLE, "moisture": "damp"}, {**APPLE, "name": "Quercs rubra"}])
    assert told.count("--date-format") == 1
    assert re.search(r"9 rows from .*: column sow", told)
    assert told.count("column moisture") == 1
    assert 'type one of these: "Quercus rubra", "Quercus' in told
    assert "coldspell recipe" not in told


def test_labels_are_as_many_as_the_file_has(planner: Planner, page: Page, tmp_path: Path) -> None:
    for module in ("typst", "segno"):
        pytest.importorskip(module, reason=WHY)
    pypdf = pytest.importorskip("pypdf", reason=WHY)
    said = [
        {**lot, "seeds": 30, "rooted": min(int(lot.get("rooted", 0)), 30)}
        for lot in some_lots(planner, 40, 9)
    ]
    bags, pots = tmp_path / "labels.pdf", tmp_path / "pot-labels.pdf"
    told = page(said, "-o", str(bags), "-o", str(pots))
    count = re.search(r"(\d+) labels", told)
    assert count is not None
    found = "\n".join(sheet.extract_text() for sheet in pypdf.PdfReader(bags).pages)
    assert len(re.findall(r"\bL\d+\b", found)) == int(count[1])
    narrow = pypdf.PdfReader(pots)
    text = "".join(sheet.extract_text() for sheet in narrow.pages)
    assert not re.search(r"\blook(?! alike)", text)  # seed that looks like food is not to be eaten
    assert len(narrow.pages) == -(-len(set(re.findall(r"\bL\d+\b", found))) // 14)  # of 20 mm on 297 mm
