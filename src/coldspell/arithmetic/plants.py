"""Seeds to start for the plants wanted, plants to expect, and how sure that is.

A plant comes of a seed that is filled, sprouts and survives. Each share may be known exactly, from a test of
a few seeds, or only as a range; their product is carried as a beta distribution with the exact mean and
variance of the product, so that plants are beta-binomial.
"""

from __future__ import annotations

import math
from functools import lru_cache

from msgspec import Struct

from coldspell.arithmetic.beta_binomial import beta_binomial_at_most, beta_binomial_range, trials_near
from coldspell.arithmetic.distributions import binomial_at_least, check_share
from coldspell.arithmetic.samples import check_counts
from coldspell.errors import ColdspellError

MOST_SEEDS = 1_000_000_000
_CERTAIN = 1e-12


class Share(Struct, frozen=True):
    """A share with its uncertainty: mean [0 to 1] and variance [square of that]."""

    mean: float
    variance: float = 0.0

    @property
    def beta(self) -> tuple[float, float] | None:
        """Beta parameters of the same mean and variance, ``None`` when the share is as good as certain."""
        spread = self.mean * (1 - self.mean)
        if self.variance <= _CERTAIN * max(spread, _CERTAIN) or spread <= 0:
            return None
        size = spread / self.variance - 1
        return (self.mean * size, (1 - self.mean) * size) if size > 0 else None


class Expectation(Struct, frozen=True):
    """Plants to expect: mean, and the range [plants] that holds them with probability ``level`` [0 to 1]."""

    mean: float
    low: int
    high: int
    level: float


def tested_share(sound: int, tested: int) -> Share:
    """Share after a test of some seeds: Beta(k + 1, n - k + 1), that is before the test anything is possible.

    Parameters
    ----------
    sound, tested : int
        Seeds found sound, out of seeds tested [counts].

    Raises
    ------
    ColdspellError
        When the counts cannot be.

    >>> round(tested_share(8, 10).mean, 3)
    0.75
    """
    check_counts(sound, tested)
    a, b = sound + 1, tested - sound + 1
    return Share(a / (a + b), a * b / ((a + b) ** 2 * (a + b + 1)))


@lru_cache(maxsize=4096)
def range_share(low: float, high: float) -> Share:
    """Share known as a range: mean in the middle, the range taken as four standard deviations (our choice).

    Parameters
    ----------
    low, high : float
        Ends of the range [0 to 1].

    Raises
    ------
    ColdspellError
        When one is no share, or the range runs backward.

    >>> range_share(0.7, 0.9).mean
    0.8
    """
    check_share(low, "low share"), check_share(high, "high share")
    if low > high:
        raise ColdspellError(f"the range {low:g} to {high:g} runs backward", mend="give the low end first")
    mean = (low + high) / 2
    return Share(mean, min(((high - low) / 4) ** 2, mean * (1 - mean) / 3))


@lru_cache(maxsize=4096)
def spread_share(low: float, high: float, points: float) -> Share:
    """Share of a lot not seen yet, where lots of a kind lie apart: the range, or the spread if that is wider.

    The spread is the standard deviation between lots about a share of one half; towards 0 and 1 it shrinks
    as ``2 * points * sqrt(m * (1 - m))``, that is with one correlation within lots whatever their mean
    (beta-binomial, Williams 1975, Biometrics 31:949-952; recalled).

    Parameters
    ----------
    low, high : float
        Ends of the range [0 to 1]; both the same for a single figure.
    points : float
        Standard deviation between lots at a share of one half [0 to 1].

    Raises
    ------
    ColdspellError
        When an end is no share, or the range runs backward.

    >>> round(spread_share(0.8, 0.8, 0.15).variance ** 0.5, 3), spread_share(0.2, 1, 0.15).variance ** 0.5
    (0.12, 0.2)
    """
    known = range_share(low, high)
    mean = known.mean
    return Share(mean, max(known.variance, (2 * points) ** 2 * mean * (1 - mean)))


def parts_of(*parts: tuple[int, Share]) -> Share:
    """Share of a lot that is made of parts with shares of their own, each weighted by its seeds [counts].

    Parameters
    ----------
    *parts : tuple of int and Share
        Seeds of each part, and the share of them [mean 0 to 1, variance].

    Raises
    ------
    Nothing is raised.

    >>> parts_of((30, Share(1.0)), (70, Share(0.5))).mean
    0.65
    """
    whole = sum(seeds for seeds, _ in parts) or 1
    mean = sum(seeds * share.mean for seeds, share in parts) / whole
    return Share(mean, sum((seeds / whole) ** 2 * share.variance for seeds, share in parts))


