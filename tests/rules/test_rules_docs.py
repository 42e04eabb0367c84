"""The guide for rule writers shows what the check really prints, and lists every check there is."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest
from rules_lots import HERE

ROOT = HERE.parent.parent
GUIDE = (ROOT / "docs" / "rules.md").read_text(encoding="utf-8")


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
