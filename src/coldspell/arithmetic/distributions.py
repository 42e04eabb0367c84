"""Binomial and beta probabilities in plain Python (checked against scipy in the tests)."""

from __future__ import annotations

import math

from coldspell.errors import ColdspellError

_TINY = 1e-300
_STEPS = 100_000


def beta_cdf(x: float, a: float, b: float) -> float:
    """Regularised incomplete beta function I_x(a, b): probability that a Beta(a, b) share is at most x.

    Continued fraction after Lentz, with I_x(a, b) = 1 - I_(1-x)(b, a) where it converges faster
    (DLMF 8.17.22; Abramowitz & Stegun 26.5.8).

    Parameters
    ----------
    x : float
        Share [0 to 1].
    a, b : float
        Parameters [none, over 0].

    Raises
    ------
    ColdspellError
        When a or b is not over 0.

    >>> round(beta_cdf(0.5, 2, 3), 4)        # 11/16
    0.6875
    """
    if not (a > 0 and b > 0):
        raise ColdspellError(
            f"a beta distribution needs a and b over 0, not {a} and {b}", mend="give shapes over 0"
        )
    if x <= 0:
        return 0.0
    if x >= 1:
        return 1.0
    front = math.exp(a * math.log(x) + b * math.log1p(-x) - log_beta(a, b))
    if x < (a + 1) / (a + b + 2):
        return min(1.0, front * _fraction(x, a, b) / a)
    return max(0.0, 1.0 - front * _fraction(1 - x, b, a) / b)


def log_beta(a: float, b: float) -> float:
    """Logarithm of the beta function B(a, b).

    Parameters
    ----------
    a, b : float
        Parameters [none, over 0].

    Raises
    ------
    ValueError
        When a or b is 0.
    """
    return math.lgamma(a) + math.lgamma(b) - math.lgamma(a + b)


def _fraction(x: float, a: float, b: float) -> float:
    c, d = 1.0, 1.0 / _away(1.0 - (a + b) * x / (a + 1.0))
    result = d
    for m in range(1, _STEPS):
        even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m))
        odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1))
        for term in (even, odd):
            d = 1.0 / _away(1.0 + term * d)
            c = _away(1.0 + term / c)
            step = c * d
            result *= step
        if abs(step - 1.0) < 1e-15:
            break
    return result


def _away(value: float) -> float:
    return value if abs(value) > _TINY else _TINY


def beta_quantile(probability: float, a: float, b: float) -> float:
    """Share below which a Beta(a, b) share lies with the given probability; Newton's steps between bounds.

    Parameters
    ----------
    probability : float
        Probability [0 to 1].
    a, b : float
        Parameters [none, over 0].

    Raises
    ------
    ColdspellError
        When the probability is not from 0 to 1, or a or b not over 0.

    >>> round(beta_quantile(0.5, 2, 2), 6)
    0.5
    """
    check_share(probability, "probability")
    if probability in (0, 1):
        return float(probability)
    low, high, x = 0.0, 1.0, a / (a + b)
    for _ in range(1100):  # as many halvings as there are numbers between 0 and 1
        over = beta_cdf(x, a, b) - probability
        low, high = (low, x) if over > 0 else (x, high)
        density = math.exp((a - 1) * math.log(x) + (b - 1) * math.log1p(-x) - log_beta(a, b))
        step = over / density if density > _TINY else math.inf
        if abs(step) <= 1e-14 * x:
            break
        x = x - step if low < x - step < high else (low + high) / 2
        if x in (low, high):
            break
    return x


def binomial_at_least(wanted: int, trials: int, chance: float) -> float:
    """Probability of at least so many successes: P(X >= k) = I_p(k, n - k + 1).

    Parameters
    ----------
    wanted, trials : int
        Successes wanted, trials made [counts].
    chance : float
        Chance of one success [0 to 1].

    Raises
    ------
    ColdspellError
        When the chance does not lie from 0 to 1.

    >>> round(binomial_at_least(1, 5, 0.25), 6)       # 5 seeds at one in four
    0.762695
    """
    check_share(chance, "chance")
    if wanted <= 0:
        return 1.0
    if wanted > trials:
        return 0.0
    return beta_cdf(chance, wanted, trials - wanted + 1)


def check_share(value: float, name: str) -> float:
    """Pass a number from 0 to 1 on; raise the one clear error otherwise.

    Parameters
    ----------
    value : float
        The number [0 to 1].
    name : str
        What to call it in the error [words].

    Raises
    ------
    ColdspellError
        When the number does not lie from 0 to 1.
    """
    if not (math.isfinite(value) and 0 <= value <= 1):
        raise ColdspellError(
            f"{name} must lie from 0 to 1, not {value}", mend="give a share, as 0.8 for 80 %"
        )
    return value


def check_percent(value: float, name: str) -> float:
    """Pass a number from 0 to 100 on; raise the one clear error otherwise.

    Parameters
    ----------
    value : float
        The number [percent].
    name : str
        What to call it in the error [words].

    Raises
    ------
    ColdspellError
        When the number does not lie from 0 to 100.
    """
    if not (math.isfinite(value) and 0 <= value <= 100):
        raise ColdspellError(
            f"{name} must lie from 0 to 100 percent, not {value}", mend="give a percentage from 0 to 100"
        )
    return value
