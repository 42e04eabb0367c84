"""Four lots reckoned by hand: bur oak, apple, black cherry, tulip tree; the working is in docs/numbers.md."""

from __future__ import annotations

from datetime import date

import pytest
from scipy import stats

from coldspell.arithmetic import plants, sowing, water
from coldspell.arithmetic.calendar import Plan, plan_back
from coldspell.arithmetic.containers import fill, seeds_per_litre
from coldspell.arithmetic.lengths import StepDays
from coldspell.arithmetic.vessels import Box, Packing

SOW = date(2027, 4, 15)


def start(days: int) -> date:
    plan = plan_back(SOW, [StepDays("cold_moist", days, days)])
    assert isinstance(plan, Plan)
    return plan.start


def test_sixty_bur_oak_acorns() -> None:
    """Acorns 25 mm wide or more (Mattoon & Webster); 165 a kg on average (AH 727, Table 3, p. 934)."""
    filling = fill(60, 30, Box(400, 300, 150), Packing(2 / 3, 0.9, 25, 100, 300))
    # pitch 30 + 25 = 55; rows of 7 and 6 by turns, 47.6 mm apart: 1 + floor(245 / 47.6) = 6 rows, 39 a layer;
    # two layers are 2 x 30 + 3 x 25 = 135 mm deep, which is nine tenths of 150
    assert (filling.pattern.count, filling.layers, filling.layer_counts()) == (39, 2, (30, 30))
    # 400 x 300 x 135 mm = 16.2 litres, less 60 balls of 30 mm (14.14 ml each) = 15.35 litres
    assert filling.medium_litres == pytest.approx(16.2 - 60 * 0.014137, abs=0.001)
    assert [round(ml, -2) for ml in water.water_ml("vermiculite", filling.medium_litres)] == [3100, 4600]
    assert sowing.kilograms_of(60, 165) == pytest.approx(0.364, abs=0.001)
    assert start(60) == date(2027, 2, 14)  # 14 days of April, 31 of March, 15 of February


def test_five_hundred_apple_pips() -> None:
    """23 a sheet (5 mm wide, a seed width apart on 230 mm): 500 / 23 = 21.7 sheets; three months."""
    found = water.towels(500, 5, water.Sheet((230, 230), 30, (5, 7), 4))
    assert (found.sheets, found.rolls, found.water_ml) == (22, 6, (110, 154))
    assert start(90) == date(2027, 1, 15)


def test_two_kilograms_of_black_cherry() -> None:
    """4,240 stones a pound (AH 727, Table 4, p. 882: printed as a kg); 120 days (Table 6); 7 mm assumed."""
    stones = sowing.seeds_in(2, 4240 / 0.45359237)
    assert stones == pytest.approx(18695, abs=0.5)
    litres = stones / seeds_per_litre(7)  # 1.15e6 / 343 = 3353 a litre
    assert litres == pytest.approx(5.58, abs=0.01)
    sand = water.sand_mix_litres(litres)
    assert sand == pytest.approx(16.73, abs=0.01)
    assert [round(ml) for ml in water.water_ml("sand", sand)] == [1004, 1673]
    assert start(120) == date(2026, 12, 16)


def test_two_hundred_tulip_tree_samaras_for_twenty_trees() -> None:
    """About one in ten living; 82 percent of sound seed sprouts (Markovic 2020); 80 percent live in pots.

    200 x 0.1 x 0.82 x 0.8 = 13.1 trees: twenty are not to be expected. Binomial, checked against scipy.
    """
    share = plants.product(*(plants.Share(x) for x in (0.1, 0.82, 0.8)))
    expected = plants.plants_expected(200, share)
    assert expected.mean == pytest.approx(13.12)
    assert (expected.low, expected.high) == (8, 19)
    assert plants.at_least_chance(20, 200, share) == pytest.approx(stats.binom.sf(19, 200, 0.0656))
    assert plants.seeds_for_plants(20, 0.9, share) == 392
