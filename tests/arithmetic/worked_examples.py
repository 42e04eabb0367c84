"""The published worked examples, as data: what is printed where, and what our functions give.

Run as a program it prints the table that stands in docs/numbers.md. ``printed`` says whether the result
stands in the source, or is our own arithmetic on printed figures and so checks only a formula.
"""

from __future__ import annotations

import csv
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from coldspell.arithmetic import cold, germination, plants, responses, sowing, standards, water
from coldspell.arithmetic.calendar import Plan, plan_back
from coldspell.arithmetic.lengths import StepDays

DATA = Path(__file__).parent.parent / "data"
G1 = [0, 0, 0, 0, 4, 17, 10, 7, 1, 0, 1, 0, 0, 0]
GV = [0, 0, 34, 40, 21, 10, 4, 5, 3, 5, 8, 7, 7, 6, 6, 4, 0, 2, 0, 2]
DAYS = range(1, 15)
GM = "germinationmetrics 0.1.10, Introduction"
CFR = "7 CFR 201.55(a)"


@dataclass(frozen=True)
class Example:
    """One comparison: expected and ours are numbers, or sequences of them, compared within a tolerance."""

    topic: str
    source: str
    expected: Any
    ours: Callable[[], Any]
    relative: float = 0.0
    absolute: float = 0.0
    printed: bool = True

    def agrees(self) -> bool:
        return all(
            a == b or math.isclose(a, b, rel_tol=self.relative, abs_tol=self.absolute)
            for a, b in zip(flat(self.expected), flat(self.ours()), strict=True)
        )


def flat(value: Any) -> list[float]:
    if isinstance(value, Sequence) and not isinstance(value, str):
        return [number for item in value for number in flat(item)]
    return [value]


def read_data(name: str) -> list[dict[str, str]]:
    lines = [line for line in (DATA / name).read_text("utf-8").splitlines() if not line.startswith("#")]
    return list(csv.DictReader(lines))


def indices(counts: Sequence[int], sown: int) -> dict[str, Any]:
    spread = germination.mean_time(counts, DAYS)
    return {
        "germination_percent": germination.percent(sum(counts), sown),
        "t50_coolbear": germination.t50(counts, DAYS),
        "t50_farooq": germination.t50(counts, DAYS, "farooq"),
        "mean_time": spread.mean,
        "variance_time": spread.variance,
        "coefficient_of_velocity": germination.coefficient_of_velocity(counts, DAYS),
        "speed_count": germination.speed(counts, DAYS),
        "peak_value": germination.peak_value(counts, DAYS, sown)[0],
        "germination_value_czabator": germination.germination_value_czabator(counts, DAYS, sown),
        "synchrony_z": germination.synchrony(counts),
    }


def _index_examples() -> list[Example]:
    out = []
    for row in read_data("germination_indices.csv"):
        counts = [int(row[f"day{day}"]) for day in DAYS]
        ours = indices(counts, int(row["sown"]))
        names = list(ours)
        out.append(
            Example(
                f"10 indices, {row['sample']}",
                GM,
                [float(row[name]) for name in names],
                lambda ours=ours: list(ours.values()),  # type: ignore[misc]
                relative=1e-4,
            )
        )
    return out


def _time() -> list[float | None]:
    spread = germination.mean_time(G1, DAYS)
    return [spread.mean, spread.variance, spread.standard_error, spread.coefficient_of_variation]


def _speed() -> list[float]:
    count = germination.speed(G1, DAYS)
    return [count, count * 2, count * 2 / 80]


def _value() -> list[float]:
    days = range(1, 21)
    peak, day = germination.peak_value(GV, days, 200)
    whole = germination.percent(sum(GV), 200)
    return [whole, peak, day, whole / 20, germination.germination_value_czabator(GV, days, 200)]


def _start(target: date, *weeks: int) -> date:
    plan = plan_back(target, [StepDays("moist", 7 * w, 7 * w) for w in weeks])
    assert isinstance(plan, Plan)
    return plan.start


_FOUR, _TWO = ([r for r in read_data("replicate_tolerances.csv") if r[key]] for key in ("four", "two"))
_BULK = read_data("bulk_factors.csv")
_CHANCES = (0.1, 0.2, 0.25, 0.3, 0.4, 0.5, 0.6, 0.7, 0.75, 0.8, 0.85, 0.9, 0.95)
_PER_CELL = {
    0.8: (16, 8, 6, 5, 4, 3, 2, 2, 2, 1, 1, 1, 1),
    0.9: (22, 11, 9, 7, 5, 4, 3, 2, 2, 2, 2, 1, 1),
    0.95: (29, 14, 11, 9, 6, 5, 4, 3, 3, 2, 2, 2, 1),
    0.99: (44, 21, 17, 13, 10, 7, 6, 4, 4, 3, 3, 2, 2),
}

