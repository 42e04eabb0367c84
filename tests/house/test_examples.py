"""The examples in docstrings and in the documentation run and print what they say."""

from __future__ import annotations

import doctest
import importlib
from pathlib import Path

import imports
import pytest

ROOT = Path(__file__).parents[2]
MODULES = [name for name, path in imports.modules().items() if ">>> " in path.read_text("utf-8")]
PAGES = [
    page for page in [*ROOT.glob("*.md"), *ROOT.rglob("docs/**/*.md")] if ">>> " in page.read_text("utf-8")
]


def named(module: str) -> str:
    return "coldspell" if module == "coldspell" else f"coldspell.{module}"


@pytest.mark.parametrize("module", MODULES)
def test_examples_in_docstrings_print_what_they_say(module: str) -> None:
    found = doctest.testmod(importlib.import_module(named(module)))
    assert found.attempted > 0
    assert found.failed == 0


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_examples_in_the_documentation_print_what_they_say(page: Path) -> None:
    found = doctest.testfile(str(page), module_relative=False)
    assert found.attempted >= 5
    assert found.failed == 0


def test_examples_stand_in_most_packages() -> None:
    rooms = {imports.room(name) for name in MODULES}
    assert rooms >= {"arithmetic", "coldspell", "library", "decide", "views", "cli"}
    assert len([name for name in MODULES if name.startswith("arithmetic.")]) > 12
    assert "python.md" in {page.name for page in PAGES}
