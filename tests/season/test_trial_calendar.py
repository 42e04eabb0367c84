"""The calendar of a trial: every step of every part, on the day on which the page has it begin."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from coldspell.api import shipped
from coldspell.cli.main import main

icalendar = pytest.importorskip("icalendar", reason="type: uv run --all-groups pytest (the group surfaces)")
TODAY = "2026-11-30"


@pytest.mark.parametrize("typed", ["trial red oak", "trial Nothofagus alpina", "recipe Nothofagus alpina"])
@pytest.mark.parametrize("said", ["", "--climate temperate --shed dry"])
def test_every_step_of_every_part_stands_on_its_day(typed: str, said: str, tmp_path: Path) -> None:
    """Of a kind without a record the recipe is a trial, too; read back by the library icalendar."""
    file = tmp_path / "t.ics"
    command, name = typed.split(maxsplit=1)
    options = ["--seeds", "100", "--today", TODAY, "--no-settings", *said.split(), "-o", str(file)]
    assert main([command, *name.split(), *options]) == 0
    events = icalendar.Calendar.from_ical(file.read_bytes()).walk("VEVENT")
    found = [(one["summary"][0], one["dtstart"].dt, one["description"].split("\n")[1]) for one in events]
    facts = dict(zip(("climate", "shed"), ("temperate", "dry"), strict=True)) if said else {}
    trial = shipped().trial(name, today=TODAY, seeds=100, **facts).trial
    assert trial is not None
    told = [(a.letter, date.fromisoformat(s.start), s.text) for a in trial.arms for s in a.steps]
    assert sorted(found) == sorted(told)
    assert len({str(one["uid"]) for one in events}) == len(told) > 3


def test_another_file_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["trial", "red", "oak", "-o", str(tmp_path / "t.pdf")]) == 2
    assert "FILE.ics" in capsys.readouterr().err


def test_a_trial_offers_no_table_and_refuses_one(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["trial", "--help"]) == 0
    assert "--lots" not in capsys.readouterr().out
    assert main(["trial", "--lots", "lots.csv"]) == 2
    assert "a trial divides one lot" in capsys.readouterr().err
