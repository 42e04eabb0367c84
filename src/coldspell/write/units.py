"""Numbers as a grower reads them: metric, US customary, or both; days, dates and counts in words."""

from __future__ import annotations

import math
from datetime import date

from coldspell.records.model import Quantity

MONTHS = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
]
_EIGHTHS = {0: "", 1: "⅛", 2: "¼", 3: "⅜", 4: "½", 5: "⅝", 6: "¾", 7: "⅞"}
_PLURALS = {"samara": "samaras", "berry": "berries", "seed": "seeds"}
Span = Quantity | tuple[float, float] | float


def round_down(count: int) -> int:
    """A count of which two figures are meant, none above it.

    >>> round_down(287), round_down(12), round_down(7)
    (280, 12, 7)
    """
    step: int = 10 ** max(0, len(str(count)) - 2)
    return count // step * step


def round_up(count: int) -> int:
    """A count of which two figures are meant, none below it.

    >>> round_up(12368), round_up(1200), round_up(31)
    (13000, 1200, 31)
    """
    step: int = 10 ** max(0, len(str(count)) - 2)
    return -(-count // step) * step


def plural(unit: str, count: float) -> str:
    """The word for one seed of a kind, or for several."""
    return unit if count == 1 else _PLURALS.get(unit, unit + "s")


def number(value: float) -> str:
    """A number without needless digits: three significant ones below 100, none after the point above."""
    if abs(value) >= 100 or value == int(value):
        return f"{value:,.0f}".replace(",", " ") if abs(value) >= 10_000 else f"{value:.0f}"
    return f"{value:.3g}"


def plants(value: float, most: float = 0) -> str:
    """A number of plants to expect: two significant digits from a thousand on, since more would be false.

    ``most`` is the largest number that stands beside it: what is rounded for one is rounded for all.
    """
    return number(_two(value) if max(value, most) >= 1000 and value >= 100 else value)


def ends(span: Span) -> tuple[float, float]:
    """Low and high of a quantity, a pair or a single number."""
    if isinstance(span, Quantity):
        return span.low, span.high
    if isinstance(span, tuple):
        return span
    return span, span


def _range(low: str, high: str) -> str:
    if low == high:
        return low
    return f"{low} to {high}" if "-" in low + high or "−" in low + high else f"{low}–{high}"


def spelled_date(day: date) -> str:
    """15 April 2027."""
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"


def short_date(day: date, year: int | None = None) -> str:
    """15 Apr, with the year when it is not the one given."""
    text = f"{day.day} {MONTHS[day.month - 1][:3]}"
    return text if day.year == year else f"{text} {day.year}"


def spelled_days(span: Span) -> str:
    """Days of a step: ``90 to 120 days``; a usual value is named."""
    low, high = (math.ceil(v - 1e-9) for v in ends(span))
    if isinstance(span, Quantity) and span.usual is not None and low != high:
        return f"{low}–{high} days (usually {math.ceil(span.usual - 1e-9)})"
    if low == high:
        return f"{low} day" if low == 1 else f"{low} days"
    return f"{low}–{high} days"


def spelled_hours(span: Span) -> str:
    """Hours, or days when every end is a whole number of days of two or more."""
    low, high = ends(span)
    if low >= 48 and low % 24 == 0 and high % 24 == 0:
        return spelled_days((low / 24, high / 24))
    return f"{_range(number(low), number(high))} {'hour' if high == 1 else 'hours'}"


def spelled_minutes(span: Span) -> str:
    """Minutes, in hours from three hours on."""
    low, high = ends(span)
    if low >= 180 and low % 30 == 0 and high % 30 == 0:
        return spelled_hours((low / 60, high / 60))
    return f"{_range(number(low), number(high))} {'minute' if high == 1 else 'minutes'}"


class Units:
    """Formats lengths, temperatures, volumes and weights in the units the grower chose."""

    __slots__ = ("system",)

    def __init__(self, system: str = "metric") -> None:
        self.system = system

    def _pick(self, metric: str, customary: str) -> str:
        if self.system == "metric":
            return metric
        return customary if self.system == "us" else f"{metric} ({customary})"

    def length(self, span: Span) -> str:
        """A length given in millimetres."""
        low, high = ends(span)
        centimetres = low >= 100 and low % 10 == 0 and high % 10 == 0
        scale, unit = (10, "cm") if centimetres else (1, "mm")
        metric = f"{_range(number(low / scale), number(high / scale))} {unit}"
        return self._pick(metric, f"{_range(_inches(low), _inches(high))} in")

    def temperature(self, span: Span) -> str:
        """A temperature given in degrees Celsius."""
        low, high = ends(span)
        fahrenheit = _range(_signed(low * 1.8 + 32, 0), _signed(high * 1.8 + 32, 0))
        return self._pick(f"{_range(_signed(low, 1), _signed(high, 1))} °C", f"{fahrenheit} °F")

    def volume(self, litres: float) -> str:
        """A volume given in litres."""
        quarts = litres / 0.946353
        if quarts >= 8:
            customary = f"{number(_two(quarts / 4))} US gallons"
        elif quarts >= 0.95:
            customary = f"{number(_two(quarts))} US quarts"
        else:
            customary = f"{number(_two(quarts * 4))} US cups"
        metric = f"{number(_two(litres))} l" if litres >= 0.95 else f"{number(_two(litres * 1000))} ml"
        return self._pick(metric, customary)

    def area(self, square_metres: float) -> str:
        """An area given in square metres."""
        feet = square_metres / 0.3048**2
        return self._pick(f"{number(_two(square_metres))} m²", f"{number(_two(feet))} sq ft")

    def water(self, millilitres: Span) -> str:
        """Water given in millilitres, as a range."""
        low, high = ends(millilitres)
        if high >= 1000:
            metric = f"{_range(number(_two(low / 1000)), number(_two(high / 1000)))} l"
        else:
            metric = f"{_range(number(_two(low)), number(_two(high)))} ml"
        per_unit, unit = (29.5735, "fl oz") if high < 2000 else (3785.41, "US gallons")
        amount = _range(number(_two(low / per_unit)), number(_two(high / per_unit)))
        return self._pick(metric, f"{amount} {unit}")

    def mass(self, grams: float) -> str:
        """A weight given in grams."""
        metric = f"{number(_two(grams / 1000))} kg" if grams >= 1000 else f"{number(_two(grams))} g"
        pounds = grams / 453.592
        customary = f"{number(_two(pounds))} lb" if pounds >= 1 else f"{number(_two(pounds * 16))} oz"
        return self._pick(metric, customary)


def _two(value: float) -> float:
    """Two significant digits: amounts of medium and water are no finer than that."""
    return float(f"{value:.2g}")


def _signed(value: float, digits: int) -> str:
    text = f"{value:.{digits}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return text.replace("-", "−") if text not in ("-0", "0") else "0"


def _inches(millimetres: float) -> str:
    eighths = round(millimetres / 25.4 * 8)
    if eighths == 0:
        return f"{millimetres / 25.4:.2f}"
    whole, rest = divmod(eighths, 8)
    return (str(whole) if whole else "") + _EIGHTHS[rest] or "0"
