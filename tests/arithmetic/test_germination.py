"""Germination figures: properties that hold for every test, and ties and single seeds."""

from __future__ import annotations

import math
import statistics

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from coldspell.arithmetic import germination as g
from coldspell.arithmetic.standards import replicate_limit, replicate_tolerance
from coldspell.errors import ColdspellError


@st.composite
def counted_tests(draw: st.DrawFn) -> tuple[list[int], list[int]]:
    counts = draw(st.lists(st.integers(0, 30), min_size=1, max_size=25))
    steps = draw(st.lists(st.integers(1, 7), min_size=len(counts), max_size=len(counts)))
    assume(sum(counts) > 0)
    return counts, [sum(steps[: i + 1]) for i in range(len(steps))]


@given(counted_tests())
@settings(max_examples=300)
def test_mean_time_is_the_mean_of_the_seeds(test) -> None:
    counts, days = test
    seeds = [float(day) for count, day in zip(counts, days, strict=True) for _ in range(count)]
    spread = g.mean_time(counts, days)
    assert spread.mean == pytest.approx(statistics.fmean(seeds))
    assert g.coefficient_of_velocity(counts, days) == pytest.approx(100 / statistics.fmean(seeds))
    if len(seeds) > 1:
        assert spread.variance == pytest.approx(statistics.variance(seeds), abs=1e-9)


@given(counted_tests(), st.sampled_from(["coolbear", "farooq"]), st.booleans())
@settings(max_examples=300)
def test_t50_lies_within_the_test(test, form, skip) -> None:
    counts, days = test
    first = next(i for i, c in enumerate(counts) if c)
    last = max(t for t, c in zip(days, counts, strict=True) if c)
    value = g.t50(counts, days, form, skip_ties=skip)
    assert (days[first - 1] if first else 0) <= value <= days[-1]
    if not skip:
        assert value <= last
    if form == "farooq":
        assert value <= g.t50(counts, days, "coolbear", skip_ties=False) or skip


def test_t50_ties_differ_from_plain_interpolation() -> None:
    """Printed with the open data set: G4 rep 1 (Farooq) and G3 rep 1 (Coolbear); plain gives 6.0."""
    days = range(1, 15)
    g4 = [0, 0, 0, 0, 4, 19, 12, 6, 2, 1, 1, 1, 0, 0]
    assert g.t50(g4, days, "farooq") == pytest.approx(6.225806, rel=1e-6)
    assert g.t50(g4, days, "farooq", skip_ties=False) == 6.0


def test_one_seed() -> None:
    assert g.t50([0, 1], [3, 6]) == 6.0
    assert g.mean_time([0, 1], [3, 6]).variance is None
    assert g.synchrony([1]) is None


@given(counted_tests(), st.integers(0, 50))
def test_indices_stay_in_bounds(test, empty) -> None:
    counts, days = test
    sown = sum(counts) + empty
    synchrony = g.synchrony(counts)
    assert synchrony is None or 0 <= synchrony <= 1
    assert g.peak_value(counts, days, sown)[0] >= g.percent(sum(counts), sown) / days[-1] - 1e-9


def test_replicate_limits_by_formula() -> None:
    """The printed ranges follow the studentised range of four binomials, 3.98 sqrt(p q / 100), to a point.

    Miles 1963 (Proceedings of the International Seed Testing Association 28; from memory). The recalled
    rows are held to the same formula.
    """
    for mean in range(51, 100):
        found = replicate_limit(mean, 4)
        assert abs(found[0] - 3.98 * math.sqrt(mean * (100 - mean) / 100)) <= 1.05
        assert found == replicate_limit(101 - mean, 4)
        assert found[1] == ("read" if mean >= 71 else "recalled")


def test_no_tolerance_is_made_up() -> None:
    assert replicate_limit(100, 4) is None
    assert replicate_limit(60, 2) is None
    assert replicate_tolerance([90, 92, 93]) is None
    tolerance = replicate_tolerance([95.5, 92])
    assert tolerance.limit_points == 8


@pytest.mark.parametrize(
    "make",
    [
        lambda: g.percent(5, 4),
        lambda: g.mean_time([], []),
        lambda: g.mean_time([0, 0], [1, 2]),
        lambda: g.mean_time([1, -1], [1, 2]),
        lambda: g.mean_time([1, 1], [2, 1]),
        lambda: g.mean_time([1, 1], [0, 1]),
        lambda: g.t50([1, 1], [1, 2], "half"),
        lambda: g.peak_value([5], [1], 4),
        lambda: replicate_tolerance([101.0]),
    ],
)
def test_one_clear_error(make) -> None:
    with pytest.raises(ColdspellError):
        make()
