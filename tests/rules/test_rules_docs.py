"""The guide for rule writers shows what the check really prints, and lists every check there is."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest
from rules_lots import HERE

from coldspell.rules.audit import audit
from coldspell.rules.compiler import compile_files
from coldspell.rules.model import Finding

ROOT = HERE.parent.parent
RULES = list((ROOT / "rules").glob("*.yaml"))
GUIDE = (ROOT / "docs" / "rules.md").read_text(encoding="utf-8")


BEHIND = {
    "behind.yaml": """
facts:
  - {fact: seeds, from: lot, unit: seeds, bounds: [1, 1000000], means: How many.}
  - {fact: dormancy, from: record, values: [none, physical], means: Dormancy class.}
""",
    "lies.yaml": """
fields:
  - {field: lies, of: route, means: How it lies., words: {cold: cold, warm: warm, no: not moist}}
""",
    "route.yaml": """
decision: route
asks: Which way?
policy: first
given: [size]
answers:
  treat_cold: {says: Treat it cold., lies: cold}
  treat_warm: {says: Treat it warm., lies: warm}
  sow: {says: Sow it., lies: no}
rules:
  - {rule: fine seed, when: {size: fine}, choose: sow, because: It is dust.}
  - {rule: large seed, when: {size: large}, choose: treat_warm, because: It is from warm countries.}
  - {rule: otherwise cold, when: {}, choose: treat_cold, because: It rests.}
""",
}
"""What the examples take for granted."""


def blocks() -> dict[str, str]:
    """The examples of the guide that are files, by their first key."""
    found = re.findall(r"```yaml\n((\w+):.*?)```", GUIDE, re.S)
    assert len({key for _, key in found}) == len(found)
    return {f"{key}.yaml": text for text, key in found}


def findings(files: dict[str, str]) -> list[Finding]:
    book, found = compile_files(
        [(name, text.encode()) for name, text in files.items()], {"bonner-karrfalt-2008"}
    )
    return found or list(audit(book).findings)


def test_the_examples_are_rules_without_a_fault() -> None:
    files = blocks()
    assert files.keys() == {
        "facts.yaml",
        "fields.yaml",
        "placeholders.yaml",
        "practice.yaml",
        "decision.yaml",
    }
    noted = findings(files | BEHIND)
    assert [str(f) for f in noted if f.check != "unused-fact"] == []  # dormancy: for the row below


def test_the_impossible_row_of_the_guide_can_stand_in_a_table() -> None:
    (row,) = re.findall(r"```yaml\n(  - rule: .*?)```", GUIDE, re.S)
    table = """
decision: opening
asks: Is the coat opened?
policy: unique
given: [dormancy, shape]
answers: {open: Open it., leave: Leave it.}
rules:
  - {rule: none, when: {dormancy: none}, choose: leave, because: It takes up water.}
  - {rule: hard, when: {dormancy: physical, shape: not cold}, choose: open, because: It does not.}
"""
    shape = "facts:\n  - {fact: shape, from: measured, values: [cold, scarify], means: The treatment.}\n"
    files = blocks() | BEHIND | {"shape.yaml": shape, "opening.yaml": table + row}
    assert findings(files) == []


def test_a_cite_of_the_guide_can_be_written() -> None:
    (cite,) = re.findall(r"`(\{source: [^`]*)`", GUIDE)
    files = blocks() | BEHIND
    files["route.yaml"] = files["route.yaml"].replace("It is dust.", f"It is dust., cite: {cite}")
    assert [f for f in findings(files) if f.check != "unused-fact"] == []


def test_the_first_table_names_every_file_that_is_no_decision() -> None:
    listed = set(re.findall(r"^\| `(\w+\.yaml)` \|", GUIDE, re.M))
    first = {path.name: re.findall(r"^(\w+):", path.read_text("utf-8"), re.M) for path in RULES}
    assert listed == {name for name, keys in first.items() if "decision" not in keys}


@pytest.mark.parametrize("case", ["gap", "overlap", "dead-row"])
def test_typical_mistakes_are_shown_as_the_check_prints_them(case: str) -> None:
    assert (HERE / "bad" / case / "expect.txt").read_text(encoding="utf-8") in GUIDE


def test_every_check_is_listed() -> None:
    """Ids are the texts that ``error``, ``warning`` and ``_error`` are called with, before the message."""
    used = set()
    for path in Path(ROOT, "src/coldspell/rules").glob("*.py"):
        for call in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(call, ast.Call) and isinstance(call.func, ast.Attribute):
                position = {"error": 1, "warning": 1, "_error": 0}.get(call.func.attr)
                if position is not None and isinstance(call.args[position], ast.Constant):
                    used.add(call.args[position].value)
    table = GUIDE.split("## Every check")[1]
    listed = {
        word for line in table.splitlines() for word in re.findall(r"`([a-z-]+)`", line.split(" | ")[0])
    }
    assert len(used) > 30
    assert used == listed