GERMINATION = [
    Example("germination percent", GM, 80.0, lambda: germination.percent(sum(G1), 50)),
    Example(
        "T50 Coolbear, Farooq",
        GM,
        [5.970588, 5.941176],
        lambda: [germination.t50(G1, DAYS), germination.t50(G1, DAYS, "farooq")],
        relative=1e-6,
    ),
    Example("mean time, variance, error, variation", GM, [6.7, 1.446154, 0.1901416, 0.1794868], _time, 1e-6),
    Example(
        "velocity, 1/T50 twice, synchrony",
        GM,
        [14.92537, 0.1674877, 0.1683168, 0.2666667],
        lambda: [
            germination.coefficient_of_velocity(G1, DAYS),
            1 / germination.t50(G1, DAYS),
            1 / germination.t50(G1, DAYS, "farooq"),
            germination.synchrony(G1),
        ],
        1e-6,
    ),
    Example("speed, in percent, corrected", GM, [6.138925, 12.27785, 0.1534731], _speed, 1e-5),
    Example(
        "germination value: percent, peak, day, mean daily, Czabator",
        GM,
        [82.0, 9.5, 5, 4.1, 38.95],
        _value,
        1e-4,
    ),
    *_index_examples(),
]

SOWING = [
    Example(
        "pure live seed of 85 and 75 percent (printed 0.64)",
        "Texas DOT, Pure live seed",
        [0.64, 1.56],
        lambda: [
            sowing.pure_live_seed_percent(85, 75) / 100,
            sowing.bulk_for_pure_live_seed(1, 85, 75),
        ],
        absolute=0.01,
    ),
    Example(
        "bulk factors, 11 x 11 (printed to 0.05)",
        "USGS Northern Prairie, Table 4",
        [[float(v) for k, v in row.items() if k != "purity"] for row in _BULK],
        lambda: [
            [sowing.bulk_for_pure_live_seed(1, float(row["purity"]), float(g)) for g in row if g != "purity"]
            for row in _BULK
        ],
        absolute=0.05,
    ),
    Example(
        "90 x 80 as good as 80 x 90: 36,000 a kg",
        "Willan 1985, chapter 9",
        [36000, 36000],
        lambda: [sowing.plants_per_kg(50000, 90, 80), sowing.plants_per_kg(50000, 80, 90)],
        relative=1e-12,
    ),
    Example(
        "pure seeds a kg behind 36,000",
        "Willan 1985",
        50000,
        lambda: 36000 / (sowing.pure_live_seed_percent(90, 80) / 100),
        relative=1e-12,
        printed=False,
    ),
    Example(
        "seeds a spot at 50 and 10 percent",
        "Roy 1957 in Schubert & Fowells 1964",
        [5, 29],
        lambda: [sowing.seeds_per_cell(0.95, 0.5), sowing.seeds_per_cell(0.95, 0.1)],
    ),
    Example(
        "five seeds at one in four",
        "Schubert & Fowells 1964",
        0.762695,
        lambda: sowing.filled_share(0.25, 5),
        absolute=5e-7,
        printed=False,
    ),
    Example(
        "seeds a cell, 13 x 4",
        "Schubert & Fowells 1964",
        list(_PER_CELL.values()),
        lambda: [[sowing.seeds_per_cell(p, g) for g in _CHANCES] for p in _PER_CELL],
        printed=False,
    ),
    Example(
        "cells filled by 1 to 4 seeds",
        "Schubert & Fowells 1964",
        [
            [0.5, 0.6, 0.7, 0.8, 0.9],
            [0.75, 0.84, 0.91, 0.96, 0.99],
            [0.875, 0.936, 0.973, 0.992, 0.999],
            [0.9375, 0.9744, 0.9919, 0.9984, 0.9999],
        ],
        lambda: [[sowing.filled_share(g, n) for g in (0.5, 0.6, 0.7, 0.8, 0.9)] for n in (1, 2, 3, 4)],
        absolute=5e-13,
        printed=False,
    ),
    Example(
        "plants a seed at 85 and 90 percent",
        "Barnett 2008",
        0.765,
        lambda: plants.product(plants.Share(0.85), plants.Share(0.9)).mean,
        relative=1e-12,
        printed=False,
    ),
    Example(
        "acorns a square metre, 6 in rows",
        "Taft 1966",
        [129.2, 64.6, 43.1],
        lambda: [sowing.density_per_m2(152.4, mm) for mm in (50.8, 101.6, 152.4)],
        absolute=0.1,
    ),
]

