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
TWO_TESTS: tuple[tuple[int, int, int], ...] = (
    (99, 99, 2), (97, 98, 3), (94, 96, 4), (91, 93, 5), (87, 90, 6), (82, 86, 7), (76, 81, 8), (70, 75, 9),
    (60, 69, 10), (51, 59, 11),
)  # fmt: skip
"""Largest difference of two tests of 400 seeds, by mean band (Louisiana Administrative Code 7 XIII 139)."""
LIMITS_OF_VARIATION: tuple[tuple[int, int, int], ...] = (
    (99, 100, 2), (97, 98, 3), (94, 96, 4), (91, 93, 5), (87, 90, 6), (82, 86, 7), (76, 81, 8), (69, 75, 9),
    (65, 68, 10),
)  # fmt: skip
"""Points by which an official check may fall short of a stated germination (SSI 2005/328, schedule 7)."""
PURITY_LIMITS: tuple[tuple[float, float, float], ...] = (
    (99.9, 100.0, 0.2), (99.8, 99.8, 0.3), (99.6, 99.7, 0.4), (99.3, 99.5, 0.5), (99.0, 99.2, 0.6),
    (98.5, 98.9, 0.7), (98.3, 98.4, 0.8), (97.5, 98.2, 0.9), (97.0, 97.4, 1.0), (96.5, 96.9, 1.1),
    (95.5, 96.4, 1.2), (95.0, 95.4, 1.3),
)  # fmt: skip
"""The same for purity, by tenths of a percent (SSI 2005/328, schedule 7)."""
OTHER_SEED_LIMITS: tuple[tuple[int, int, int], ...] = (
    (0, 0, 1), (1, 1, 3), (2, 2, 4), (3, 4, 5), (5, 6, 6), (7, 8, 7), (9, 11, 8), (12, 14, 9), (15, 17, 10),
    (18, 20, 11),
)  # fmt: skip
"""Most seeds of other kinds by the number stated (SSI 2005/328, schedule 7)."""
NOXIOUS: tuple[int, ...] = (
    2, 4, 6, 8, 9, 11, 12, 13, 14, 16, 17, 18, 20, 21, 22, 23, 24, 25, 27, 28, 29, 30, 32, 33, 34, 35, 37, 38,
    39, 41, 42,
)  # fmt: skip
"""Largest number of noxious weed seeds found, by the number stated, 0 to 30 (7 CFR 201.65)."""


@dataclass(frozen=True, slots=True)
class Tolerance:
    """Whether replicates agree: mean percent, range, largest range allowed and where that stands."""

    mean_percent: float
    range_points: float
    limit_points: int
    accept: bool
    basis: str


def replicate_limit(mean_percent: int, replicates: int) -> tuple[int, str] | None:
    """Largest range among replicates of 100 seeds at a mean, ``read`` or ``recalled``; None if not printed.

    Means under 51 stand beside their mirror (101 - mean).

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

    >>> replicate_tolerance([96, 93, 90, 89]).accept, replicate_tolerance([98, 95, 92, 87]).accept
    (True, False)
    """
    for value in percents:
        check_percent(value, "germination")
    if not percents:
        raise ColdspellError("no replicate is given")
    mean = math.fsum(percents) / len(percents)
    found = replicate_limit(math.floor(mean + 0.5), len(percents))
    if found is None:
        return None
    spread = max(percents) - min(percents)
    return Tolerance(mean, spread, found[0], spread <= found[0], found[1])


def two_test_limit(mean_percent: float, *, mixture_of_200: bool = False) -> int | None:
    """Largest difference of two tests of 400 seeds at their mean; two points more for 200 seeds of a mixture.

    >>> two_test_limit(88), two_test_limit(13), two_test_limit(88, mixture_of_200=True)
    (6, 6, 8)
    """
    mean = math.floor(check_percent(mean_percent, "germination") + 0.5)
    upper = mean if mean > 50 else 101 - mean
    for low, high, limit in TWO_TESTS:
        if low <= upper <= high:
            return limit + (2 if mixture_of_200 else 0)
    return None


def limit_of_variation(stated_percent: float) -> int | None:
    """Points by which an official check may fall short of a stated germination percentage.

    >>> limit_of_variation(99), limit_of_variation(85), limit_of_variation(65), limit_of_variation(40)
    (2, 7, 10, None)
    """
    stated = math.floor(check_percent(stated_percent, "germination"))
    for low, high, limit in LIMITS_OF_VARIATION:
        if low <= stated <= high:
            return limit
    return None


def purity_limit(stated_percent: float) -> float | None:
    """Points by which an official check may fall short of a stated purity.

    >>> purity_limit(99.95), purity_limit(97.8), purity_limit(95.0), purity_limit(90)
    (0.2, 0.9, 1.3, None)
    """
    stated = math.floor(check_percent(stated_percent, "purity") * 10 + 1e-9) / 10
    for low, high, limit in PURITY_LIMITS:
        if low <= stated <= high:
            return limit
    return None


def other_seed_limit(stated: int) -> int | None:
    """Most seeds of other kinds that still agree with the number stated.

    >>> other_seed_limit(0), other_seed_limit(20), other_seed_limit(21)
    (1, 11, None)
    """
    for low, high, limit in OTHER_SEED_LIMITS:
        if low <= stated <= high:
            return limit
    return None


def noxious_limit(stated: int) -> int | None:
    """Largest number of noxious weed seeds that still agrees with the number stated.

    >>> noxious_limit(0), noxious_limit(29), noxious_limit(31)
    (2, 41, None)
    """
    return NOXIOUS[stated] if 0 <= stated < len(NOXIOUS) else None
