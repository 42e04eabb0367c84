"""``coldspell rules list | show | check`` as a person or a job would call them."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from rules_lots import GOOD, HERE
from typer.testing import CliRunner, Result

from coldspell.cli.rules import app
from coldspell.errors import ColdspellError


def call(*words: str | Path) -> Result:
    return CliRunner().invoke(app, [str(word) for word in words], env={"COLUMNS": "100"})


def test_list_names_decisions_in_computed_order() -> None:
    done = call("list", "--rules", GOOD)
    assert done.exit_code == 0
    lines = done.output.splitlines()
    assert lines.index(next(x for x in lines if x.startswith("route"))) < lines.index(
        next(x for x in lines if x.startswith("medium"))
    )
    assert lines[-1] == "6 decisions, 22 rules, 8 facts"


def test_show_prints_a_decision_as_a_table() -> None:
    done = call("show", "medium", "--rules", GOOD)
    assert done.exit_code == 0
    for text in ("Exactly one rule holds", "Asked only where route is treat.", "small seed in a towel",
                 "up to 500", "tray: a tray"):  # fmt: skip
        assert text in done.output
    assert max(map(len, done.output.splitlines())) <= 100


def test_show_prints_rules_by_name() -> None:
    done = call("show", "moist and in a hurry", "--rules", GOOD)
    assert "route: moist and in a hurry" in done.output
    assert "handbook [recalled]; tables, Table 4 [read]" in done.output
    assert call("show", "otherwise", "--rules", GOOD).output.count("because") == 2
    assert call("show", "route: otherwise", "--rules", GOOD).output.count("because") == 1


def test_show_of_an_unknown_name_offers_the_nearest() -> None:
    error = call("show", "medum", "--rules", GOOD).exception
    assert isinstance(error, ColdspellError)
    assert error.exit_code == 2
    assert "'medium'" in error.mend


@pytest.mark.parametrize(("case", "check"), [("gap", "gap"), ("circle", "circle"), ("dead-row", "dead-row")])
def test_check_leaves_with_one_on_faults(case: str, check: str) -> None:
    done = call("check", "--rules", HERE / "bad" / case)
    assert done.exit_code == 1
    assert f"[{check}]" in done.output
    assert "1 fault" in done.output


def test_check_as_json() -> None:
    done = call("check", "--rules", HERE / "bad" / "gap", "--format", "json")
    told = json.loads(done.output)
    assert done.exit_code == 1
    assert told["ok"] is False
    (fault,) = (f for f in told["findings"] if f["severity"] == "error")
    assert (fault["line"], fault["column"], fault["check"]) == (1, 11, "gap")
    assert told["proofs"][0]["cells"] == 4  # small or not, up to 100 or not: all that its rules tell apart


def test_check_of_sound_rules(tmp_path: Path) -> None:
    library = tmp_path / "species"
    library.mkdir()
    (library / "bibliography.yaml").write_text("- {id: handbook, type: book}\n- {id: tables, type: book}\n")
    done = call("check", "--rules", GOOD, "--library", library)
    assert (done.exit_code, done.output.splitlines()[-1]) == (0, "no faults")
    assert call("check", "--rules", GOOD).exit_code == 1  # its sources are in no shipped bibliography


def test_a_missing_folder_is_wrong_use() -> None:
    error = call("check", "--rules", "/nowhere/rules").exception
    assert isinstance(error, ColdspellError)
    assert "no such rule file" in error.what
