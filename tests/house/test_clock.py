"""The program in five years: it asks the clock in few places, and answers as it does today."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest
import time_machine

from coldspell.cli.main import main

SRC = Path(__file__).parents[2] / "src" / "coldspell"
ASK = ("api.py", "cli", "web")
"""What may ask the clock; everywhere else the day comes in as an argument."""
LATER = ("2031-03-01", "2032-02-29", "2036-12-31")


def test_the_clock_is_asked_where_people_come_in_alone() -> None:
    asked = {
        str(path.relative_to(SRC))
        for path in SRC.rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.Attribute) and node.attr in ("today", "now", "utcnow")
        if isinstance(node.value, ast.Name) and node.value.id in ("date", "datetime")
    }
    assert asked
    assert [path for path in sorted(asked) if Path(path).parts[0] not in ASK] == []


@pytest.mark.parametrize("day", LATER)
@pytest.mark.parametrize(
    "typed",
    [
        ["recipe", "northern red oak", "--moisture", "fresh"],
        ["recipe", "northern red oak", "--usual-frost", "05-10"],
        ["recipe", "apple", "--moisture", "dried", "--stored-years", "2", "--format", "json"],
        ["trial", "apple", "--seeds", "60"],
    ],
)
def test_an_answer_of_later_is_that_of_the_clock(
    typed: list[str], day: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([*typed, "--today", day]) == 0
    said = capsys.readouterr().out
    with time_machine.travel(f"{day}T09:00:00+00:00"):
        assert main(typed) == 0
    assert capsys.readouterr().out == said
    assert day[:4] in said


def test_old_notes_on_law_warn_and_stop_nobody(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """So that a check of a library passes in five years, too, and says what is to be read again."""
    record = Path(__file__).parents[1] / "records" / "good" / "full" / "exemplum-arboreum.yaml"
    own = tmp_path / "exemplum" / record.name
    own.parent.mkdir()
    own.write_text(record.read_text("utf-8"), "utf-8")
    (tmp_path / "bibliography.yaml").write_text("[]\n", "utf-8")
    found = []
    for day in ("2026-11-30", "2031-03-01"):
        main(["species", "check", str(tmp_path), "--today", day])
        found.append("stale-law" in capsys.readouterr().out)
    assert found == [False, True]
