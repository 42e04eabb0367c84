"""How much of an hour at a temperature counts as cold: stated responses, each with its source.

A weight of 1 is a full hour, 0 nothing; below the freezing point of the moist medium time is paused, neither
counted nor lost. The default is common practice; the others show how far sources differ.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from coldspell.errors import ColdspellError

FROZEN_BELOW_CELSIUS = 0.0


@dataclass(frozen=True, slots=True)
class Response:
    """Weight of time by temperature.

    ``knots`` are (degrees Celsius, weight), rising. Between knots the weight runs straight; beyond them it
    keeps the last one. With ``steps`` a knot holds from just above its temperature up to the next (the upper
    bound belongs to the band). ``basis`` is ``read``, ``recalled`` or ``practice``.
    """

    name: str
    says: str
    source: str
    basis: str
    knots: tuple[tuple[float, float], ...]
    steps: bool = False

    def weight(self, celsius: float, frozen_below_celsius: float = FROZEN_BELOW_CELSIUS) -> float:
        """Share of an hour at this temperature that counts."""
        if celsius < frozen_below_celsius:
            return 0.0
        if self.steps:
            weight = 0.0
            for bound, value in self.knots:
                if celsius <= bound:
                    break
                weight = value
            return weight
        if celsius <= self.knots[0][0]:
            return self.knots[0][1]
        for (t0, w0), (t1, w1) in zip(self.knots, self.knots[1:], strict=False):
            if celsius <= t1:
                return w0 + (w1 - w0) * (celsius - t0) / (t1 - t0)
        return self.knots[-1][1]


def _from_fahrenheit(bands: tuple[tuple[float, float], ...]) -> tuple[tuple[float, float], ...]:
    return tuple(((f - 32) / 1.8 if math.isfinite(f) else f, weight) for f, weight in bands)


RESPONSES: dict[str, Response] = {
    r.name: r
    for r in (
        Response(
            "usual",
            "full from 1 to 7 °C, falling to nothing at 10 °C and at 0 °C",
            "common practice, no source",
            "practice",
            ((0, 0), (1, 1), (7, 1), (10, 0)),
        ),
        Response(
            "crab_apple",
            "0.5 and 4 °C alike, nothing above 9 °C (straight line between: our reading)",
            "Seed Science and Technology 34(1), 2006, Malus sargentii and M. sieboldii",
            "read",
            ((0, 1), (4, 1), (9, 0)),
        ),
        Response(
            "horse_chestnut",
            "works from 2 to 16 °C, faster the colder (straight line: our reading of a sigmoid)",
            "Steadman & Pritchard 2004, New Phytologist 161:415-425",
            "read",
            ((0, 0), (2, 1), (16, 0)),
        ),
        Response(
            "propagation_book",
            "works from 1 to 10 °C, best from 2 to 7 °C",
            "Hartmann & Kester, Plant propagation, 2011",
            "recalled",
            ((1, 0), (2, 1), (7, 1), (10, 0)),
        ),
        Response(
            "peach_buds",
            "chill units of peach BUDS, not of seed: to compare with orchard figures only",
            "Richardson, Seeley & Walker 1974, HortScience 9:331-332 (bands read on a secondary page)",
            "read",
            _from_fahrenheit(
                ((-math.inf, 0.0), (34, 0.5), (36, 1.0), (48, 0.5), (54, 0.0), (60, -0.5), (65, -1.0))
            ),
            steps=True,
        ),
    )
}


def response(name: str) -> Response:
    """A response by name, or one clear error with the names there are."""
    try:
        return RESPONSES[name]
    except KeyError:
        raise ColdspellError(f"no response is called {name!r}", mend=f"use {', '.join(RESPONSES)}") from None


def chill_units(hours: float, celsius: float) -> float:
    """Chill units of peach buds in so many hours at one temperature (Richardson et al. 1974).

    Bands in degrees Fahrenheit, upper bound included: to 34 nothing, to 36 half, to 48 one, to 54 half, to 60
    nothing, to 65 minus a half, above minus one.

    >>> [round(chill_units(24, c)) for c in (0.5, 1.7, 4.0, 10.0, 14.0, 17.0, 20.0)]
    [0, 12, 24, 12, 0, -12, -24]
    """
    return hours * RESPONSES["peach_buds"].weight(celsius, -math.inf)


def stratification_degree_days(days: float, celsius: float, threshold_celsius: float = 17.0) -> float:
    """Stratification thermal time: days x (Tc - T) for T below the threshold Tc.

    Batlla & Benech-Arnold 2003, Seed Science Research 13:55-68 (knotgrass; the threshold of 17 is recalled).

    >>> [round(stratification_degree_days(110, c)) for c in (1.6, 7, 12)]
    [1694, 1100, 550]
    """
    return days * max(0.0, threshold_celsius - celsius)


def horse_chestnut_base_celsius(days_at_6_celsius: float) -> float:
    """Lowest temperature at which horse chestnut germinates after chilling at 6 °C: 25 - days / 6.

    Pritchard 1999, Journal of Experimental Botany 50:1507-1514.

    >>> [horse_chestnut_base_celsius(d) for d in (0, 30, 60, 90, 114)]
    [25.0, 20.0, 15.0, 10.0, 6.0]
    """
    return 25 - days_at_6_celsius / 6


def probit_gain(days: float, probits_per_day: float) -> float:
    """Gain of germination in probits by chilling: rate x days (Pritchard 1999: 0.044 to 0.07 a day at 6 °C).

    >>> round(probit_gain(60, 0.044), 2), round(probit_gain(60, 0.07), 2)
    (2.64, 4.2)
    """
    return days * probits_per_day
