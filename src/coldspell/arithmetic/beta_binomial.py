"""Plants of a lot whose share is itself uncertain: beta-binomial chances and quantiles, exact to the plant.

Up to a thousand seeds, and for shares known to a hair, the terms are added one by one, outward from the
middle. Above, the quantile of a wide share tells that of the count, but near a step from one plant to the
next. There, and for narrower shares, the sum is an integral of the smooth terms over the logit of the share,
so that a million seeds take no longer than two thousand; where the integral cannot tell one plant from the
next, the terms are added after all.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import cache, lru_cache
from itertools import accumulate

from coldspell.arithmetic.distributions import beta_quantile, log_beta
from coldspell.errors import ColdspellError

_FEW_TERMS = 1_000
_HAIR, _HAIR_TERMS = 1e5, 100_000
"""Size (a + b) above which the gamma functions lose digits: there more terms are added instead."""
_HEAD = 50
"""Terms at the very end that are always added: there they are not smooth."""
_MOST_TERMS = 1_000_000
"""Were more to be added, the integral is believed: above a million seeds it may be one plant off."""
_SURE = 1e-9
_TIE = 1e-12
_NOTHING = 1e-17
_POINTS = 24


def beta_binomial_at_most(successes: int, trials: int, a: float, b: float) -> float:
    """Probability of at most so many successes when the chance itself is Beta(a, b).

    ``P(X = k) = C(n, k) B(k + a, n - k + b) / B(a, b)`` (Skellam 1948, J. R. Stat. Soc. B 10:257-261; from
    memory).

    Parameters
    ----------
    successes, trials : int
        Plants, and seeds they come of [counts].
    a, b : float
        Parameters of the beta distribution [none, over 0].

    Returns
    -------
    float
        Probability [0 to 1], to about 1e-9.

    Raises
    ------
    ColdspellError
        When a or b is not over 0.

    >>> round(beta_binomial_at_most(2, 4, 1, 1), 6)       # even chances of 0 to 4
    0.6
    """
    _check(a, b)
    if successes < 0:
        return 0.0
    if successes >= trials:
        return 1.0
    if _adds_up(trials, a, b):
        first, terms = _terms(trials, a, b)
        return min(1.0, math.fsum(terms[: max(0, successes - first + 1)]) / math.fsum(terms))
    if successes * (a + b) > trials * a:
        return max(0.0, 1.0 - _integral(trials - successes - 1, trials, b, a))
    return min(1.0, _integral(successes, trials, a, b))


@lru_cache(maxsize=4096)
def beta_binomial_range(trials: int, a: float, b: float, tail: float) -> tuple[int, int]:
    """Fewest and most successes but for a tail on either side, when the chance itself is Beta(a, b).

    Parameters
    ----------
    trials : int
        Seeds [count].
    a, b : float
        Parameters of the beta distribution [none, over 0].
    tail : float
        Left out on each side [probability, over 0 to 0.5].

    Returns
    -------
    tuple of int
        The smallest k with P(X <= k) >= tail and the smallest with P(X <= k) >= 1 - tail.

    Raises
    ------
    ColdspellError
        When a or b is not over 0, or the tail is none.

    >>> beta_binomial_range(19, 1, 1, 0.05)               # 20 even chances of one in twenty
    (0, 18)
    """
    _check(a, b)
    if not 0 < tail <= 0.5:
        raise ColdspellError(f"the tail must lie over 0 and up to 0.5, not {tail}", mend="0.05 is usual")
    if not _adds_up(trials, a, b):
        low = _search(trials, a, b, tail - _TIE)
        most = _search(trials, b, a, tail + _TIE)
        if low is not None and most is not None:
            return low, trials - most
    first, terms = _terms(trials, a, b)
    whole = math.fsum(terms)
    below = _reached(terms, (tail - _TIE) * whole)
    above = _reached(terms[::-1], (tail + _TIE) * whole)
    return first + below, first + len(terms) - 1 - above


def _check(a: float, b: float) -> None:
    if not (a > 0 and b > 0):
        raise ColdspellError(
            f"a beta distribution needs a and b over 0, not {a} and {b}", mend="give shapes over 0"
        )


def _adds_up(trials: int, a: float, b: float) -> bool:
    return min(trials, 18 * _spread(trials, a, b)) <= (_FEW_TERMS if a + b <= _HAIR else _HAIR_TERMS)


def _spread(trials: int, a: float, b: float) -> float:
    mean = a / (a + b)
    return math.sqrt(trials * mean * (1 - mean) * (trials + a + b) / (1 + a + b))


def _reached(terms: list[float], wanted: float) -> int:
    return next((at for at, sum_ in enumerate(accumulate(terms)) if sum_ >= wanted), len(terms) - 1)


def _terms(trials: int, a: float, b: float) -> tuple[int, list[float]]:
    """First number of successes that counts, and the chances from there on over the middle one."""
    middle = int(trials * (a / (a + b)))
    down = _outward(middle, trials, a, b)
    up = _outward(trials - middle, trials, b, a)  # the same with the sides changed
    return middle - len(down), [*reversed(down), 1.0, *up]


def _outward(start: int, trials: int, a: float, b: float) -> list[float]:
    term = whole = 1.0
    terms = []
    for k in range(start, 0, -1):
        term *= k * (trials - k + b) / ((trials - k + 1) * (k - 1 + a))
        whole += term
        terms.append(term)
        if term < _NOTHING * whole:
            break
    return terms


def _search(trials: int, a: float, b: float, wanted: float) -> int | None:
    """Smallest k with P(X <= k) >= wanted, by Newton's steps between bounds; ``None``: the sum must tell."""
    mean, spread = trials * (a / (a + b)), _spread(trials, a, b)
    sums = min(trials, 18 * spread) <= _MOST_TERMS
    chance = _chance(trials, a, b)
    low, high = -1, min(trials, math.ceil(mean + spread) + 1)  # no median is farther than that from its mean
    k = round(mean - 1.6 * spread)
    if 4 * (a + b) < trials and min(a, b) > 1:
        at, doubt = _near(trials, a, b, wanted)
        k = math.ceil(at)
        if doubt < at - (k - 1) and doubt < k - at:
            return k
    k = min(max(k, 0), high - 1)
    while high - low > 1:
        term, over = chance(k), _integral(k, trials, a, b) - wanted
        if sums and min(abs(over), abs(over - term)) < _SURE:
            return None
        if 0 <= over < term:
            return k
        low, high = (low, k) if over > 0 else (k, high)
        k -= math.floor(over / max(term, _NOTHING))
        if not low < k < high:
            k = (low + high) // 2
    return high


