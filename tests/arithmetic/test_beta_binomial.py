"""Beta-binomial chances and ranges, to the plant, against scipy.stats.betabinom and exact fractions."""

from __future__ import annotations

import random
from fractions import Fraction
from math import comb, fsum, log10

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from coldspell.arithmetic import beta_binomial
from coldspell.arithmetic.beta_binomial import beta_binomial_at_most, beta_binomial_range

positive = st.floats(0.2, 500)


def by_scipy(trials: int, a: float, b: float, tail: float) -> tuple[int, int]:
    """Range from the sums of every term of scipy, taken from both ends and freed of a common rounding."""
    terms = stats.betabinom.pmf(np.arange(trials + 1), trials, a, b)
    whole = fsum(terms)
    low = int(np.searchsorted(np.cumsum(terms), tail * whole))
    most = int(np.searchsorted(np.cumsum(terms[::-1]), tail * whole, side="right"))
    return low, trials - most


@pytest.mark.parametrize("trials", [1, 2, 7, 40, 600, 999, 1000, 1001, 1400, 5000, 40_000])
@pytest.mark.parametrize("mean", [0.003, 0.04, 0.3, 0.54, 0.9, 0.995])
@pytest.mark.parametrize("size", [0.7, 2.5, 12, 71, 900, 40_000, 3e6])
def test_grid_to_the_plant(trials: int, mean: float, size: float) -> None:
    a, b = mean * size, (1 - mean) * size
    assert beta_binomial_range(trials, a, b, 0.05) == by_scipy(trials, a, b, 0.05)


def test_random_lots_to_the_plant() -> None:
    rng = random.Random(7)
    for _ in range(100):
        trials, size = round(10 ** rng.uniform(2.5, 4.8)), 10 ** rng.uniform(0, 5)
        mean, tail = rng.uniform(0.001, 0.999), rng.choice([0.05, 0.025, 0.005, 0.25, 0.45])
        a, b = mean * size, (1 - mean) * size
        assert beta_binomial_range(trials, a, b, tail) == by_scipy(trials, a, b, tail), (trials, a, b, tail)


@pytest.mark.long
@pytest.mark.parametrize("shape", [(38.6, 32.8), (3.75, 71.0), (1.0, 11.0), (0.5, 0.5), (30_000.0, 20_000.0)])
def test_a_million_seeds_to_the_plant(shape: tuple[float, float]) -> None:
    assert beta_binomial_range(1_000_000, *shape, 0.05) == by_scipy(1_000_000, *shape, 0.05)


def integrals(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """The counts for which the integral is asked from now on."""
    asked: list[int] = []
    integral = beta_binomial._integral

    def noted(k: int, trials: int, a: float, b: float) -> float:
        asked.append(k)
        return integral(k, trials, a, b)

    monkeypatch.setattr(beta_binomial, "_integral", noted)
    return asked


def test_where_the_integral_doubts_the_terms_are_added(monkeypatch: pytest.MonkeyPatch) -> None:
    asked = integrals(monkeypatch)
    trusted = [beta_binomial_range(n, 600.0, 500.0, 0.05) for n in range(4000, 4020)]
    assert len(asked) >= 40
    beta_binomial_range.cache_clear()
    monkeypatch.setattr(beta_binomial, "_SURE", 1.0)  # doubts everything
    assert [beta_binomial_range(n, 600.0, 500.0, 0.05) for n in range(4000, 4020)] == trusted


@pytest.mark.long
def test_where_the_expansion_is_believed_it_is_right_to_the_plant(monkeypatch: pytest.MonkeyPatch) -> None:
    """Drawn shares that are wide for the lot; nearly all are told without the integral."""
    asked = integrals(monkeypatch)
    rng, count = random.Random(5), 80
    for _ in range(count):
        trials = round(10 ** rng.uniform(3.2, 4.9))
        size, mean = 10 ** rng.uniform(1, log10(trials / 4)), rng.uniform(0.2, 0.9)
        a, b = mean * size, (1 - mean) * size
        assert beta_binomial_range(trials, a, b, 0.05) == by_scipy(trials, a, b, 0.05), (trials, a, b)
    assert len(asked) < count / 2  # of two for each


@given(st.integers(-1, 300), st.integers(1, 300), positive, positive)
@settings(max_examples=300)
def test_chances(k: int, n: int, a: float, b: float) -> None:
    expected = stats.betabinom.cdf(k, n, a, b)
    assert beta_binomial_at_most(k, n, a, b) == pytest.approx(expected, rel=1e-6, abs=1e-9)


@pytest.mark.parametrize("k", [0, 3, 99, 100, 101, 400, 1000, 1999, 2300, 2900, 2950, 2999])
@pytest.mark.parametrize("shape", [(1, 1), (2, 5), (9, 4), (40, 31)])
def test_chances_of_three_thousand_seeds_as_fractions(k: int, shape: tuple[int, int]) -> None:
    """``C(k + a - 1, k) C(n - k + b - 1, n - k) / C(n + a + b - 1, n)`` for whole a and b, exactly."""
    a, b = shape
    ways = sum(comb(i + a - 1, i) * comb(3000 - i + b - 1, 3000 - i) for i in range(k + 1))
    exact = Fraction(ways, comb(3000 + a + b - 1, 3000))
    assert beta_binomial_at_most(k, 3000, a, b) == pytest.approx(float(exact), abs=1e-10)


def test_even_chances_that_meet_the_tail_exactly() -> None:
    """With a = b = 1 each of n + 1 numbers has the same chance: 5 % is the lowest one of twenty."""
    assert beta_binomial_range(19, 1, 1, 0.05) == (0, 18)
    assert beta_binomial_range(99_999, 1, 1, 0.05) == (4_999, 94_999)


def test_places_and_weights() -> None:
    """Gauss-Legendre of 24 points against numpy."""
    places, weights = np.polynomial.legendre.leggauss(24)
    ours = sorted(beta_binomial._gauss_legendre())
    assert [x for x, _ in ours] == pytest.approx(places, abs=1e-15)
    assert [w for _, w in ours] == pytest.approx(weights, abs=1e-14)
