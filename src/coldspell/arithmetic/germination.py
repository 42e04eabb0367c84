"""Germination counts: percentage, time, speed and evenness, by their published formulas.

``counts`` are the seeds newly germinated at each count, ``days`` the days of the counts since sowing, rising.
Worked examples are those of the open data set gcdata, as printed in the introduction to germinationmetrics
0.1.10 (Aravind et al., ICAR-NBPGR), 40 of 50 seeds in 14 days.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise

from coldspell.errors import ColdspellError

Counts = Sequence[int]
Days = Sequence[float]


@dataclass(frozen=True, slots=True)
class Spread:
    """Mean germination time and its scatter [days; variance in days squared]; ``None`` for fewer than two."""

    mean: float
    variance: float | None
    standard_error: float | None
    coefficient_of_variation: float | None


def check(counts: Counts, days: Days, sown: int | None = None) -> None:
    """Refuse counts that cannot be.

    Parameters
    ----------
    counts : sequence of int
        Seeds newly germinated at each count [counts].
    days : sequence of float
        As many days since sowing, rising [days].
    sown : int, optional
        Seeds sown [count].

    Raises
    ------
    ColdspellError
        When the two do not match, a count is negative, days do not rise from above 0, or more
        germinated than were sown.
    """
    if len(counts) != len(days) or not counts:
        raise ColdspellError(
            f"{len(counts)} counts and {len(days)} days do not match", mend="give a count for each day"
        )
    if any(count < 0 for count in counts):
        raise ColdspellError("a count is negative", mend="give seeds newly germinated, or say --cumulative")
    if days[0] <= 0 or any(later <= earlier for earlier, later in pairwise(days)):
        raise ColdspellError("the days must rise from above 0", mend="count days from sowing")
    if sown is not None and sum(counts) > sown:
        raise ColdspellError(f"{sum(counts)} germinated of {sown} sown cannot be", mend="correct one of them")


def percent(germinated: int, sown: int) -> float:
    """Germination percentage: 100 germinated / sown.

    Parameters
    ----------
    germinated, sown : int
        Seeds germinated, of seeds sown [counts].

    Raises
    ------
    ColdspellError
        When the counts cannot be.

    >>> percent(40, 50)
    80.0
    """
    if sown < 1 or not 0 <= germinated <= sown:
        raise ColdspellError(f"{germinated} of {sown} cannot be", mend="give germinated out of sown seeds")
    return 100 * germinated / sown


def mean_time(counts: Counts, days: Days) -> Spread:
    """Mean germination time: sum n t / sum n; variance sum n (t - mean)**2 / (sum n - 1).

    Ellis & Roberts 1980; Labouriau 1983 (both from memory; formulas as printed with the example).

    Parameters
    ----------
    counts : sequence of int
        Seeds newly germinated at each count [counts].
    days : sequence of float
        As many days since sowing, rising [days].

    Raises
    ------
    ColdspellError
        When counts or days cannot be, or no seed germinated.

    >>> spread = mean_time([0, 0, 0, 0, 4, 17, 10, 7, 1, 0, 1, 0, 0, 0], range(1, 15))
    >>> spread.mean, round(spread.variance, 6), round(spread.standard_error, 7)
    (6.7, 1.446154, 0.1901416)
    """
    check(counts, days)
    n = _some(counts)
    mean = math.fsum(c * t for c, t in zip(counts, days, strict=True)) / n
    if n < 2:
        return Spread(mean, None, None, None)
    variance = math.fsum(c * (t - mean) ** 2 for c, t in zip(counts, days, strict=True)) / (n - 1)
    return Spread(mean, variance, math.sqrt(variance / n), math.sqrt(variance) / mean)


def coefficient_of_velocity(counts: Counts, days: Days) -> float:
    """Coefficient of velocity (Kotowski 1926): 100 sum n / sum n t [percent a day].

    Parameters
    ----------
    counts : sequence of int
        Seeds newly germinated at each count [counts].
    days : sequence of float
        As many days since sowing, rising [days].

    Raises
    ------
    ColdspellError
        When counts or days cannot be, or no seed germinated.

    >>> round(coefficient_of_velocity([0, 0, 0, 0, 4, 17, 10, 7, 1, 0, 1, 0, 0, 0], range(1, 15)), 5)
    14.92537
    """
    return 100 / mean_time(counts, days).mean


def t50(counts: Counts, days: Days, form: str = "coolbear", *, skip_ties: bool = True) -> float:
    """Day by which half of the seeds that germinate have done so: Ti + (target - Ni)(Tj - Ti)/(Nj - Ni).

    Parameters
    ----------
    counts : sequence of int
        Seeds newly germinated at each count [counts].
    days : sequence of float
        As many days since sowing, rising [days].
    form : str
        ``coolbear``: target (N + 1)/2 (Coolbear et al. 1984); ``farooq``: N/2 (Farooq et al. 2005) [name].
    skip_ties : bool
        Take the counts strictly below and strictly above the target, as published: a count equal to the
        target is left out. ``False`` interpolates plainly [yes or no].

    Raises
    ------
    ColdspellError
        When counts or days cannot be, the form is unknown, or no seed germinated.

    >>> counts = [0, 0, 0, 0, 4, 17, 10, 7, 1, 0, 1, 0, 0, 0]
    >>> round(t50(counts, range(1, 15)), 6), round(t50(counts, range(1, 15), "farooq"), 6)
    (5.970588, 5.941176)
    >>> tie = [0, 0, 0, 2, 3, 18, 9, 8, 2, 1, 1, 1, 0, 0]          # 23 of 45 by day 6 is the target itself
    >>> round(t50(tie, range(1, 15)), 6), t50(tie, range(1, 15), skip_ties=False)
    (6.333333, 6.0)
    """
    check(counts, days)
    if form not in ("coolbear", "farooq"):
        raise ColdspellError(f"unknown form {form!r}", mend="use coolbear or farooq")
    n = _some(counts)
    target = (n + 1) / 2 if form == "coolbear" else n / 2
    total = list(accumulate(counts))
    below = max((i for i, t in enumerate(total) if t < target), default=-1)
    at_day, at = (float(days[below]), total[below]) if below >= 0 else (0.0, 0)
    above = next((i for i, t in enumerate(total) if t > target or (not skip_ties and t == target)), None)
    if above is None:  # only a tie is left, as with a single seed
        above = next(i for i, t in enumerate(total) if t >= target)
    return at_day + (target - at) * (days[above] - at_day) / (total[above] - at)


def speed(counts: Counts, days: Days) -> float:
    """Speed of germination (Maguire 1962): sum n / t [seeds a day].

    Parameters
    ----------
    counts : sequence of int
        Seeds newly germinated at each count [counts].
    days : sequence of float
        As many days since sowing, rising [days].

    Raises
    ------
    ColdspellError
        When counts or days cannot be.

    >>> round(speed([0, 0, 0, 0, 4, 17, 10, 7, 1, 0, 1, 0, 0, 0], range(1, 15)), 6)
    6.138925
    """
    check(counts, days)
    return math.fsum(c / t for c, t in zip(counts, days, strict=True))


def synchrony(counts: Counts) -> float | None:
    """Synchrony Z (Primack 1980): sum C(n, 2) / C(N, 2); ``None`` for fewer than two seeds.

    Parameters
    ----------
    counts : sequence of int
        Seeds newly germinated at each count [counts].

    Raises
    ------
    ValueError
        When a count is negative.

    >>> round(synchrony([0, 0, 0, 0, 4, 17, 10, 7, 1, 0, 1, 0, 0, 0]), 7)
    0.2666667
    """
    pairs = math.comb(sum(counts), 2)
    return sum(math.comb(c, 2) for c in counts) / pairs if pairs else None


def peak_value(counts: Counts, days: Days, sown: int) -> tuple[float, float]:
    """Peak value (Czabator 1962): largest cumulative percentage over its day, and that day.

    Parameters
    ----------
    counts : sequence of int
        Seeds newly germinated at each count [counts].
    days : sequence of float
        As many days since sowing, rising [days].
    sown : int
        Seeds sown [count].

    Raises
    ------
    ColdspellError
        When counts, days or seeds sown cannot be.

    >>> counts = [0, 0, 34, 40, 21, 10, 4, 5, 3, 5, 8, 7, 7, 6, 6, 4, 0, 2, 0, 2]
    >>> peak_value(counts, range(1, 21), 200)
    (9.5, 5)
    """
    check(counts, days, sown)
    values = [(100 * total / sown / t, t) for total, t in zip(accumulate(counts), days, strict=True)]
    return max(values, key=lambda pair: pair[0])


def germination_value_czabator(counts: Counts, days: Days, sown: int) -> float:
    """Germination value (Czabator 1962, Forest Science 8:386-396): peak value x final percent / last day.

    Parameters
    ----------
    counts : sequence of int
        Seeds newly germinated at each count [counts].
    days : sequence of float
        As many days since sowing, rising [days].
    sown : int
        Seeds sown [count].

    Raises
    ------
    ColdspellError
        When counts, days or seeds sown cannot be.

    >>> counts = [0, 0, 34, 40, 21, 10, 4, 5, 3, 5, 8, 7, 7, 6, 6, 4, 0, 2, 0, 2]
    >>> round(germination_value_czabator(counts, range(1, 21), 200), 2)
    38.95
    """
    return peak_value(counts, days, sown)[0] * percent(sum(counts), sown) / days[-1]


def _some(counts: Counts) -> int:
    total = sum(counts)
    if total < 1:
        raise ColdspellError(
            "no seed germinated: there is no time or speed to give",
            mend="count on, or take the percentage alone",
        )
    return total
