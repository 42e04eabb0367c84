"""``coldspell rules list | show | check`` as a person or a job would call them.

The commands take whole sets of rules, held against the names of the program; so faults are planted in copies
of the shipped rules. How they write is tested on the small rule book of the tests.
"""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path
from xml.etree import ElementTree

import pytest
from rules_lots import GOOD, SHIPPED
from typer.testing import CliRunner, Result

from coldspell.cli import rules_text
from coldspell.cli.rules import app
from coldspell.errors import ColdspellError
from coldspell.rules import load_rules

pytestmark = pytest.mark.long


def call(*words: str | Path) -> Result:
    return CliRunner().invoke(app, [str(word) for word in words], env={"COLUMNS": "100"})


def test_list_names_decisions_in_computed_order() -> None:
    done = call("list")
    assert done.exit_code == 0
    lines = done.output.splitlines()
    names = [line.split()[0] for line in lines if line]
    assert names.index("route") < names.index("medium") < names.index("notes")
    decisions = len(list(SHIPPED.glob("*.yaml"))) - 4  # facts, fields, placeholders, practice
    assert re.fullmatch(rf"{decisions} decisions, \d+ rules, \d+ facts", lines[-1])
    assert rules_text.listing(load_rules([GOOD])).splitlines()[-1] == "8 decisions, 28 rules, 8 facts"


def test_show_prints_a_decision_as_a_table() -> None:
    done = call("show", "wait")
    assert done.exit_code == 0
    assert "Asked only where" in done.output
    assert max(map(len, done.output.splitlines())) <= 100
    page = rules_text.decision(load_rules([GOOD]).decisions["medium"], 100)
    for text in ("Exactly one rule holds", "Asked only where route is treat.", "small seed in a towel",
                 "up to 500", "tray: a tray [covered: no, litres: 2]"):  # fmt: skip
        assert text in page


def test_show_prints_rules_by_name() -> None:
    done = call("show", "winter outdoors")
    assert done.output.startswith("route: winter outdoors\n")
    assert "  cite     common practice\n" in done.output
    assert f"  at       {SHIPPED / 'route.yaml'}:" in done.output
    book = load_rules([GOOD])
    told = rules_text.rule(book.decisions["route"], book.rule("route", "moist and in a hurry"))
    assert "handbook [recalled]; tables, Table 4 [read]" in told
    assert "sow: Sow it now. [lies: no]" in told


def test_show_gives_all_rules_of_a_name_or_the_one_of_a_decision() -> None:
    both = call("show", "must not dry, needs no cold").output
    assert both.count("because") == 2
    assert both.index("keeping: must not dry") < both.index("route: must not dry")
    assert call("show", "route: must not dry, needs no cold").output.count("because") == 1


def test_show_of_an_unknown_name_offers_the_nearest() -> None:
    error = call("show", "medum").exception
    assert isinstance(error, ColdspellError)
    assert error.exit_code == 2
    assert "'medium'" in error.mend


FAULTS = {
    "gap": ("closure.yaml", "not recalcitrant}", "orthodox}", "behaviour: intermediate"),
    "circle": ("route.yaml", "given: [", "given: [medium, ", "decisions in a circle: "),
    "dead-row": ("route.yaml", "{identity: not_known}", "{identity: ask_which}", "chilling' never"),
}  # fmt: skip


@pytest.fixture
def rules(tmp_path: Path) -> Path:
    return shutil.copytree(SHIPPED, tmp_path / "rules")


@pytest.mark.parametrize("check", FAULTS)
def test_check_leaves_with_one_on_faults(check: str, rules: Path) -> None:
    file, old, new, told = FAULTS[check]
    text = (rules / file).read_text(encoding="utf-8")
    assert old in text
    (rules / file).write_text(text.replace(old, new, 1), encoding="utf-8")
    done = call("check", "--rules", rules)
    assert done.exit_code == 1
    assert f"[{check}]" in done.output
    assert told in done.output
    assert re.search(r"^\d+ faults?", done.output, re.M)


def test_check_as_json(rules: Path) -> None:
    path = rules / "closure.yaml"
    path.write_text(path.read_text(encoding="utf-8").replace("not recalcitrant}", "orthodox}"))
    told = json.loads(call("check", "--rules", rules, "--format", "json").output)
    assert told["ok"] is False
    (fault,) = (f for f in told["findings"] if f["severity"] == "error")
    assert (Path(fault["file"]), fault["line"], fault["column"]) == (path, 1, 11)
    assert (fault["check"], "intermediate" in fault["message"]) == ("gap", True)
    assert {p["decision"]: p["cells"] for p in told["proofs"]}["on_mould"] > 1


