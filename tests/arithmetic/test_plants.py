"""Probabilities against scipy, seeds and plants against simulation and published tables."""

from __future__ import annotations

import math
import random

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy import stats

from coldspell.arithmetic.beta_binomial import beta_binomial_at_most, beta_binomial_range
from coldspell.arithmetic.distributions import (
    beta_cdf,
    beta_quantile,
    binomial_at_least,
)
from coldspell.arithmetic.plants import (
    Share,
    at_least_chance,
    plants_expected,
    product,
    range_share,
    seeds_for_plants,
)
from coldspell.arithmetic.plants import (
    tested_share as share_after_test,
)
from coldspell.arithmetic.samples import clopper_pearson, least_share_if_all_sound, margin, seeds_to_test
from coldspell.arithmetic.sowing import (
    bed_kilograms,
    crowded_share,
    filled_share,
    kilograms_of,
    seeds_in,
    seeds_per_cell,
    sowing_per_m2,
)
from coldspell.arithmetic.verdicts import against_record, next_lot
from coldspell.errors import ColdspellError

positive = st.floats(0.2, 500)
share = st.floats(0.01, 0.99)


@given(share, positive, positive)
@settings(max_examples=400)
def test_beta_cdf(x, a, b) -> None:
    assert beta_cdf(x, a, b) == pytest.approx(stats.beta.cdf(x, a, b), rel=1e-9, abs=1e-13)


@given(st.floats(0.001, 0.999), st.floats(0.5, 300), st.floats(0.5, 300))
@settings(max_examples=200)
def test_beta_quantile(p, a, b) -> None:
    assert beta_quantile(p, a, b) == pytest.approx(stats.beta.ppf(p, a, b), rel=1e-9, abs=1e-12)


@given(st.integers(0, 300), st.integers(1, 300), share)
def test_binomial(k, n, p) -> None:
    assert binomial_at_least(k, n, p) == pytest.approx(stats.binom.sf(k - 1, n, p), rel=1e-8, abs=1e-12)


@given(st.integers(1, 400).flatmap(lambda n: st.tuples(st.integers(0, n), st.just(n))), st.floats(0.5, 0.999))
def test_clopper_pearson(counts, level) -> None:
    k, n = counts
    exact = stats.binomtest(k, n).proportion_ci(level, method="exact")
    assert clopper_pearson(k, n, level) == pytest.approx((exact.low, exact.high), abs=1e-8)

WEIGHTS = {"record_weight_seeds": 10.0, "lot_weight_seeds": 50.0}


def test_cut_tests_of_the_trade_table() -> None:
    """Exact 95 % intervals: 8/10 44-97, 20/25 59-93, 10/100 5-18, 0/10 0-31."""
    shown = {(8, 10): (44, 97), (20, 25): (59, 93), (10, 100): (5, 18), (0, 10): (0, 31)}
    for counts, expected in shown.items():
        assert tuple(round(100 * x) for x in clopper_pearson(*counts)) == expected


def test_all_sound() -> None:
    """Rule of three: 95 % claim 1 - 3/n when all are sound (Hanley & Lippman-Hand 1983, from memory)."""
    for n in (30, 100, 300):
        assert least_share_if_all_sound(n) == pytest.approx(1 - 3 / n, abs=0.01)
        assert seeds_to_test(least_share_if_all_sound(n)) == n
    assert margin(100) == pytest.approx(0.102, abs=0.002)


@given(st.integers(1, 60), st.floats(0.5, 0.99), st.floats(0.05, 1.0))
@settings(max_examples=200, deadline=None)
def test_fewest_seeds_for_plants(plants, sure, chance) -> None:
    seeds = seeds_for_plants(plants, sure, Share(chance))
    assert stats.binom.sf(plants - 1, seeds, chance) >= sure - 1e-9
    if seeds > plants:
        assert stats.binom.sf(plants - 1, seeds - 1, chance) < sure + 1e-9


@given(st.integers(1, 30), st.floats(0.5, 0.95), st.integers(3, 30), st.integers(3, 40), share)
@settings(max_examples=100, deadline=None)
def test_fewest_seeds_when_the_share_is_uncertain(plants, sure, sound, tested, germination) -> None:
    assume(sound <= tested)
    certain = product(share_after_test(sound, tested), Share(germination))
    a, b = certain.beta
    seeds = seeds_for_plants(plants, sure, certain)
    assert stats.betabinom.sf(plants - 1, seeds, a, b) >= sure - 1e-6
    if seeds > plants:
        assert stats.betabinom.sf(plants - 1, seeds - 1, a, b) < sure + 1e-6


def test_product_of_shares_against_simulation() -> None:
    """The beta with matched moments against 100,000 drawn lots: within a hundredth in probability."""
    rng = random.Random(5)
    shares = [share_after_test(8, 10), range_share(0.7, 0.85), range_share(0.5, 0.7)]
    chances = []
    for _ in range(100_000):
        chance = 1.0
        for each in shares:
            chance *= rng.betavariate(*each.beta)
        chances.append(chance)
    joined = product(*shares)
    mean = math.fsum(chances) / len(chances)
    assert joined.mean == pytest.approx(mean, abs=0.002)
    assert joined.variance == pytest.approx(
        math.fsum((c - mean) ** 2 for c in chances) / len(chances), rel=0.02
    )
    plants = [rng.binomialvariate(100, c) if hasattr(rng, "binomialvariate") else sum(
        rng.random() < c for _ in range(100)) for c in chances[:20_000]]  # fmt: skip
    for wanted in (20, 35, 45):
        seen = sum(n >= wanted for n in plants) / len(plants)
        assert at_least_chance(wanted, 100, joined) == pytest.approx(seen, abs=0.02)