def _near(trials: int, a: float, b: float, wanted: float) -> tuple[float, float]:
    """The quantile before it is rounded up, and how far it may lie beside that.

    From the quantile x of the share: the gamma ratios and the sum expanded in 1/n to the second order
    (Euler-Maclaurin), ``n x + (A x - a)/2 - 1/2 + d2/n`` with A = a + b. The doubt is eight times the largest
    error that was seen where A is under n/4 (24,400 drawn cases against the sum of all terms), and all there
    is near the ends, where the terms are not smooth.
    """
    x, whole = _share_quantile(wanted, a, b), a + b
    if trials * min(x, 1 - x) < _HEAD:
        return trials * x, math.inf
    inner = a * a * (x**3 - x * x - x + 1) + a * b * (2 * x**3 - 3 * x * x + x) + b * b * (x**3 - 2 * x * x)
    second = (inner + whole * (3 * x * x - 2 * x**3 - x) + 2 * x - 1) / (24 * x * (1 - x))
    at = trials * x + (whole * x - a) / 2 - 0.5 + second / trials
    return at, 3 * abs(second) * whole / trials**2 + 1e-11 * trials


def trials_near(successes: int, a: float, b: float, tail: float) -> float:
    """About how many trials give at least so many successes but for a tail: `_near` read the other way.

    Parameters
    ----------
    successes : int
        Plants wanted [count].
    a, b : float
        Parameters of the beta distribution [none, over 1].
    tail : float
        Chance of fewer successes [probability, over 0 and under 1].

    Raises
    ------
    Nothing is raised.

    >>> round(trials_near(20, 40, 20, 0.1))
    37
    """
    share = _share_quantile(tail, a, b)
    return (successes - 0.5 - ((a + b) * share - a) / 2) / max(share, 1e-12)


