"""How often "nine times in ten" holds for lots of one kind, by real counts.

    python tests/benchmarks/lot_spread.py

``tests/data/lots_of_one_kind.csv`` holds 149 lots of 36 species from 29 published papers: of each trial and
species the treatment with the best mean, one row for each lot (provenance, tree or year), with seeds tested
and seeds sprouted, worked out from the percent and the seeds given. They were taken from the table
``analyses/output/moreThan1Prov.csv`` of the open collection EGRET (Environmental Germination Responses to
Experimental Treatments, Temporal Ecology Lab, University of British Columbia,
github.com/lizzieinvancouver/egret, commit f817670804f4, 2026-08-17), where the papers are named by author and
year (``trial``). Lots with several values for one treatment, under 20 seeds or over 5,000 are left out.

Each lot is foretold from the mean of the other lots of its trial, as a record foretells a lot from one
figure. Printed: the share of lots whose count lies in the range that is said to hold nine times in ten, with
no spread between lots, and with some. The spread of ``rules/practice.yaml`` was chosen on these lots; the
halves (trials in turn) show how much hangs on which trials they are. They prove nothing for other kinds.
"""

from __future__ import annotations

import csv
import itertools
import statistics
from pathlib import Path

from coldspell.arithmetic.plants import plants_expected, spread_share

DATA = Path(__file__).parent.parent / "data" / "lots_of_one_kind.csv"
Lot = tuple[int, int]
LEVEL = 0.9


def trials() -> list[list[Lot]]:
    """Seeds and sprouted of each lot, by trial and species."""
    with DATA.open(newline="", encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    groups = itertools.groupby(rows, key=lambda row: (row["trial"], row["species"]))
    return [[(int(row["seeds"]), int(row["sprouted"])) for row in group] for _, group in groups]


def held(lots: list[Lot], points: float) -> list[bool]:
    """Whether each lot of a trial lies in the range foretold from the others; spread in points of 1."""
    found = []
    for i, (seeds, sprouted) in enumerate(lots):
        others = statistics.mean(s / n for n, s in [*lots[:i], *lots[i + 1 :]])
        share = min(max(others, 0.005), 0.995)
        said = plants_expected(seeds, spread_share(share, share, points), LEVEL)
        found.append(said.low <= sprouted <= said.high)
    return found


def coverage(groups: list[list[Lot]], points: float) -> float:
    """Percent of the lots that lie in their range."""
    found = [inside for lots in groups for inside in held(lots, points)]
    return 100 * sum(found) / len(found)


def main() -> None:
    """Print the coverage for several spreads between lots, of all trials and of each half."""
    groups = trials()
    print(f"{sum(map(len, groups))} lots in {len(groups)} trials; said to hold nine times in ten")
    print("points   all   odd trials   even trials")
    for points in (0.0, 0.08, 0.12, 0.15, 0.2, 0.25):
        parts = [coverage(part, points) for part in (groups, groups[::2], groups[1::2])]
        print(f"{100 * points:6.0f}   {parts[0]:3.0f}   {parts[1]:10.0f}   {parts[2]:11.0f}")


if __name__ == "__main__":
    main()
