"""Readings of a temperature log, without those that no sensor in wet seed can have measured."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime

PLAUSIBLE_CELSIUS = (-50.0, 60.0)
"""What a sensor may say; on error digital ones say 85 or -127 (their data sheets; recalled)."""
SECONDS = 3600.0
"""In an hour."""
Count = Callable[[str], None]
"""Called with what was left out."""


@dataclass(frozen=True, slots=True)
class Reading:
    """One line of a log; ``celsius`` [degrees] is ``None`` where the sensor failed, ``line`` its number."""

    time: datetime
    celsius: float | None
    line: int = 0


@dataclass(frozen=True, slots=True)
class LogLimits:
    """Numbers of practice by which a log is read; ``rules/practice.yaml`` holds them."""

    warm_above_celsius: float
    """Warmer, a spell counts as warm [degrees Celsius]."""
    hot_from_celsius: float
    """From here on warmth may bring dormancy back [degrees Celsius]."""
    short_hours: float
    """A warm spell that is shorter matters less [hours]."""
    stuck_hours: float
    """A sensor that shows one value for so long stands still [hours]."""
    spike_celsius: float
    """A single reading that is so far from both neighbours is a fault [degrees Celsius]."""
    agree_celsius: float
    """Those neighbours lie no farther apart [degrees Celsius]."""


def plausible(readings: Iterable[Reading], count: Count) -> Iterator[Reading]:
    """Leave out failed readings: no number, or out of any range.

    Parameters
    ----------
    readings : iterable of Reading
        In time order [time, degrees Celsius].
    count : callable
        Told what is left out [a word].

    Raises
    ------
    Nothing is raised.
    """
    low, high = PLAUSIBLE_CELSIUS
    for reading in readings:
        celsius = reading.celsius
        if celsius is None or not low <= celsius <= high:  # digital sensors say 85 or -127 on error
            count("faults")
        else:
            yield reading


def without_spikes(readings: Iterable[Reading], count: Count, limits: LogLimits) -> Iterator[Reading]:
    """Leave out a single reading far from two neighbours that agree: wet seed cannot jump and return.

    Parameters
    ----------
    readings : iterable of Reading
        In time order [time, degrees Celsius].
    count : callable
        Told what is left out [a word].
    limits : LogLimits
        How far a spike lies off, and how near its neighbours are to each other [degrees Celsius].

    Raises
    ------
    Nothing is raised.
    """
    before: Reading | None = None
    middle: Reading | None = None
    for after in readings:
        if middle is not None:
            if before is not None and _is_spike(before, middle, after, limits):
                count("spikes")
                middle = after
                continue
            yield middle
            before = middle
        middle = after
    if middle is not None:
        yield middle


def _is_spike(before: Reading, middle: Reading, after: Reading, limits: LogLimits) -> bool:
    a, b, c = before.celsius, middle.celsius, after.celsius
    if a is None or b is None or c is None or abs(a - c) > limits.agree_celsius:
        return False
    if min(abs(b - a), abs(b - c)) < limits.spike_celsius:
        return False
    if (before.time.tzinfo is None) != (after.time.tzinfo is None):
        return False
    return (after.time - before.time).total_seconds() <= 2 * SECONDS
