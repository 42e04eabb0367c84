"""The four-parameter Hill curve of germination over time, fitted by least squares in plain Python.

``y = y0 + a x**b / (c**b + x**b)`` on cumulative percent (El-Kassaby et al. 2008, Forest Science 54:220-227;
from memory), with ``y0`` held at 0 and ``a`` at the final percentage: only for a test that has ended.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import accumulate

from coldspell.arithmetic.germination import check
from coldspell.errors import ColdspellError

_GRID = 4000


@dataclass(frozen=True, slots=True)
class HillCurve:
    """A fitted curve: ``a`` final percent, ``b`` steepness, ``c`` day of half the final percent."""

    a: float
    b: float
    c: float

    def percent_at(self, day: float) -> float:
        """Cumulative percent at a day."""
        if day <= 0:
            return 0.0
        return self.a / (1 + math.exp(min(700.0, self.b * (math.log(self.c) - math.log(day)))))

    def day_of_share(self, share: float) -> float:
        """Day by which this share of the seeds that germinate have done so: c (s / (1 - s))**(1/b)."""
        if not 0 < share < 1:
            raise ColdspellError(f"the share must lie between 0 and 1, not {share}")
        return self.c * math.pow(share / (1 - share), 1 / self.b)

    def day_of_percent(self, percent: float) -> float | None:
        """Day by which this percent of the sown seeds have germinated, ``None`` if the curve ends below."""
        return self.day_of_share(percent / self.a) if 0 < percent < self.a else None

    @property
    def uniformity_days(self) -> float:
        """Days from 10 to 90 percent of the seeds that germinate."""
        return self.day_of_share(0.9) - self.day_of_share(0.1)

    @property
    def day_of_fastest(self) -> float | None:
        """Day on which the curve is steepest: c ((b - 1)/(b + 1))**(1/b); ``None`` unless b is over 1."""
        return self.c * math.pow((self.b - 1) / (self.b + 1), 1 / self.b) if self.b > 1 else None

    def area(self, last_day: float) -> float:
        """Area under the curve up to a day [percent days], by Simpson's rule."""
        return _simpson(self.percent_at, 0.0, last_day)

    def mean_days(self, last_day: float) -> float:
        """Mean germination time over the curve up to a day: last day - area / percent reached."""
        return last_day - self.area(last_day) / self.percent_at(last_day)

    def mean_count_days(self, last_day: float) -> float:
        """Mean time as daily counts show it: integral from day 1 of x (y(x) - y(x - 1)), over ``a``.

        About half a day more than :meth:`mean_days`, since a seed seen today sprouted since yesterday.
        """

        def daily(day: float) -> float:
            return day * (self.percent_at(day) - self.percent_at(day - 1))

        return _simpson(daily, 1.0, last_day) / self.a

    def skewness(self, last_day: float) -> float:
        """Mean time as counted over the day of half the final percent."""
        return self.mean_count_days(last_day) / self.c


def _simpson(function: Callable[[float], float], low: float, high: float) -> float:
    step = (high - low) / _GRID
    inner = math.fsum((4 if i % 2 else 2) * function(low + i * step) for i in range(1, _GRID))
    return (function(low) + inner + function(high)) * step / 3


def fit_hill(counts: Sequence[int], days: Sequence[float], sown: int) -> HillCurve:
    """Fit the curve to counts: damped least squares on the logarithms of b and c.

    >>> curve = fit_hill([0, 0, 0, 0, 4, 17, 10, 7, 1, 0, 1, 0, 0, 0], range(1, 15), 50)
    >>> curve.a, round(curve.b, 4), round(curve.c, 4)
    (80.0, 9.8819, 6.035)
    """
    check(counts, days, sown)
    total = [100 * n / sown for n in accumulate(counts)]
    if sum(1 for count in counts if count) < 3:
        raise ColdspellError("a curve needs germination on at least three days")
    middle = next(day for day, y in zip(days, total, strict=True) if y >= total[-1] / 2)
    logs = [math.log(5.0), math.log(middle)]
    error, damping = _squares(logs, total, days), 1e-3
    for _ in range(500):
        step = _step(logs, total, days, damping)
        trial = [logs[0] + step[0], logs[1] + step[1]]
        found = _squares(trial, total, days)
        if found <= error:
            done = error - found <= 1e-15 * error
            logs, error, damping = trial, found, damping / 3
            if done:
                break
        else:
            damping *= 4
            if damping > 1e12:
                break
    return HillCurve(total[-1], math.exp(logs[0]), math.exp(logs[1]))


def _squares(logs: list[float], total: list[float], days: Sequence[float]) -> float:
    if abs(logs[0]) > 10 or abs(logs[1]) > 20:
        return math.inf
    curve = HillCurve(total[-1], math.exp(logs[0]), math.exp(logs[1]))
    return math.fsum((y - curve.percent_at(day)) ** 2 for day, y in zip(days, total, strict=True))


def _step(
    logs: list[float], total: list[float], days: Sequence[float], damping: float
) -> tuple[float, float]:
    """Solve the two damped normal equations."""
    a, b, c = total[-1], math.exp(logs[0]), math.exp(logs[1])
    curve = HillCurve(a, b, c)
    bb = bc = cc = rb = rc = 0.0
    for day, y in zip(days, total, strict=True):
        fitted = curve.percent_at(day)
        slope = fitted * (1 - fitted / a)
        to_b, to_c = slope * b * (math.log(day) - math.log(c)), -slope * b
        rest = y - fitted
        bb, bc, cc = bb + to_b * to_b, bc + to_b * to_c, cc + to_c * to_c
        rb, rc = rb + to_b * rest, rc + to_c * rest
    bb, cc = bb * (1 + damping) + 1e-12, cc * (1 + damping) + 1e-12
    determinant = bb * cc - bc * bc
    return (rb * cc - rc * bc) / determinant, (rc * bb - rb * bc) / determinant
