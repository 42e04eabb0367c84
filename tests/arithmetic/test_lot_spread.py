"""The range of "nine times in ten" against counts of real lots; source in tests/benchmarks/lot_spread.py."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent / "benchmarks"))

import lot_spread

from coldspell.decide.practice import practice_of
from coldspell.rulebook import load_rulebook


def test_nine_in_ten_of_real_lots() -> None:
    groups = lot_spread.trials()
    assert sum(map(len, groups)) == 149
    usual = practice_of(load_rulebook().book.practice).lot_spread_points[0]
    assert 85 <= lot_spread.coverage(groups, usual / 100) <= 95
    assert lot_spread.coverage(groups, 0.0) < 50