@lru_cache(maxsize=2048)
def _share_quantile(wanted: float, a: float, b: float) -> float:
    return beta_quantile(wanted, a, b)


def _integral(successes: int, trials: int, a: float, b: float) -> float:
    """P(X <= k) for the lower side: first terms, then an integral (Gauss-Legendre, Euler-Maclaurin ends)."""
    chance = _chance(trials, a, b)
    if successes < _HEAD:
        return math.fsum(chance(k) for k in range(successes + 1))
    if successes >= trials - _HEAD:
        return 1 - math.fsum(chance(k) for k in range(successes + 1, trials + 1))

    def place(logit: float) -> float:
        return (trials + 1) / (1 + math.exp(-logit)) - 0.5

    def slope(k: float) -> float:
        return (k + 0.5) * (trials + 0.5 - k) / (trials + 1)

    end = math.log((successes + 1) / (trials - successes))
    least = math.log(_HEAD / (trials + 1 - _HEAD))
    width = 8 * math.sqrt(1 / trials + 1 / (a + b))  # four standard deviations of a share of one half
    while end - width > least and chance(place(end - width)) > _NOTHING * chance(successes):
        width *= 1.3
    start = max(least, end - width)
    half, middle = (end - start) / 2, (end + start) / 2
    places = [(place(middle + half * x), weight) for x, weight in _gauss_legendre()]
    inner = half * math.fsum(weight * slope(k) * chance(k) for k, weight in places)
    if start > least:
        return inner - _edge(chance, successes)
    head = math.fsum(chance(k) for k in range(_HEAD))
    return head + inner - _edge(chance, successes) + _edge(chance, _HEAD - 1)


def _edge(chance: Callable[[float], float], k: int) -> float:
    """What the integral to k + 1/2 has over the sum to k: f'/24 - 7 f'''/5760, by differences."""
    before, at, after, beyond = (chance(k + step) for step in (-1, 0, 1, 2))
    return (after - at) / 24 - 17 * (beyond - 3 * (after - at) - before) / 5760


def _chance(trials: int, a: float, b: float) -> Callable[[float], float]:
    """P(X = k), for every real k: the gamma functions in place of the factorials."""
    constant = _rise(trials + 1, a + b - 1) + log_beta(a, b)

    def chance(k: float) -> float:
        return math.exp(_rise(k + 1, a - 1) + _rise(trials - k + 1, b - 1) - constant)

    return chance


def _rise(z: float, step: float) -> float:
    """Logarithm of Gamma(z + step) / Gamma(z), to full accuracy where z is large (Stirling's series)."""
    if z < 50:
        return math.lgamma(z + step) - math.lgamma(z)
    far = z + step
    return (far - 0.5) * math.log1p(step / z) + step * (math.log(z) - 1) + _stirling(far) - _stirling(z)


def _stirling(z: float) -> float:
    return (1 / 12 - (1 / 360 - 1 / (1260 * z * z)) / (z * z)) / z


@cache
def _gauss_legendre() -> list[tuple[float, float]]:
    """Places from -1 to 1 and weights: roots of the Legendre polynomial, by Newton's steps (DLMF 3.5.15)."""
    pairs = []
    for number in range(_POINTS):
        x = math.cos(math.pi * (number + 0.75) / (_POINTS + 0.5))
        for _ in range(8):
            before, value = 1.0, x
            for degree in range(2, _POINTS + 1):
                before, value = value, ((2 * degree - 1) * x * value - (degree - 1) * before) / degree
            slope = _POINTS * (before - x * value) / (1 - x * x)
            x -= value / slope
        pairs.append((x, 2 / ((1 - x * x) * slope * slope)))
    return pairs
