"""A changed set of rules: every command that decides tries it; the comparison sees all that a page prints."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from coldspell.cli.commands_page import every_command
from coldspell.cli.main import main
from coldspell.cli.rules import app
from coldspell.rulebook import load_rulebook

pytestmark = pytest.mark.long

ROOT = Path(__file__).parents[2]
SHIPPED = ROOT / "rules"
LOTS_FILE = ROOT / "docs" / "season-demo" / "lots.csv"
LOOKS = ("name: look_every_days, value: 14", "name: look_every_days, value: 10")
COMMANDS = {
    "recipe": ("red oak",),
    "trial": ("red oak",),
    "choose": (),
    "trouble": ("red oak", "--what", "mould"),
    "sheet": ("red oak", "-o", "never.pdf"),
    "season": (str(LOTS_FILE),),
    "season compare": (str(LOTS_FILE), str(LOTS_FILE)),
    "page": ("--port", "0"),
    "page export": ("never",),
}


@pytest.fixture
def mine(tmp_path: Path) -> Path:
    return Path(shutil.copytree(SHIPPED, tmp_path / "mine"))


def _exchange(file: Path, old: str, new: str) -> None:
    text = file.read_text("utf-8")
    assert text.count(old) == 1, old
    file.write_text(text.replace(old, new), "utf-8")


def _diff(mine: Path, *options: str) -> Result:
    done = CliRunner().invoke(app, ["diff", str(SHIPPED), str(mine), *options])
    assert done.exit_code == 0, done.exception
    return done


def test_every_command_that_decides_takes_rules() -> None:
    """Those that take a library but decide nothing look things up in it, or are about rules themselves."""
    takes = {" ".join(path): {o for p in one.params for o in p.opts} for path, one in every_command()}
    decide = {name for name, own in takes.items() if "--library" in own}
    decide = {name for name in decide if name.split()[0] not in ("species", "rules")}
    assert decide == {*COMMANDS}
    assert {name for name, own in takes.items() if "--rules" in own} >= decide


@pytest.mark.parametrize("command", COMMANDS)
def test_the_rules_that_are_named_are_read(
    command: str, mine: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for extra in {"sheet": ("typst",), "page": ("litestar", "uvicorn"), "page export": ("jinja2",)}.get(
        command, ()
    ):
        pytest.importorskip(extra)
    (mine / "wetness.yaml").write_text("decision: [\n", "utf-8")
    arguments = [*command.split(), *COMMANDS[command], "--rules", str(mine)]
    assert main(arguments) == 2
    assert "wetness.yaml" in capsys.readouterr().err


def test_rules_are_tried_on_a_table(mine: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    table = tmp_path / "lots.csv"
    table.write_text("name,seeds,moisture\napple,20,dried\n", "utf-8")
    _exchange(mine / "practice.yaml", *LOOKS)
    dates = []
    for rules in ([], ["--rules", str(mine)]):
        assert main(["recipe", "--lots", str(table), "--today", "2026-10-12", "--no-settings", *rules]) == 0
        dates.append(json.loads(capsys.readouterr().out)["recipe"]["checks"]["dates"])
    assert dates[0] != dates[1]


def test_a_change_of_days_is_a_change(mine: Path) -> None:
    """No sentence changes here: what differs is the line LOOK of the page."""
    _exchange(mine / "practice.yaml", *LOOKS)
    lines = _diff(mine, "--records", "8").output.splitlines()
    assert lines[0] == "changed  practice: look_every_days"
    assert any(line.startswith("    + checks dates: ") for line in lines)
    assert " 0 recipes change" not in lines[-2]


def test_a_limit_that_other_rows_do_not_have_changes_them_not(mine: Path) -> None:
    """The cells of a decision are cut by every row; a row is what stands in it."""
    _exchange(
        mine / "medium.yaml",
        "{size: small, sheets: up to 8, moist_days: up to 100}",
        "{size: small, sheets: up to 8, moist_days: up to 99}",
    )
    lines = _diff(mine, "--records", "3").output.splitlines()
    changed = [line for line in lines if line.startswith("changed")]
    assert changed == ["changed  medium: small seed in a towel"]


def test_a_new_answer_that_nobody_names_is_told(mine: Path) -> None:
    book = load_rulebook([SHIPPED]).book
    tests = {name: {c.fact for rule in d.rules for c in rule.when} for name, d in book.decisions.items()}
    readers = {name for name, facts in tests.items() if "medium" in facts}
    first = {name for name in readers if book.decisions[name].policy == "first"}
    text = (mine / "medium.yaml").read_text("utf-8")
    jar = text[text.index("  under_water:\n") : text.index("  naked:\n")].replace("under_water", "glass")
    text = text.replace("  naked:\n", jar + "  naked:\n", 1)
    row = "  - rule: few\n    when: {ground: water, started: up to 5}\n    choose: glass\n    because: Few.\n"
    text = text.replace("  - rule: water plants\n", f"{row}  - rule: water plants\n")
    (mine / "medium.yaml").write_text(text, "utf-8")
    told = json.loads(_diff(mine, "--records", "1", "--format", "json").output)["left_to_otherwise"]
    assert {one["answer"] for one in told} == {"medium: glass"}
    assert first & {one["decision"] for one in told}
    assert {one["decision"] for one in told} <= readers
    assert all(one["rows"] for one in told if one["decision"] in first)
