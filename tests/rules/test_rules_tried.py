"""A changed set of rules: every command that decides tries it; the comparison sees all that a page prints."""

from __future__ import annotations

import json
import shutil
from pathlib import Path
from typing import Any

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
    for one in told:
        if one["decision"] in first:
            assert one["rows"] == _open_rows(book.decisions[one["decision"]].rules)
    assert max(len(one["rows"]) for one in told) > 2


def _open_rows(rules: Any) -> list[str]:
    """Rows that a medium of its own name can meet, behind the first that it cannot: all that may take it."""
    tests = [[c.words for c in rule.when if c.fact == "medium"] for rule in rules]
    refused = [any(not words.startswith("not ") for words in each) for each in tests]
    found = [rule for at, rule in enumerate(rules) if not refused[at] and any(refused[:at])]
    return [rule.name for rule in found]


ROW = """  - rule: ours
    when: {%s}
    choose: %s
    because: Ours.
"""


def _put(mine: Path, table: str, before: str, when: str, answer: str) -> None:
    """A new rule before another one."""
    _exchange(mine / table, f"  - rule: {before}\n", ROW % (when, answer) + f"  - rule: {before}\n")


def test_a_row_put_in_above_others_moves_none_of_them(mine: Path) -> None:
    _put(mine, "layout.yaml", "by volume in one layer", "medium: bag_mix, one_layer: no", "by_volume")
    told = json.loads(_diff(mine, "--records", "1", "--format", "json").output)["rules"]
    assert told == [{"change": "added", "rule": "layout: ours"}]


def test_a_row_that_passes_another_has_moved_and_no_other(mine: Path) -> None:
    text = (mine / "layout.yaml").read_text("utf-8")
    rows = text[text.index("rules:\n") :].split("  - rule: ")
    rows.insert(4, rows.pop(1))  # the first behind the fourth
    (mine / "layout.yaml").write_text(text[: text.index("rules:\n")] + "  - rule: ".join(rows), "utf-8")
    told = json.loads(_diff(mine, "--records", "1", "--format", "json").output)["rules"]
    assert told == [{"change": "moved", "rule": "layout: by volume in one layer"}]


def test_when_a_table_is_asked_is_compared(mine: Path) -> None:
    _exchange(mine / "layout.yaml", "applies: {route.lies: [cold, warm]}", "applies: {route.lies: cold}")
    assert _diff(mine, "--records", "1").output.startswith("changed  layout: policy or applies\n")


def test_a_rule_that_nothing_comes_to_is_told_with_the_reason(mine: Path) -> None:
    """A row behind one that takes all its lots; one for a rare lot; one that only a trial asks."""
    _put(mine, "layout.yaml", "in a pit", "medium: bag_mix, started: over 30", "by_volume")
    told = json.loads(_diff(mine, "--records", "2", "--format", "json").output)["unmet"]
    assert [one["rule"] for one in told] == ["layout: ours"]
    assert "no lot can come to it: every lot it is for is taken by" in told[0]["why"]
    _exchange(mine / "layout.yaml", ROW % ("medium: bag_mix, started: over 30", "by_volume"), "")
    _put(mine, "layout.yaml", "in a pit", "medium: pit, started: over 999999", "in_pit")
    arms = mine / "arms.yaml"
    text, rows, rest = arms.read_text("utf-8").partition("\nrules:\n")
    arms.write_text(text + rows + rest.replace('because: "', 'because: "Now, ', 1), "utf-8")
    lines = [one for one in _diff(mine, "--records", "2").output.splitlines() if one.startswith("notice")]
    assert len(lines) == 2
    assert "it is for medium: pit; started: over 999999" in "".join(lines)
    assert "no recipe asks it; try it with coldspell trial … --rules NEW" in "".join(lines)


def test_a_rule_that_is_met_is_not_told(mine: Path) -> None:
    _put(mine, "layout.yaml", "by volume in one layer", "medium: [bag, towel_roll]", "one_alone")
    told = json.loads(_diff(mine, "--records", "6", "--format", "json").output)
    assert (told["unmet"], bool(told["recipes"])) == ([], True)


@pytest.mark.parametrize(
    ("value", "says"),
    [
        ("25000", "gap_mm: 25000 mm is outside 0 to 1500"),  # 25 m
        ("250", "gap_mm: 250 mm, where the shipped rules have 25"),  # 25 cm, as if centimetres were meant
        ("1", "gap_mm: 1 mm, where the shipped rules have 25"),  # an inch
        ("30", ""),
    ],
)
def test_a_number_of_another_unit_is_told(
    mine: Path, value: str, says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    _exchange(mine / "practice.yaml", "name: gap_mm, value: 25,", f"name: gap_mm, value: {value},")
    done = main(["rules", "check", "--rules", str(mine)])
    said = capsys.readouterr().out
    assert says in said
    assert ("[practice" in said) is bool(says)
    assert done == (1 if value == "25000" else 0)


def test_a_copy_of_the_rules_is_made_once_and_compared_with_them(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    own = tmp_path / "own rules"
    assert main(["rules", "copy", str(own)]) == 0
    assert f'coldspell rules check --rules "{own}"' in " ".join(capsys.readouterr().out.split())
    assert {path.name for path in own.iterdir()} == {path.name for path in SHIPPED.glob("*.yaml")}
    assert main(["rules", "diff", str(own), "--records", "1"]) == 0
    assert capsys.readouterr().out.startswith("0 rules or numbers differ, 0 recipes change")
    assert main(["rules", "copy", str(own)]) == 2
