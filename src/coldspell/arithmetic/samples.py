"""What a cut, float or germination test of a given size can tell about the lot it was drawn from."""

from __future__ import annotations

import math
from functools import lru_cache

from coldspell.arithmetic.distributions import beta_quantile, check_share
from coldspell.errors import ColdspellError

_COUNTS = "give the number sound out of the number tested, as 8/10"


@lru_cache(maxsize=1024)
def clopper_pearson(sound: int, tested: int, level: float = 0.95) -> tuple[float, float]:
    """Exact interval for the share of sound seed (Clopper & Pearson 1934, Biometrika 26:404-413).

    Parameters
    ----------
    sound, tested : int
        Seeds found sound, out of seeds tested [counts].
    level : float
        Confidence [0 to 1].

    Returns
    -------
    tuple of float
        Low and high share [0 to 1]: the lower tail of Beta(k, n-k+1), the upper tail of Beta(k+1, n-k).

    Raises
    ------
    ColdspellError
        When the counts cannot be, or the confidence is not between 0 and 1.

    >>> [round(100 * x) for k, n in ((8, 10), (20, 25), (10, 100), (0, 10)) for x in clopper_pearson(k, n)]
    [44, 97, 59, 93, 5, 18, 0, 31]
    """
    check_counts(sound, tested)
    tail = (1 - _check_level(level)) / 2
    low = 0.0 if sound == 0 else beta_quantile(tail, sound, tested - sound + 1)
    high = 1.0 if sound == tested else beta_quantile(1 - tail, sound + 1, tested - sound)
    return low, high


def least_share_if_all_sound(tested: int, level: float = 0.95) -> float:
    """Share that may be claimed, one-sided, when every tested seed is sound: (1 - level)**(1/n).

    Parameters
    ----------
    tested : int
        Seeds tested, all sound [count].
    level : float
        Confidence [0 to 1].

    Raises
    ------
    ColdspellError
        When no seed was tested, or the confidence is not between 0 and 1.

    >>> round(least_share_if_all_sound(10), 2)
    0.74
    """
    check_counts(tested, tested)
    return math.pow(1 - _check_level(level), 1 / tested)


def seeds_to_test(least_share: float, level: float = 0.95) -> int:
    """Seeds that must be tested, and all be sound, to claim at least this share: ln(1-level)/ln(share).

    Parameters
    ----------
    least_share : float
        Share to be shown [0 to 1].
    level : float
        Confidence [0 to 1].

    Raises
    ------
    ColdspellError
        When share or confidence are not between 0 and 1.

    >>> seeds_to_test(0.9)
    29
    """
    if not 0 < check_share(least_share, "share") < 1:
        raise ColdspellError(
            "a share of 0 needs no test, and no sample proves a share of 1",
            mend="give a share between 0 and 1",
        )
    return math.ceil(math.log(1 - _check_level(level)) / math.log(least_share) - 1e-9)


def margin(tested: int, share: float = 0.5, level: float = 0.95) -> float:
    """Widest half of the exact interval that a test of this size leaves around a share.

    Parameters
    ----------
    tested : int
        Seeds to be tested [count].
    share : float
        Share found sound [0 to 1].
    level : float
        Confidence [0 to 1].

    Raises
    ------
    ColdspellError
        When no seed was tested, or share or confidence cannot be.

    >>> [round(100 * margin(n)) for n in (10, 25, 100, 400)]
    [31, 21, 10, 5]
    """
    check_counts(0, tested)
    sound = round(check_share(share, "share") * tested)
    low, high = clopper_pearson(sound, tested, level)
    return max(sound / tested - low, high - sound / tested)


def check_counts(part: int, whole: int) -> None:
    """Refuse counts that cannot be: part over whole, negative, or nothing tested.

    Parameters
    ----------
    part, whole : int
        Seeds found so, out of seeds tested [counts].

    Raises
    ------
    ColdspellError
        When part is over whole or negative, or nothing was tested.
    """
    if whole < 1:
        raise ColdspellError("no seed was tested", mend=_COUNTS)
    if not 0 <= part <= whole:
        raise ColdspellError(f"{part} of {whole} cannot be", mend=_COUNTS)


def _check_level(level: float) -> float:
    if not 0 < level < 1:
        raise ColdspellError(f"the confidence must lie between 0 and 1, not {level}", mend="0.95 is usual")
    return level
