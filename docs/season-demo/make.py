"""A season of sixty lots of an invented school nursery: every output into a folder.

    uv run --all-groups python docs/season-demo/make.py FOLDER

Fernhollow School, its refrigerator, its holidays and its seed are invented.
"""

from __future__ import annotations

import contextlib
import sys
from pathlib import Path

from coldspell.cli.main import main

LOTS = Path(__file__).parent / "lots.csv"
TODAY = "2026-11-30"
WORKING = ["--capacity", "120", "--look-day", "friday", "--closed", "2026-12-19..2027-01-03"]
OUTPUTS = (
    "season.csv", "season.jsonl", "season.parquet", "season.ics", "season.pdf", "season.html", "ticks.pdf",
    "ticks.html", "season.svg", "season.png", "labels.pdf", "pot-labels.pdf",
)  # fmt: skip


def make(folder: Path) -> None:
    """Write the page and every file."""
    folder.mkdir(parents=True, exist_ok=True)
    said = [
        "season",
        str(LOTS),
        "--today",
        TODAY,
        "--last-frost",
        "2027-05-10",
        "--refrigerator",
        "own",
        *WORKING,
    ]
    for name in OUTPUTS:
        form = ["--label-form", "pot"] if name.startswith("pot") else []
        with (folder / "page.txt").open("w", encoding="utf-8") as page, contextlib.redirect_stdout(page):
            code = main([*said, "-o", str(folder / name), *form])
        if code:
            raise SystemExit(f"{name}: exit code {code}")


if __name__ == "__main__":
    make(Path(sys.argv[1] if len(sys.argv) > 1 else "season-demo"))
