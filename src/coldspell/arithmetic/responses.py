"""How much of an hour at a temperature counts as cold: stated responses, each with its source.

A weight of 1 is a full hour, 0 nothing; below the freezing point of the moist medium time is paused, neither
counted nor lost. The default is common practice; the others show how far sources differ.
"""

from __future__ import annotations

import math

from msgspec import Struct

from coldspell.errors import ColdspellError

FROZEN_BELOW_CELSIUS = 0.0


class Response(Struct, frozen=True):
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
        """Share of an hour at this temperature that counts.

        Parameters
        ----------
        celsius : float
            Temperature of the seed [degrees Celsius].
        frozen_below_celsius : float
            Temperature under which time is paused [degrees Celsius].

        Raises
        ------
        Nothing is raised.
        """
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
    """A response by name, or one clear error with the names there are.

    Parameters
    ----------
    name : str
        One of :data:`RESPONSES` [name].

    Raises
    ------
    ColdspellError
        When no response has this name.
    """
    try:
        return RESPONSES[name]
    except KeyError:
        raise ColdspellError(f"no response is called {name!r}", mend=f"use {', '.join(RESPONSES)}") from None