def product(*shares: Share) -> Share:
    """Share that passes every stage: ``E = prod m``, ``Var = prod(m**2 + v) - E**2`` for independent shares.

    Parameters
    ----------
    *shares : Share
        Shares of the stages, independent of each other [mean 0 to 1, variance].

    Raises
    ------
    Nothing is raised.

    >>> round(product(Share(0.85), Share(0.9)).mean, 3)      # Barnett 2008: 85 and 90 percent
    0.765
    """
    mean = math.prod(share.mean for share in shares)
    second = math.prod(share.mean**2 + share.variance for share in shares)
    return Share(mean, max(0.0, second - mean**2))


def at_least_chance(plants: int, seeds: int, share: Share) -> float:
    """Probability that so many seeds give at least so many plants.

    Parameters
    ----------
    plants, seeds : int
        Plants wanted, seeds started [counts].
    share : Share
        Share of seeds that become plants [mean 0 to 1, variance].

    Raises
    ------
    ColdspellError
        When the mean of the share does not lie from 0 to 1.
    """
    if plants <= 0:
        return 1.0
    if plants > seeds:
        return 0.0
    beta = share.beta
    if beta is None:
        return binomial_at_least(plants, seeds, share.mean)
    return max(0.0, 1.0 - beta_binomial_at_most(plants - 1, seeds, *beta))


def seeds_for_plants(plants: int, probability: float, share: Share) -> int:
    """Fewest seeds that give at least the wanted plants with the wanted probability.

    Parameters
    ----------
    plants : int
        Plants wanted [count].
    probability : float
        How sure [0 to 1].
    share : Share
        Share of seeds that become plants [mean 0 to 1, variance].

    Raises
    ------
    ColdspellError
        When no seed grows, or more than a thousand million seeds would be needed.

    >>> seeds_for_plants(1, 0.95, Share(0.5)), seeds_for_plants(1, 0.95, Share(0.1))
    (5, 29)
    """
    if plants < 1:
        raise ColdspellError(
            f"at least one plant must be wanted, not {plants}", mend="give the number of plants"
        )
    if not 0 < probability < 1:
        raise ColdspellError(f"probability must be between 0 and 1, not {probability}", mend="0.9 is usual")
    low, high = plants - 1, MOST_SEEDS + 1
    guess, step = _guess(plants, probability, share), 1
    while low < guess < high and high - low > 1:  # away from the guess by steps that double
        if at_least_chance(plants, guess, share) < probability:
            low, guess = guess, guess + step
        else:
            high, guess = guess, guess - step
        step *= 2
    if high > MOST_SEEDS and at_least_chance(plants, MOST_SEEDS, share) < probability:
        raise ColdspellError(
            f"no number of seeds gives {plants} plants with probability {probability:g}",
            mend="test more seeds, or be content with less certainty",
        )
    while high - low > 1:
        middle = (low + high) // 2
        if at_least_chance(plants, middle, share) < probability:
            low = middle
        else:
            high = middle
    return high


def _guess(plants: int, probability: float, share: Share) -> int:
    """About how many seeds give the plants, nearly right for more than a few: where a search begins."""
    beta = share.beta
    if beta is not None and min(beta) > 1:
        found = trials_near(plants, *beta, 1 - probability)
    else:
        found = plants / max(share.mean, plants / MOST_SEEDS)
    return min(max(plants, round(found)), MOST_SEEDS)


def plants_expected(seeds: int, share: Share, level: float = 0.9) -> Expectation:
    """Plants to expect from so many seeds, with a central range.

    Parameters
    ----------
    seeds : int
        Seeds started [count].
    share : Share
        Share of seeds that become plants [mean 0 to 1, variance].
    level : float
        Probability that the range holds the plants [0 to 1].

    Raises
    ------
    ColdspellError
        When seeds are under 0, or the level is not between 0 and 1.

    >>> plants_expected(40, Share(0.65))
    Expectation(mean=26.0, low=21, high=31, level=0.9)
    """
    if seeds < 0:
        raise ColdspellError(f"there must be seeds, not {seeds}", mend="give the number of seeds")
    if not 0 < level < 1:
        raise ColdspellError(f"the level must lie between 0 and 1, not {level}", mend="0.9 is usual")
    tail, beta = (1 - level) / 2, share.beta
    if beta is None:
        low, high = (_binomial_quantile(chance, seeds, share.mean) for chance in (tail, 1 - tail))
    else:
        low, high = beta_binomial_range(seeds, *beta, tail)
    return Expectation(seeds * share.mean, low, high, level)


def _binomial_quantile(probability: float, seeds: int, chance: float) -> int:
    low, high = -1, seeds
    while high - low > 1:
        middle = (low + high) // 2
        if 1.0 - binomial_at_least(middle + 1, seeds, chance) >= probability:
            high = middle
        else:
            low = middle
    return high
