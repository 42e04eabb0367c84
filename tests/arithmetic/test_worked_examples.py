"""Published examples to the printed digits, doctests of every module, and the table in the documentation."""

from __future__ import annotations

import doctest
import importlib
import pkgutil
from pathlib import Path

import pytest
from worked_examples import EXAMPLES, Example, table

import coldspell.arithmetic

MODULES = [f"coldspell.arithmetic.{m.name}" for m in pkgutil.iter_modules(coldspell.arithmetic.__path__)]


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda e: e.topic)
def test_published_example(example: Example) -> None:
    assert example.agrees(), (example.expected, example.ours())


def test_a_wrong_figure_would_be_noticed() -> None:
    right = EXAMPLES[1].ours()
    with pytest.raises(ValueError, match="shorter"):
        Example("t50, one missing", "none", right, lambda: right[:1]).agrees()
    assert not Example("t50, wrong", "none", [5.97, 5.94], EXAMPLES[1].ours, relative=1e-6).agrees()


@pytest.mark.parametrize("name", [*MODULES, "coldspell.cli.output"])
def test_doctests(name: str) -> None:
    failed, _ = doctest.testmod(importlib.import_module(name))
    assert failed == 0


def test_doctests_exist_in_every_module() -> None:
    tried = {name: doctest.testmod(importlib.import_module(name)).attempted for name in MODULES}
    assert sum(tried.values()) > 70


def test_documented_table_is_current() -> None:
    page = Path(__file__).parents[2] / "docs" / "numbers.md"
    assert table() in page.read_text("utf-8"), "run python tests/arithmetic/worked_examples.py"
