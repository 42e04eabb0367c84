"""Published examples to the printed digits, and the table in the documentation."""

from __future__ import annotations

from pathlib import Path

import pytest
from worked_examples import EXAMPLES, Example, table


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda e: e.topic)
def test_published_example(example: Example) -> None:
    assert example.agrees(), (example.expected, example.ours())


def test_a_wrong_figure_would_be_noticed() -> None:
    right = EXAMPLES[1].ours()
    with pytest.raises(ValueError, match="shorter"):
        Example("t50, one missing", "none", right, lambda: right[:1]).agrees()
    assert not Example("t50, wrong", "none", [5.97, 5.94], EXAMPLES[1].ours, relative=1e-6).agrees()


def test_documented_table_is_current() -> None:
    page = Path(__file__).parents[2] / "docs" / "numbers.md"
    assert table() in page.read_text("utf-8"), "run python tests/arithmetic/worked_examples.py"
