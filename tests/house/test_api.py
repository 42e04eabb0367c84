"""The Python interface: light to import, typed by the table of lot facts, equal to the command line."""

from __future__ import annotations

import re
import subprocess
import sys
from datetime import date
from pathlib import Path
from typing import Any, get_type_hints

import pytest

import coldspell
from coldspell.api import shipped
from coldspell.cli.main import main
from coldspell.lot.said import LotSaid
from coldspell.lot.table import FACTS
from coldspell.plan.plan import Dated, Plan

DAY = date(2026, 10, 12)


def test_the_import_loads_nothing_else() -> None:
    code = "import sys, coldspell; print(*sorted(m for m in sys.modules if m.startswith('coldspell')))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.split() == ["coldspell"]


def test_no_folder_of_the_program_takes_a_name_of_the_interface() -> None:
    """An imported folder is set on the package: `coldspell.page` would be a module, no function."""
    folders = {one.stem for one in Path(coldspell.__file__).parent.iterdir()}
    assert not folders & {*coldspell.__all__}


def test_every_fact_of_a_lot_is_typed() -> None:
    hints = get_type_hints(LotSaid)
    assert list(hints) == list(FACTS)
    for name, fact in FACTS.items():
        said = str(hints[name])
        assert all(f"'{word}'" in said for word in fact.words), (name, said)


def test_the_command_prints_the_page_of_the_interface(capsys: pytest.CaptureFixture[str]) -> None:
    recipe = coldspell.recipe(
        "northern red oak", seeds=40, moisture="fresh", sow=date(2027, 4, 15), today=DAY
    )
    options = ["--seeds", "40", "--moisture", "fresh", "--sow", "2027-04-15", "--today", "2026-10-12"]
    assert main(["recipe", "northern red oak", *options]) == 0
    assert capsys.readouterr().out == coldspell.page(recipe)
    assert main(["recipe", "northern red oak", *options, "--format", "json"]) == 0
    assert capsys.readouterr().out == coldspell.to_json(recipe)


def test_a_row_that_cannot_be_planned_gives_its_error() -> None:
    rows: list[dict[str, Any]] = [
        {"name": "apple", "seeds": 4, "sow": "", "moisture": None},
        {"name": "apple", "seeds": "many"},
        {"seeds": 3},
    ]
    good, bad, nameless = coldspell.plans(rows, today=DAY)
    assert not isinstance(good, coldspell.ColdspellError)
    assert good.name == "Malus × domestica"
    assert good.lot.seeds == 4
    assert isinstance(bad, coldspell.ColdspellError)
    assert "seeds is not a number" in str(bad)
    assert isinstance(nameless, coldspell.ColdspellError)


def test_plans_have_the_days_of_the_recipe() -> None:
    facts: LotSaid = {"seeds": 30, "moisture": "dried", "sow": "2027-04-15"}
    for name in ("peach", "apple", "Corylus avellana"):
        (plan,) = coldspell.plans([{"name": name, **facts}], today=DAY)
        assert not isinstance(plan, coldspell.ColdspellError)
        recipe = coldspell.recipe(name, today=DAY, **facts)
        assert [str(s.start) for s in plan.steps if s.start] == [s.start for s in recipe.steps if s.start]


@pytest.mark.parametrize("text", ["aple", "hazl", "Quercus rubraa", "norway mapel", "cherry", "walnut"])
def test_what_is_found_are_names_of_records(text: str) -> None:
    found = coldspell.find(text)
    assert found
    assert len(found) == len({*found})
    for name in found:
        assert name in shipped().records


def test_a_plan_is_shown_in_a_line_and_every_attribute_is_in_the_docs() -> None:
    (plan,) = coldspell.plans([{"name": "apple", "seeds": 4, "sow": "2027-04-15"}], today=DAY)
    assert len(repr(plan)) < 100
    assert "Malus × domestica" in repr(plan)
    assert "2027-04-15" in repr(plan)
    text = (Path(__file__).parent.parent.parent / "docs" / "python.md").read_text("utf-8")
    table = text.split("| attribute | is |")[1].split("\n\n")[0]
    named = {word for line in table.splitlines() for word in re.findall(r"`(\w+)`", line.split(" | ")[0])}
    properties = {name for name, value in vars(Dated).items() if isinstance(value, property)}
    assert named == {*Plan.__struct_fields__, *properties}


def test_own_records_and_rules(tmp_path: Path) -> None:
    with pytest.raises(coldspell.ColdspellError):
        coldspell.Library(tmp_path / "absent")
    with pytest.raises(coldspell.ColdspellError):
        coldspell.Library(rules=tmp_path)
    assert coldspell.record("peach").name == "Prunus persica"
    assert coldspell.find("hazel") == ["Corylus", "Corylus avellana"]


def test_a_lot_still_to_be_gathered_has_no_past() -> None:
    """It cannot be stored, dried, rooted or sown before the day on which it is gathered."""
    today, day = date(2026, 11, 30), date(2026, 12, 20)
    assert coldspell.recipe("red oak", today=today, collected=day).lot.said["collected"] == "2026-12-20"
    for fact, value in (("stored_years", 1), ("days_dry", 5), ("rooted", 3), ("cut", "8/10")):
        with pytest.raises(coldspell.ColdspellError, match="gathered on 2026-12-20, after today"):
            coldspell.recipe("red oak", today=today, collected=day, **{fact: value})