STANDARDS = [
    Example(
        "range of four replicates, 29 rows and mirrors",
        CFR,
        [[int(r["four"])] * 2 for r in _FOUR],
        lambda: [[standards.replicate_limit(int(r[k]), 4)[0] for k in ("mean", "mirror")] for r in _FOUR],  # type: ignore[index]
    ),
    Example(
        "range of two replicates, 27 rows and mirrors",
        CFR,
        [[int(r["two"])] * 2 for r in _TWO],
        lambda: [[standards.replicate_limit(int(r[k]), 2)[0] for k in ("mean", "mirror")] for r in _TWO],  # type: ignore[index]
    ),
    Example(
        "96 93 90 89 agree: mean, range, limit",
        CFR,
        [92.0, 7, 11, True],
        lambda: _tolerance([96, 93, 90, 89]),
        printed=False,
    ),
    Example(
        "98 95 92 87 do not",
        CFR,
        [93.0, 11, 10, False],
        lambda: _tolerance([98, 95, 92, 87]),
        printed=False,
    ),
]

WATER = [
    Example(
        "43 percent dry basis is 30 wet",
        "Johnson 1979",
        30,
        lambda: water.wet_basis_percent(43),
        absolute=0.2,
    ),
    Example(
        "wet to dry basis",
        "Johnson 1979",
        [5.263, 11.111, 42.857, 66.667, 100.0],
        lambda: [water.dry_basis_percent(w) for w in (5, 10, 30, 40, 50)],
        absolute=0.001,
        printed=False,
    ),
    Example(
        "bleach of 5.5 percent, a litre at a quarter percent: ml",
        "common practice",
        47,
        lambda: water.bleach_ml_per_litre(5.5, 0.25),
        absolute=1,
        printed=False,
    ),
]

COLD_AND_TIME = [
    Example(
        "chill units of peach buds, 24 h",
        "Richardson et al. 1974",
        [0, 12, 24, 12, 0, -12, -24],
        lambda: [
            24 * responses.response("peach_buds").weight(c, -99)
            for c in (0.5, 1.7, 4.0, 10.0, 14.0, 17.0, 20.0)
        ],
        printed=False,
    ),
    Example(
        "six weeks before 1 March is 18 January: days",
        "Forest Research, Metasequoia",
        (date(2027, 3, 1) - date(2027, 1, 18)).days,
        lambda: (date(2027, 3, 1) - _start(date(2027, 3, 1), 6)).days,
    ),
    Example(
        "24 and 40 weeks before 1 March (page: 6 December, 2 days early)",
        "Forest Research",
        (date(2027, 3, 1) - date(2025, 12, 6)).days,
        lambda: (date(2027, 3, 1) - _start(date(2027, 3, 1), 24, 40)).days,
        absolute=3,
    ),
    Example(
        "mazzard 2+2+2+14 weeks: days",
        "mazzard after 15-20 years of storage",
        140,
        lambda: (date(2027, 3, 1) - _start(date(2027, 3, 1), 2, 2, 2, 14)).days,
        printed=False,
    ),
    Example(
        "mazzard 6+2+2+2+14 weeks: days",
        "mazzard after 15-20 years of storage",
        182,
        lambda: (date(2027, 3, 1) - _start(date(2027, 3, 1), 6, 2, 2, 2, 14)).days,
        printed=False,
    ),
]


def _tolerance(percents: list[float]) -> list[float]:
    found = standards.replicate_tolerance(percents)
    return [found.mean_percent, found.range_points, found.limit_points, found.accept]


EXAMPLES: list[Example] = [*GERMINATION, *SOWING, *STANDARDS, *WATER, *COLD_AND_TIME]


def shown(value: Any) -> str:
    numbers = flat(value)
    texts = [str(n) if isinstance(n, (bool, int)) else f"{n:.7g}" for n in numbers[:16]]
    return ", ".join(texts) + (f", … ({len(numbers)})" if len(numbers) > 16 else "")


def table() -> str:
    lines = ["| example | source | printed (d: derived by us) | ours | agrees |", "|---|---|---|---|---|"]
    for example in EXAMPLES:
        mark = "" if example.printed else " d"
        row = (example.topic, example.source, shown(example.expected) + mark, shown(example.ours()))
        lines.append(f"| {' | '.join(row)} | {'yes' if example.agrees() else 'NO'} |")
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    assert cold
    print(table(), end="")