def test_large_lots_are_no_approximation() -> None:
    share = Share(0.4, 0.01)
    a, b = share.beta or (0, 0)
    for wanted in (30_000, 40_000, 50_000):
        exact = stats.betabinom.sf(wanted - 1, 100_000, a, b)
        assert at_least_chance(wanted, 100_000, share) == pytest.approx(exact, abs=1e-9)


@given(st.integers(0, 500), st.floats(0.05, 0.95), st.floats(0, 0.02), st.floats(0.5, 0.99))
@settings(max_examples=150, deadline=None)
def test_expectation_holds_its_level(seeds, mean, variance, level) -> None:
    share = Share(mean, min(variance, mean * (1 - mean) / 3))
    expected = plants_expected(seeds, share, level)
    assert 0 <= expected.low <= expected.high <= seeds
    inside = at_least_chance(expected.low, seeds, share) - at_least_chance(expected.high + 1, seeds, share)
    assert inside >= level - 1e-9


def test_tulip_tree_samaras_by_hand() -> None:
    """200 samaras, 20 trees wanted, 10 of 100 cut filled: mean 11 of 102, then 75 % sprout, 80 % live.

    By hand: 200 x 11/102 x 0.75 x 0.8 = 12.9 trees: too few. For nine in ten over 300 are needed.
    """
    joined = product(share_after_test(10, 100), Share(0.75), Share(0.8))
    assert plants_expected(200, joined).mean == pytest.approx(12.94, abs=0.01)
    needed = seeds_for_plants(20, 0.9, joined)
    assert 20 / joined.mean < needed < 600
    assert at_least_chance(20, 200, joined) == pytest.approx(stats.betabinom.sf(19, 200, *joined.beta))
    assert at_least_chance(20, 200, joined) < 0.15


def test_no_seed_grows() -> None:
    with pytest.raises(ColdspellError, match="no number of seeds"):
        seeds_for_plants(1, 0.9, Share(0))
    assert plants_expected(10, Share(1)).low == plants_expected(10, Share(1)).high == 10


@pytest.mark.parametrize(
    "make",
    [
        lambda: share_after_test(11, 10),
        lambda: share_after_test(0, 0),
        lambda: range_share(0.9, 0.1),
        lambda: range_share(0.5, 1.5),
        lambda: seeds_for_plants(0, 0.9, Share(0.5)),
        lambda: seeds_for_plants(5, 1.0, Share(0.5)),
        lambda: plants_expected(-1, Share(0.5)),
        lambda: clopper_pearson(1, 10, 1.0),
        lambda: seeds_to_test(1.0),
        lambda: seeds_per_cell(1.0, 0.5),
        lambda: seeds_in(-1, 1000),
        lambda: kilograms_of(10, 1000, 0),
        lambda: bed_kilograms(1, 1, 1000, 100, 0),
        lambda: beta_cdf(0.5, 0, 1),
        lambda: beta_binomial_at_most(1, 3, 0, 1),
        lambda: beta_binomial_range(3, 1, 1, 0),
        lambda: next_lot([(5, 4)], **WEIGHTS),
        lambda: against_record(5, 10, 90, 80),
    ],
)
def test_one_clear_error(make) -> None:
    with pytest.raises(ColdspellError):
        make()


@given(st.floats(0.001, 100), st.floats(1, 1e6), st.floats(1, 100))
def test_mass_and_count_are_inverse(kg, per_kg, purity) -> None:
    assert kilograms_of(seeds_in(kg, per_kg, purity), per_kg, purity) == pytest.approx(kg)


@given(st.floats(1, 500), st.floats(1, 100), st.floats(1, 100), st.floats(1, 100), st.floats(10, 1e6))
def test_bed_mass_and_count_agree(density, germination, survival, area, per_kg) -> None:
    seeds = sowing_per_m2(density, germination, survival) * area
    assert bed_kilograms(area, density, per_kg, 100, germination, survival) == pytest.approx(
        seeds / per_kg, rel=1e-6, abs=1e-11
    )


@given(st.floats(0.01, 0.99), st.floats(0.01, 1.0))
def test_seeds_per_cell_is_the_fewest(wanted, chance) -> None:
    seeds = seeds_per_cell(wanted, chance)
    assert filled_share(chance, seeds) >= wanted - 1e-9
    assert seeds == 1 or filled_share(chance, seeds - 1) < wanted + 1e-9
    assert crowded_share(chance, seeds) == pytest.approx(stats.binom.sf(1, seeds, chance), abs=1e-12)


def test_verdict_and_next_lot() -> None:
    assert against_record(50, 50, 60, 70).verdict == "above"
    assert against_record(5, 50, 60, 70).verdict == "below"
    assert against_record(3, 5, 60, 90).verdict == "agrees"
    alone = next_lot([(400, 400)], **WEIGHTS)
    assert (alone.a, alone.b) == (51, 1), "a large lot weighs no more than fifty seeds"
    assert alone.low_percent == pytest.approx(100 * stats.beta.ppf(0.05, 51, 1))
    assert next_lot([], 80, **WEIGHTS).mean_percent == pytest.approx(75)
    assert next_lot([(10, 50), (45, 50)], **WEIGHTS).low_percent > next_lot([(10, 50)], **WEIGHTS).low_percent
