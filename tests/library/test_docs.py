"""Docs that are copies of what the code holds are not stale, and the example of docs/records.md holds."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from coldspell import document
from coldspell.library.checks.page import page
from coldspell.library.checks.treatments import CONDITIONS
from coldspell.library.schema import Violation, shipped_check, shipped_schema

ROOT = Path(__file__).parent.parent.parent
DOCS = ROOT / "docs"


def test_the_list_of_checks_is_current() -> None:
    """If this fails: python -m coldspell.library.checks.page > docs/checks.md."""
    assert (DOCS / "checks.md").read_text() == page()


@pytest.mark.parametrize("name", ["record", "csl-data", "common-words"])
def test_the_schemas_under_docs_are_current(name: str) -> None:
    """If this fails: copy src/coldspell/library/schemas/NAME.schema.json to docs/schemas/NAME-1.json."""
    schema = shipped_schema(name)
    assert json.loads((DOCS / "schemas" / f"{name}-1.json").read_text()) == schema
    assert schema["$id"].endswith(f"/schemas/{name}-1.json")


def test_records_md_lists_every_step_and_condition() -> None:
    text = (DOCS / "records.md").read_text()
    for word in shipped_schema("record")["$defs"]["step"]["properties"]["do"]["enum"]:
        assert re.search(rf"\b{word}\b", text), word
    for fact, values in CONDITIONS.items():
        row = next(line for line in text.splitlines() if line.startswith(f"| `{fact}`"))
        assert set(re.findall(r"`(\w+)`", row)) - {fact} >= values - {"unknown"}


def test_examples_of_records_md_are_valid() -> None:
    head = "name: Exemplum arboreum\nfamily: Exemplaceae\nrank: species\nplant: shrub\nunit: seed\n"
    blocks = re.findall(r"```yaml\n(.*?)```", (DOCS / "records.md").read_text(), re.DOTALL)
    checked = 0
    for block in blocks:
        if block.startswith("repos:"):
            continue
        report: list[Violation] = []
        shipped_check("record")(document.parse(head + block, "f"), report)
        assert not report, (block, report[0].what)
        checked += 1
    assert checked >= 3


def test_hooks_run_commands_that_exist() -> None:
    hooks = document.plain(document.parse((ROOT / ".pre-commit-hooks.yaml").read_text(), "f"))
    assert {hook["entry"].split(" --")[0] for hook in hooks} == {"coldspell species check"}
