"""Cold outdoors: readings made up from the lowest and highest temperature of each day."""

from __future__ import annotations

import math
from collections.abc import Iterator
from datetime import date, datetime, timedelta

from coldspell.arithmetic.cold import Reading
from coldspell.errors import ColdspellError


def daily_readings(
    day: date, lowest_celsius: float, highest_celsius: float, *, steps: int = 24, depth_mm: float = 0.0
) -> Iterator[Reading]:
    """Readings of one day from its lowest and highest temperature: one sine wave, warmest at 15:00.

    ``T = mean + half range x sin`` (Baskerville & Emin 1969, Ecology 50:514-517; from memory). At a depth
    the wave of the day shrinks by exp(-depth / 100 mm), as it does in moist loam (textbook figure, from
    memory); the lag is left out. A logger in the soil is better than air temperatures.

    >>> [round(r.celsius, 1) for r in daily_readings(date(2027, 1, 1), 2, 8, steps=4)]
    [2.9, 2.9, 7.1, 7.1]
    """
    if lowest_celsius > highest_celsius:
        raise ColdspellError(f"{day}: the lowest temperature {lowest_celsius:g} is above the highest")
    mean = (lowest_celsius + highest_celsius) / 2
    half = (highest_celsius - lowest_celsius) / 2 * math.exp(-max(0.0, depth_mm) / 100)
    start = datetime(day.year, day.month, day.day)
    for i in range(steps):
        hour = 24 * i / steps
        yield Reading(start + timedelta(hours=hour), mean + half * math.cos(2 * math.pi * (hour - 15) / 24))
