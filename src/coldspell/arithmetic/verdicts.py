"""A germination test against what the record says, and what it lets one expect of the next lot."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from coldspell.arithmetic.distributions import beta_quantile, check_percent
from coldspell.arithmetic.samples import check_counts, clopper_pearson
from coldspell.errors import ColdspellError


@dataclass(frozen=True, slots=True)
class Verdict:
    """A test beside the record: ``below``, ``agrees`` or ``above``; interval and record [percent]."""

    verdict: str
    percent: float
    low_percent: float
    high_percent: float
    record_low_percent: float
    record_high_percent: float


@dataclass(frozen=True, slots=True)
class NextLot:
    """What to expect of the next lot of the same source: Beta(a, b), its mean and range [percent]."""

    a: float
    b: float
    mean_percent: float
    low_percent: float
    high_percent: float
    level: float


def against_record(
    germinated: int, sown: int, record_low_percent: float, record_high_percent: float, level: float = 0.95
) -> Verdict:
    """Compare a test with the record's percentage, by the exact interval of the test.

    ``below``: even the high end of the interval lies under the record's range; ``above``: even the low end
    lies over it; else the test cannot tell them apart. Seed that did not sprout may be dormant: cut it.

    Parameters
    ----------
    germinated, sown : int
        Seeds germinated, of seeds sown [counts].
    record_low_percent, record_high_percent : float
        Range of the record [percent].
    level : float
        Confidence of the interval [0 to 1].

    Raises
    ------
    ColdspellError
        When counts, percentages or confidence cannot be.

    >>> against_record(20, 50, 80, 90).verdict, against_record(40, 50, 80, 90).verdict
    ('below', 'agrees')
    """
    check_counts(germinated, sown)
    check_percent(record_low_percent, "the record"), check_percent(record_high_percent, "the record")
    if record_low_percent > record_high_percent:
        raise ColdspellError("the record's range runs backward", mend="write the lower number first")
    low, high = (100 * share for share in clopper_pearson(germinated, sown, level))
    verdict = "below" if high < record_low_percent else "above" if low > record_high_percent else "agrees"
    percent = 100 * germinated / sown
    return Verdict(verdict, percent, low, high, record_low_percent, record_high_percent)


def next_lot(
    lots: Sequence[tuple[int, int]],
    record_percent: float | None = None,
    *,
    record_weight_seeds: float,
    lot_weight_seeds: float,
    level: float = 0.9,
) -> NextLot:
    """Expectation for the next lot from tests of earlier ones and the record.

    ``a = 1 + w m + sum s k/n``, ``b = 1 + w (1 - m) + sum s (n - k)/n`` with s the seeds a lot counts for (at
    most ``lot_weight_seeds``): the conjugate beta posterior with capped weights, because lots differ.

    Parameters
    ----------
    lots : sequence of (germinated, sown)
        Earlier lots, of any number [counts].
    record_percent : float, optional
        Germination of the record [percent]; without it anything was possible before the first lot.
    record_weight_seeds, lot_weight_seeds : float
        What the record, and a lot at most, counts for [seeds]: it comes of other lots and
        places, and years and trees differ more than seeds of one lot.
    level : float
        Probability that the range holds the next lot [0 to 1].

    Raises
    ------
    ColdspellError
        When counts or percentages cannot be, or the level is not between 0 and 1.

    >>> expected = next_lot([(40, 50)], 86, record_weight_seeds=10, lot_weight_seeds=50)
    >>> round(expected.a, 1), round(expected.b, 1), round(expected.mean_percent)
    (49.6, 12.4, 80)
    """
    a = b = 1.0
    if record_percent is not None:
        mean = check_percent(record_percent, "the record") / 100
        a, b = a + record_weight_seeds * mean, b + record_weight_seeds * (1 - mean)
    for germinated, sown in lots:
        check_counts(germinated, sown)
        weight = min(float(sown), lot_weight_seeds)
        a, b = a + weight * germinated / sown, b + weight * (sown - germinated) / sown
    if not (0 < level < 1 and math.isfinite(a + b)):
        raise ColdspellError(
            "the level must lie between 0 and 1, and weights must be numbers",
            mend="give a level such as 0.95",
        )
    low, high = beta_quantile((1 - level) / 2, a, b), beta_quantile((1 + level) / 2, a, b)
    return NextLot(a, b, 100 * a / (a + b), 100 * low, 100 * high, level)
