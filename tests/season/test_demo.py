"""The sixty lots of the documentation: every output is made, and each row is planned."""

from __future__ import annotations

import csv
import importlib.util
from pathlib import Path

import pytest

pytestmark = pytest.mark.long

MAKE = Path(__file__).parents[2] / "docs" / "season-demo" / "make.py"


def test_every_output_is_made(tmp_path: Path) -> None:
    for module in ("pyarrow", "icalendar", "typst", "segno"):
        pytest.importorskip(module, reason="type: uv run --all-groups pytest (the group surfaces)")
    spec = importlib.util.spec_from_file_location("season_demo", MAKE)
    assert spec is not None
    assert spec.loader is not None
    demo = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(demo)
    demo.make(tmp_path)
    assert {path.name for path in tmp_path.iterdir()} == {*demo.OUTPUTS, "page.txt"}
    assert all(path.stat().st_size > 500 for path in tmp_path.iterdir())
    with (tmp_path / "season.csv").open(encoding="utf-8", newline="") as stream:
        rows = list(csv.DictReader(stream))
    assert len(rows) == 60
    assert len({row["lot"] for row in rows}) == 60
    assert sum(bool(row["sow"]) for row in rows) >= 58
