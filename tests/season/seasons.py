"""Tables of lots in awkward states, for the tests of seasons."""

from __future__ import annotations

import csv
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import Any

import lots as drawn

from coldspell.season.planning import Planner

DAY = date(2026, 11, 30)


def written(path: Path, found: Sequence[dict[str, Any]]) -> Path:
    """A table of lots as CSV, with the facts that any of them says."""
    keys = dict.fromkeys(key for lot in found for key in lot)
    with path.open("w", newline="", encoding="utf-8") as stream:
        writer = csv.DictWriter(stream, list(keys))
        writer.writeheader()
        writer.writerows({k: _cell(v) for k, v in lot.items()} for lot in found)
    return path


def _cell(value: Any) -> Any:
    return " ".join(value) if isinstance(value, list) else value


def some_lots(planner: Planner, count: int, seed: int) -> list[dict[str, Any]]:
    """Lots in awkward states, a column of our own among their facts."""
    lots = drawn.draw(planner.records.names, count, seed)
    return [
        {"lot": f"L{i}", "name": lot["name"], **lot["said"], "bench": i % 7} for i, lot in enumerate(lots, 1)
    ]
