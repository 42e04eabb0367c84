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

from coldspell.arithmetic import cold, germination, plants, responses, samples, sowing, standards, water
from coldspell.arithmetic.calendar import Plan, StepDays, plan_back
from coldspell.arithmetic.curve import fit_hill

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
        "germination_value_dp": germination.germination_value_dp(counts, DAYS, sown)[0],
        "germination_index": germination.germination_index(counts, DAYS, sown),
        "coefficient_of_uniformity": germination.uniformity(counts, DAYS),
        "synchrony_z": germination.synchrony(counts),
        "uncertainty_bits": germination.uncertainty_bits(counts),
    }


def _index_examples() -> list[Example]:
    out = []
    for row in read_data("germination_indices.csv"):
        counts = [int(row[f"day{day}"]) for day in DAYS]
        ours = indices(counts, int(row["sown"]))
        names = list(ours)
        out.append(
            Example(
                f"14 indices, {row['sample']}",
                GM,
                [float(row[name]) for name in names],
                lambda ours=ours: list(ours.values()),  # type: ignore[misc]
                relative=1e-4,
            )
        )
    return out


def _hill() -> list[float | None]:
    curve = fit_hill(G1, DAYS, 50)
    found = [curve.a, curve.b, curve.c, curve.day_of_percent(50), curve.day_of_share(0.5)]
    found += [
        curve.day_of_percent(10),
        curve.day_of_percent(60),
        curve.day_of_share(0.1),
        curve.day_of_share(0.6),
    ]
    found += [curve.day_of_share(0.9), curve.uniformity_days, curve.day_of_fastest, curve.mean_count_days(14)]
    return [*found, curve.skewness(14), curve.area(20)]


def _time() -> list[float | None]:
    spread = germination.mean_time(G1, DAYS)
    return [spread.mean, spread.variance, spread.standard_error, spread.coefficient_of_variation]


def _speed() -> list[float]:
    count, accumulated = germination.speed(G1, DAYS), germination.accumulated_speed(G1, DAYS)
    return [count, count * 2, accumulated, accumulated * 2, count * 2 / 80, accumulated * 2 / 80]


def _index() -> list[float]:
    gi = germination.germination_index(G1, DAYS, 50)
    found = [gi, gi * 50 / 40, germination.timson(G1, DAYS, 50), germination.timson(G1, DAYS, 50, 10)]
    return [*found, germination.weighted_percent(G1, 50), 80 / 14, 40 / 14]


def _value() -> list[float]:
    days = range(1, 21)
    peak, day = germination.peak_value(GV, days, 200)
    dp, dp_day = germination.germination_value_dp(GV, days, 200)
    whole = germination.germination_value_dp(GV, days, 200, whole_test=True)[0]
    found = [germination.percent(sum(GV), 200), peak, day, germination.percent(sum(GV), 200) / 20]
    return [*found, germination.germination_value_czabator(GV, days, 200), dp, dp_day, whole]


def _start(target: date, *weeks: int) -> date:
    plan = plan_back(target, [StepDays("moist", 7 * w, 7 * w) for w in weeks])
    assert isinstance(plan, Plan)
    return plan.start


def _limits(table: Sequence[tuple[float, float, float]], read: Callable[[Any], Any]) -> list[Any]:
    return [read(bound) for low, high, _ in table for bound in (low, high)]


_FOUR, _TWO = ([r for r in read_data("replicate_tolerances.csv") if r[key]] for key in ("four", "two"))
_BULK = read_data("bulk_factors.csv")
_LOTS_CONTROL = [80.0, 78.3, 87.2, 90.6, 79.4, 80.0, 70.6, 63.3, 71.7, 96.1]
_LOTS_TREATED = [78.3, 81.7, 96.1, 94.4, 78.9, 85.0, 68.9, 58.3, 64.4, 92.8]
_CHANCES = (0.1, 0.2, 0.25, 0.3, 0.4, 0.5, 0.6, 0.7, 0.75, 0.8, 0.85, 0.9, 0.95)
_PER_CELL = {
    0.8: (16, 8, 6, 5, 4, 3, 2, 2, 2, 1, 1, 1, 1),
    0.9: (22, 11, 9, 7, 5, 4, 3, 2, 2, 2, 2, 1, 1),
    0.95: (29, 14, 11, 9, 6, 5, 4, 3, 3, 2, 2, 2, 1),
    0.99: (44, 21, 17, 13, 10, 7, 6, 4, 4, 3, 3, 2, 2),
}
_NOXIOUS = (2, 4, 6, 8, 9, 11, 12, 13, 14, 16, 17, 18, 20, 21, 22, 23, 24, 25, 27, 28, 29, 30, 32, 33, 34, 35,
            37, 38, 39, 41, 42)  # fmt: skip
