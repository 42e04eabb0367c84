"""Docs that are made from the declaration are not stale, and the examples of the pages about records hold."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from coldspell.cli.publish import records
from coldspell.library.schema import Violation, shipped_check, shipped_schema
from coldspell.records.terms import MEANINGS
from coldspell.records.when import WHEN
from coldspell.yaml import document

ROOT = Path(__file__).parent.parent.parent
DOCS = ROOT / "docs"


@pytest.mark.parametrize("path", records(ROOT), ids=lambda path: path.name)
def test_what_is_published_about_records_is_current(path: Path) -> None:
    """If this fails: python -m coldspell.cli.publish."""
    assert path.read_text() == records(ROOT)[path]


@pytest.mark.parametrize("name", ["csl-data", "common-words", "beside-names"])
def test_the_schemas_under_docs_are_current(name: str) -> None:
    """If this fails: copy src/coldspell/library/schemas/NAME.schema.json to docs/schemas/NAME-1.json."""
    schema = shipped_schema(name)
    assert json.loads((DOCS / "schemas" / f"{name}-1.json").read_text()) == schema
    assert schema["$id"].endswith(f"/schemas/{name}-1.json")


def test_every_word_of_a_record_is_explained() -> None:
    text = (DOCS / "record-fields.md").read_text()
    for words in MEANINGS.values():
        for word, says in words.items():
            assert f"- `{word}`: {says}\n" in text
    for fact, asked in WHEN.items():
        row = next(line for line in text.splitlines() if line.startswith(f"| `{fact}`"))
        assert set(re.findall(r"`(\w+)`", row)) - {fact} >= set(asked.words)


@pytest.mark.parametrize("page", ["records.md", "record-fields.md"])
def test_examples_are_valid(page: str) -> None:
    head = "name: Exemplum arboreum\nfamily: Exemplaceae\nrank: species\nplant: shrub\nunit: seed\n"
    blocks = re.findall(r"```yaml\n(.*?)```", (DOCS / page).read_text(), re.DOTALL)
    checked = 0
    for block in blocks:
        if block.startswith("repos:"):
            continue
        report: list[Violation] = []
        given = "" if "\nname: " in block else head
        shipped_check("record")(document.parse(given + block, "f"), report)
        assert not report, (block, report[0].what)
        checked += 1
    assert checked >= 3


def test_hooks_run_commands_that_exist() -> None:
    hooks = document.plain(document.parse((ROOT / ".pre-commit-hooks.yaml").read_text(), "f"))
    assert {hook["entry"].split(" --")[0] for hook in hooks} == {"coldspell species check"}


def test_contributors_read_what_the_tables_of_tests_are() -> None:
    """A record may want a row in one of them: nobody finds that out from a red test."""
    text = (DOCS / "records.md").read_text("utf-8")
    tables = {path.name for path in (ROOT / "tests" / "data" / "external").iterdir()}
    assert len(tables) >= 8
    assert [name for name in sorted(tables) if f"`{name}`" not in text] == []
