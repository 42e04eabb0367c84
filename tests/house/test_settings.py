"""Settings: read by the command line alone, marked, off with ``--no-settings``; a bad file is one error."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path
from typing import Any

import platformdirs
import pytest

from coldspell import recipe
from coldspell.cli.main import main
from coldspell.settings.apply import facts_of
from coldspell.settings.file import settings_path

ASK = ["recipe", "peach", "--seeds", "20", "--today", "2026-11-30", "--format", "json"]


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    path = tmp_path / "config" / "settings.yaml"
    monkeypatch.setenv("COLDSPELL_SETTINGS", str(path))
    return path


def asked(capsys: pytest.CaptureFixture[str], *more: str) -> dict[str, Any]:
    assert main([*ASK, *more]) == 0
    found: dict[str, Any] = json.loads(capsys.readouterr().out)
    return found["lot"]


def test_set_show_and_take_out(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["settings", "set", "units", "us"]) == 0
    assert main(["settings", "set", "last_frost", "05-10"]) == 0
    assert main(["settings", "set", "fridge-celsius", "6"]) == 0
    assert main(["settings", "set", "fridge_celsius", ""]) == 0
    capsys.readouterr()
    assert main(["settings", "show"]) == 0
    shown = capsys.readouterr().out
    assert str(home) in shown
    assert "us" in shown
    assert home.read_text("utf-8") == 'units: "us"\nlast_frost: "05-10"\n'


def test_marked_and_off(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    home.parent.mkdir()
    home.write_text("hemisphere: south\nrefrigerator: own\nfridge_celsius: 4\nlast_frost: '09-20'\n", "utf-8")
    lot = asked(capsys)
    assert lot["from_settings"] == ["fridge_celsius", "refrigerator", "southern", "usual_frost"]
    assert lot["said"]["southern"] is True
    assert lot["said"]["usual_frost"] == "09-20"
    assert "refrigerator" not in lot["assumed"]
    assert asked(capsys, "--no-settings")["from_settings"] == []
    lot = asked(capsys, "--no-fridge", "--sow", "2027-04-15")
    assert lot["from_settings"] == ["southern", "usual_frost"]
    assert recipe("peach", today=date(2026, 11, 30)).lot.from_settings == ()


@pytest.mark.parametrize(
    ("said", "day"),
    [("15 May", "05-15"), ("May 15th", "05-15"), ("mid-May", "05-15"), ("the 2nd of June", "06-02"),
     ("end of April", "04-30"), (" 05-10 ", "05-10")],
)  # fmt: skip
def test_a_day_of_the_year_is_said_as_other_days_are(
    said: str, day: str, home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """In the settings, in their file, and for a lot."""
    assert main(["settings", "set", "last_frost", said]) == 0
    assert home.read_text("utf-8") == f'last_frost: "{day}"\n'
    home.write_text(f"last_frost: {said}\n", "utf-8")
    capsys.readouterr()
    assert asked(capsys)["said"]["usual_frost"] == day
    assert asked(capsys, "--no-settings", "--usual-frost", said)["said"]["usual_frost"] == day


@pytest.mark.parametrize("said", ["30 February", "May", "next May", "15 May 2027", "spring", "5", "may be"])
def test_words_that_are_no_day_of_every_year(
    said: str, home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["settings", "set", "last_frost", said]) == 2
    assert not home.exists()
    told = capsys.readouterr().err
    assert "last_frost" in told
    assert said in told


@pytest.mark.parametrize(
    "text",
    ["fridge: 4", "units: furlongs", "fridge_celsius: warm", "last_frost: 2027-05-10", "- units",
     "adviser: 7", "winter: [cold]", "last_frost: '13-01'", "units: us\nunits: us"],
)  # fmt: skip
def test_bad_file(text: str, home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    home.parent.mkdir()
    home.write_text(text, "utf-8")
    assert main(ASK) == 2
    told = json.loads(capsys.readouterr().err)  # the answer would be JSON, and so is the fault
    assert str(home) in told["error"]["where"]
    assert main(ASK[:-2]) == 2
    said = capsys.readouterr().err
    assert str(home) in said
    assert said.count("coldspell:") == 1
    assert main([*ASK, "--no-settings"]) == 0


def test_empty_file(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    home.parent.mkdir()
    home.write_text("# nothing yet\n", "utf-8")
    assert asked(capsys)["from_settings"] == []


def test_bad_value_is_not_written(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["settings", "set", "units", "furlongs"]) == 2
    assert main(["settings", "set", "colour", "green"]) == 2
    assert not home.exists()
    assert "one of: metric, us, both" in capsys.readouterr().err


def test_what_was_said_goes_before_a_setting() -> None:
    assert facts_of({"last_frost": "02-29"}, {}) == {"usual_frost": "02-29"}
    assert facts_of({"last_frost": "05-10"}, {"usual_frost": "04-20"}) == {}
    assert facts_of({"refrigerator": "none"}, {"fridge_celsius": 5}) == {}
    assert facts_of({"refrigerator": "own", "fridge_celsius": 5}, {"refrigerator": "none"}) == {}


@pytest.mark.parametrize(("today", "sow"), [("2026-10-12", "2027-09-2"), ("2027-08-20", "2028-09-2")])
def test_a_frost_of_the_settings_never_makes_it_too_late(
    today: str, sow: str, home: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A day taken from a setting is no day that the grower gave: what cannot be ready waits for a season."""
    home.parent.mkdir()
    home.write_text("hemisphere: south\nlast_frost: '10-20'\n", "utf-8")
    assert main(["recipe", "Corylus avellana", "--today", today, "--format", "json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["timing"]["fits"] in ("fits", "no_date", "tight"), found["timing"]
    assert found["sowing"]["date"].startswith(sow), found["sowing"]["date"]


def test_folder_of_the_user(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.delenv("COLDSPELL_SETTINGS")
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    assert settings_path().name == "settings.yaml"


def test_rows_of_a_table_take_settings_that_they_do_not_rule_out(
    home: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    home.parent.mkdir()
    home.write_text("hemisphere: south\nlast_frost: '10-20'\nfridge_celsius: 4\n", "utf-8")
    table = tmp_path / "lots.csv"
    table.write_text("name,seeds,southern,refrigerator\npeach,20,,\npeach,20,no,none\n", "utf-8")
    assert main(["recipe", "--lots", str(table), "--today", "2027-04-12"]) == 0
    first, second = (json.loads(line)["recipe"]["lot"] for line in capsys.readouterr().out.splitlines())
    assert first["from_settings"] == ["fridge_celsius", "southern", "usual_frost"]
    assert (first["said"]["southern"], first["said"]["fridge_celsius"]) == (True, 4)
    assert second["from_settings"] == []
    assert (second["said"]["southern"], second["said"]["fridge_celsius"]) == (False, None)
    assert main(["recipe", "--lots", str(table), "--today", "2027-04-12", "--no-settings"]) == 0
    assert '"from_settings":["' not in capsys.readouterr().out


def test_a_frost_belongs_to_its_hemisphere(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    home.parent.mkdir()
    home.write_text("last_frost: '05-10'\n", "utf-8")
    assert asked(capsys, "--southern")["from_settings"] == []


@pytest.mark.parametrize("own", [None, "", "relative", "/somewhere/else"])
def test_the_folder_is_that_of_the_library_for_it(own: str | None, monkeypatch: pytest.MonkeyPatch) -> None:
    """On Linux the path is put together without platformdirs, by the XDG Base Directory Specification."""
    monkeypatch.delenv("COLDSPELL_SETTINGS", raising=False)
    monkeypatch.delenv("XDG_CONFIG_HOME", raising=False)
    if own is not None:
        monkeypatch.setenv("XDG_CONFIG_HOME", own)
    folder = platformdirs.user_config_path("coldspell", appauthor=False)
    assert settings_path() == folder / "settings.yaml"


def test_a_fact_is_kept_under_the_name_of_its_setting(home: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The option of a lot has another name than the setting: nobody guesses it from a list."""
    assert main(["settings", "set", "usual-frost", "05-10"]) == 2
    assert "It is kept as last_frost" in capsys.readouterr().err