_TWO_TESTS = [[99, 99, 2], [97, 98, 3], [94, 96, 4], [91, 93, 5], [87, 90, 6], [82, 86, 7], [76, 81, 8],
              [70, 75, 9], [60, 69, 10], [51, 59, 11]]  # fmt: skip
_VARIATION = [[99, 100, 2], [97, 98, 3], [94, 96, 4], [91, 93, 5], [87, 90, 6], [82, 86, 7], [76, 81, 8],
              [69, 75, 9], [65, 68, 10]]  # fmt: skip

GERMINATION = [
    Example(
        "germination percent, peak",
        GM,
        [80.0, 34.0],
        lambda: [germination.percent(sum(G1), 50), germination.peak_percent(G1, 50)],
    ),
    Example(
        "T50 Coolbear, Farooq",
        GM,
        [5.970588, 5.941176],
        lambda: [germination.t50(G1, DAYS), germination.t50(G1, DAYS, "farooq")],
        relative=1e-6,
    ),
    Example("mean time, variance, error, variation", GM, [6.7, 1.446154, 0.1901416, 0.1794868], _time, 1e-6),
    Example(
        "mean rate, velocity, variance, error, 1/T50 twice",
        GM,
        [0.1492537, 14.92537, 0.0007176543, 0.004235724, 0.1674877, 0.1683168],
        lambda: [
            germination.mean_rate(G1, DAYS)[0],
            germination.coefficient_of_velocity(G1, DAYS),
            *germination.mean_rate(G1, DAYS)[1:],
            1 / germination.t50(G1, DAYS),
            1 / germination.t50(G1, DAYS, "farooq"),
        ],
        1e-6,
    ),
    Example(
        "speed, accumulated, corrected",
        GM,
        [6.138925, 12.27785, 34.61567, 69.23134, 0.1534731, 0.8653917],
        _speed,
        1e-5,
    ),
    Example(
        "uniformity, synchrony, uncertainty",
        GM,
        [0.7092199, 0.2666667, 2.062987],
        lambda: [
            germination.uniformity(G1, DAYS),
            germination.synchrony(G1),
            germination.uncertainty_bits(G1),
        ],
        relative=1e-6,
    ),
    Example(
        "germination index, Timson, weighted, mean daily",
        GM,
        [5.84, 7.3, 664, 344, 47.42857, 5.714286, 2.857143],
        _index,
        1e-5,
    ),
    Example(
        "Hill curve: 4 parameters fitted, 12 figures from them",
        GM,
        [
            80,
            9.881937,
            6.034954,
            6.355121,
            6.034954,
            4.956264,
            6.744598,
            4.831807,
            6.287724,
            7.53769,
            2.705882,
            5.912194,
            6.632252,
            1.098973,
            1108.976,
        ],
        _hill,
        1e-4,
    ),
    Example(
        "germination value: percent, peak, day, mean daily, Czabator, DP, day, DP whole test",
        GM,
        [82.0, 9.5, 5, 4.1, 38.95, 53.36595, 16, 46.6952],
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
        lambda: plants.product(plants.known_share(0.85), plants.known_share(0.9)).mean,
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
    Example(
        "two tests of 400",
        "Louisiana Adm. Code 7 XIII 139",
        [[limit] * 2 for _, _, limit in _TWO_TESTS],
        lambda: _limits(standards.TWO_TESTS, standards.two_test_limit),
    ),
    Example(
        "limits of variation, germination",
        "SSI 2005/328, schedule 7",
        [[limit] * 2 for _, _, limit in _VARIATION],
        lambda: _limits(standards.LIMITS_OF_VARIATION, standards.limit_of_variation),
    ),
    Example(
        "limits of variation, purity; other seeds",
        "SSI 2005/328, schedule 7",
        [0.2, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0, 1.1, 1.2, 1.3, 1, 3, 4, 5, 6, 7, 8, 9, 10, 11],
        lambda: [
            *(
                standards.purity_limit(p)
                for p in (100, 99.9, 99.8, 99.6, 99.3, 99.0, 98.5, 98.3, 97.5, 97.0, 96.5, 95.5, 95.0)
            ),
            *(standards.other_seed_limit(n) for n in (0, 1, 2, 3, 5, 7, 9, 12, 15, 18)),
        ],
    ),
    Example(
        "noxious weed seeds, 0 to 30",
        "7 CFR 201.65",
        _NOXIOUS,
        lambda: [standards.noxious_limit(n) for n in range(31)],
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
        "moss: 4 fl oz a pound, ml and ml a kg",
        "NNGA 1946",
        [118.29, 260.8],
        lambda: [water.moss_water_ml(0.45359), water.MOSS_ML_PER_KG],
        absolute=0.1,
        printed=False,
    ),
    Example(
        "pore space, air, water at 100 g/l",
        "Acta Horticulturae 294(2)",
        [92.92, 42.92, 50.0],
        lambda: water.substrate_air_percent(100, 0.6),
        absolute=0.005,
        printed=False,
    ),
    Example(
        "pore space, air, water at 120 g/l",
        "Acta Horticulturae 294(2)",
        [92.16, 29.16, 63.0],
        lambda: water.substrate_air_percent(120, 0.75),
        absolute=0.005,
        printed=False,
    ),
    Example(
        "bleach, 6 fl oz a gallon, ml a litre, percent added, percent of all",
        "Penn State, chestnuts",
        [46.9, 4.69, 4.48],
        lambda: [(ml := water.ml_per_litre(6, 1)), ml / 10, 100 * ml / (1000 + ml)],
        absolute=0.05,
        printed=False,
    ),
]

COLD_AND_TIME = [
    Example(
        "horse chestnut base temperature",
        "Pritchard 1999",
        [25, 20, 15, 10, 6],
        lambda: [responses.horse_chestnut_base_celsius(d) for d in (0, 30, 60, 90, 114)],
        printed=False,
    ),
    Example(
        "probits gained in 60 days",
        "Pritchard 1999",
        [2.64, 4.2],
        lambda: [responses.probit_gain(60, 0.044), responses.probit_gain(60, 0.07)],
        relative=1e-12,
        printed=False,
    ),
    Example(
        "stratification thermal time",
        "Batlla & Benech-Arnold 2003",
        [1694, 1100, 550],
        lambda: [responses.stratification_degree_days(110, c) for c in (1.6, 7, 12)],
        relative=1e-12,
        printed=False,
    ),
    Example(
        "chill units of peach buds, 24 h",
        "Richardson et al. 1974",
        [0, 12, 24, 12, 0, -12, -24],
        lambda: [responses.chill_units(24, c) for c in (0.5, 1.7, 4.0, 10.0, 14.0, 17.0, 20.0)],
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
    Example(
        "means of ten lots, peroxide trial",
        "Forest Nursery Notes 1998, Table 9",
        [79.7, 79.9],
        lambda: [round(math.fsum(x) / 10, 1) for x in (_LOTS_CONTROL, _LOTS_TREATED)],
    ),
    Example(
        "sound acorns lost by floating",
        "Gribko & Jones 1995",
        2129,
        lambda: samples.sound_seeds_floated(4257 - 2129, 2129, 0.5),
        absolute=1,
        printed=False,
    ),
]


def _tolerance(percents: list[float]) -> list[float]:
    found = standards.replicate_tolerance(percents)
    assert found is not None
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
