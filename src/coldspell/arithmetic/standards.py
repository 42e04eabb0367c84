"""Tolerances of seed testing as the standards print them, and verdicts from them.

The tables are quoted, not computed. A row that was not in the text read is from memory and says so.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from coldspell.arithmetic.distributions import check_percent
from coldspell.errors import ColdspellError

FOUR_REPLICATES: dict[int, int] = {
    99: 5, 98: 6, 97: 7, 96: 8, 95: 9, 94: 10, 93: 10, 92: 11, 91: 11, 90: 12, 89: 12, 88: 13, 87: 13, 86: 14,
    85: 14, 84: 14, 83: 15, 82: 15, 81: 15, 80: 16, 79: 16, 78: 16, 77: 17, 76: 17, 75: 17, 74: 17, 73: 17,
    72: 18, 71: 18,
}  # fmt: skip
"""Largest range among four replicates of 100, by mean percent (7 CFR 201.55(a); 99 to 71 read)."""
FOUR_RECALLED: tuple[tuple[int, int, int], ...] = ((67, 70, 18), (56, 66, 19), (51, 55, 20))
"""The rest of the same table, from memory: lowest mean, highest mean, range."""
TWO_REPLICATES: dict[int, int] = {
    97: 6, 96: 6, 95: 7, 94: 8, 93: 8, 92: 9, 91: 9, 90: 9, 89: 10, 88: 10, 87: 11, 86: 11, 85: 11, 84: 11,
    83: 12, 82: 12, 81: 12, 80: 13, 79: 13, 78: 13, 77: 13, 76: 13, 75: 14, 74: 14, 73: 14, 72: 14, 71: 14,
}  # fmt: skip
"""Largest range between two replicates of 100 (7 CFR 201.55(a); 97 to 71 read)."""


@dataclass(frozen=True, slots=True)
class Tolerance:
    """Whether replicates agree: mean [percent], range and largest range allowed [points], and its basis."""

    mean_percent: float
    range_points: float
    limit_points: int
    accept: bool
    basis: str


def replicate_limit(mean_percent: int, replicates: int) -> tuple[int, str] | None:
    """Largest range among replicates of 100 seeds at a mean, ``read`` or ``recalled``; None if not printed.

    Means under 51 stand beside their mirror (101 - mean).

    Parameters
    ----------
    mean_percent : int
        Mean of the replicates [percent].
    replicates : int
        How many, of 100 seeds each [count].

    Raises
    ------
    Nothing is raised.

    >>> replicate_limit(92, 4), replicate_limit(9, 4), replicate_limit(60, 4), replicate_limit(98, 2)
    ((11, 'read'), (11, 'read'), (19, 'recalled'), None)
    """
    upper = mean_percent if mean_percent > 50 else 101 - mean_percent
    table = {4: FOUR_REPLICATES, 2: TWO_REPLICATES}.get(replicates)
    if table is None:
        return None
    if upper in table:
        return table[upper], "read"
    if replicates == 4:
        for low, high, limit in FOUR_RECALLED:
            if low <= upper <= high:
                return limit, "recalled"
    return None


def replicate_tolerance(percents: Sequence[float]) -> Tolerance | None:
    """Whether two or four replicates of 100 seeds lie close enough together; None when nothing is printed.

    Parameters
    ----------
    percents : sequence of float
        Germination of each replicate of 100 seeds [percent].

    Raises
    ------
    ColdspellError
        When there is no replicate, or one is no percentage.

    >>> replicate_tolerance([96, 93, 90, 89]).accept, replicate_tolerance([98, 95, 92, 87]).accept
    (True, False)
    """
    for value in percents:
        check_percent(value, "germination")
    if not percents:
        raise ColdspellError("no replicate is given", mend="give at least one replicate")
    mean = math.fsum(percents) / len(percents)
    found = replicate_limit(math.floor(mean + 0.5), len(percents))
    if found is None:
        return None
    spread = max(percents) - min(percents)
    return Tolerance(mean, spread, found[0], spread <= found[0], found[1])