def test_check_of_sound_rules() -> None:
    done = call("check")
    assert (done.exit_code, done.output.splitlines()[-1]) == (0, "no faults")
    assert re.search(r"^\d+ decisions, \d+ rules, \d+ combinations of labels settled$", done.output, re.M)


def test_sources_of_rules_stand_in_a_bibliography(rules: Path, tmp_path: Path) -> None:
    """The shipped one, or that of a library that is named."""
    path = rules / "on_mould.yaml"
    path.write_text(path.read_text(encoding="utf-8").replace("because:", "cite: my-notes\n    because:", 1))
    done = call("check", "--rules", rules)
    assert (done.exit_code, "cites 'my-notes', which is not in the bibliography" in done.output) == (1, True)
    library = tmp_path / "species"
    library.mkdir()
    (library / "bibliography.yaml").write_text("- {id: my-notes, type: book}\n")
    assert call("check", "--rules", rules, "--library", library).exit_code == 0


def test_a_missing_folder_is_wrong_use() -> None:
    error = call("check", "--rules", "/nowhere/rules").exception
    assert isinstance(error, ColdspellError)
    assert "no such rule file" in error.what


def test_diff_tells_rules_and_recipes_that_change(tmp_path: Path) -> None:
    changed = tmp_path / "rules"
    shutil.copytree(SHIPPED, changed)
    table = changed / "what_if.yaml"
    text = table.read_text("utf-8")
    old = "Pot what shows a root, in a bright place at {pot_cool}; no heater."
    assert text.count(old) == 1
    table.write_text(text.replace(old, old.replace("heater", "heating mat")), "utf-8")
    done = call("diff", SHIPPED, changed, "--records", "25")
    assert done.exit_code == 0
    lines = done.output.splitlines()
    assert lines[0] == "changed  what_if: early roots of small seed"
    assert any(line.startswith("    + ROOTED?") and "no heating mat" in line for line in lines)
    told = json.loads(call("diff", SHIPPED, changed, "--records", "25", "--format", "json").output)
    assert [rule["rule"] for rule in told["rules"]] == ["what_if: early roots of small seed"]
    assert f"{len(told['recipes'])} recipes change" in lines[-2]


def test_diff_of_the_same_rules_is_nothing() -> None:
    done = call("diff", SHIPPED, SHIPPED, "--records", "5")
    assert done.output.splitlines()[0] == "0 rules or numbers differ, 0 recipes change"


def test_a_moved_row_is_a_change_where_the_order_decides(tmp_path: Path) -> None:
    changed = tmp_path / "rules"
    shutil.copytree(SHIPPED, changed)
    table = changed / "looks.yaml"  # collects: the order decides nothing
    text = table.read_text("utf-8")
    names = ("root in a root-first kind", "root in other kinds", "fuzz")
    first, last, end = (text.index(f"  - rule: {name}") for name in names)
    table.write_text(text[:first] + text[last:end] + text[first:last] + text[end:], "utf-8")
    assert call("diff", SHIPPED, changed, "--records", "5").output.startswith("0 rules or numbers differ")


def test_a_changed_rule_is_tried_on_a_lot(tmp_path: Path) -> None:
    changed = tmp_path / "rules"
    shutil.copytree(SHIPPED, changed)
    table = changed / "what_if.yaml"
    table.write_text(table.read_text("utf-8").replace("No warm windowsill", "No sill over a heater"), "utf-8")
    from coldspell.api import Library

    lib = Library(rules=changed)
    assert "No sill over a heater" in " ".join(lib.page(lib.recipe("northern red oak")).split())


@pytest.mark.parametrize("form", ["github", "sarif", "junit"])
def test_check_in_the_forms_of_the_records_check(rules: Path, form: str) -> None:
    file = rules / "route.yaml"
    file.write_text(file.read_text("utf-8").replace("because:", "becuase:", 1), "utf-8")
    done = call("check", "--rules", rules, "--format", form)
    assert done.exit_code == 1
    if form == "github":
        assert re.search(r"(?m)^::error file=.*route\.yaml,line=\d+,col=\d+,title=unknown-key::", done.output)
    elif form == "sarif":
        (log,) = json.loads(done.output)["runs"]
        ids = [rule["id"] for rule in log["tool"]["driver"]["rules"]]
        assert [ids[one["ruleIndex"]] for one in log["results"]] == [one["ruleId"] for one in log["results"]]
    else:
        suite = ElementTree.fromstring(done.output)[0]
        assert suite.get("failures") == str(len(suite.findall("testcase/failure"))) != "0"


def test_explain() -> None:
    assert "no rule of a" in call("check", "--explain", "gap").output
    assert "overlap" in getattr(call("check", "--explain", "overlp").exception, "mend", "")
