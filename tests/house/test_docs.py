"""The examples in the documentation run and print what they say."""

from __future__ import annotations

import doctest
from pathlib import Path

import pytest

DOCS = Path(__file__).parents[2] / "docs"


@pytest.mark.parametrize("name", ["python.md"])
def test_examples_print_what_they_say(name: str) -> None:
    found = doctest.testfile(str(DOCS / name), module_relative=False)
    assert found.attempted >= 5
    assert found.failed == 0
