"""Numbers as a grower reads them.

Factors: NIST Special Publication 811 (2008), appendix B (recalled): an inch is 25.4 mm, a US gallon 3.785 l,
an avoirdupois pound 453.5924 g, and °F = 1.8 °C + 32.
"""

from __future__ import annotations

from datetime import date

import pytest

from coldspell.records.model import Quantity
from coldspell.write.units import (
    Units,
    number,
    plants,
    plural,
    short_date,
    spelled_date,
    spelled_days,
    spelled_hours,
    spelled_minutes,
)

METRIC, US, BOTH = Units(), Units("us"), Units("both")


@pytest.mark.parametrize(
    ("span", "metric", "us"),
    [
        (25, "25 mm", "1 in"),
        ((25, 50), "25–50 mm", "1–2 in"),
        (Quantity(200, 360), "20–36 cm", "7⅞–14⅛ in"),
        (6.35, "6.35 mm", "¼ in"),
        ((6, 13), "6–13 mm", "¼–½ in"),
        (1, "1 mm", "0.04 in"),
        (0, "0 mm", "0.00 in"),
        ((100, 155), "100–155 mm", "3⅞–6⅛ in"),  # not all whole centimetres
    ],
)
def test_lengths(span: float, metric: str, us: str) -> None:
    assert (METRIC.length(span), US.length(span)) == (metric, us)


@pytest.mark.parametrize(
    ("span", "metric", "us"),
    [
        ((1, 5), "1–5 °C", "34–41 °F"),
        (100, "100 °C", "212 °F"),
        (-40, "−40 °C", "−40 °F"),
        ((-3, -1), "−3 to −1 °C", "27–30 °F"),
        (0, "0 °C", "32 °F"),
        (-0.04, "0 °C", "32 °F"),
        (2.5, "2.5 °C", "36 °F"),
        (-17.8, "−17.8 °C", "0 °F"),
    ],
)
def test_temperatures(span: float, metric: str, us: str) -> None:
    assert (METRIC.temperature(span), US.temperature(span)) == (metric, us)
    assert BOTH.temperature(span) == f"{metric} ({us})"


@pytest.mark.parametrize(
    ("litres", "metric", "us"),
    [(3.785, "3.8 l", "4 US quarts"), (37.85, "38 l", "10 US gallons"), (0.4732, "470 ml", "2 US cups"),
     (0.95, "0.95 l", "1 US quarts"), (12_345, "12 000 l", "3300 US gallons")],
)  # fmt: skip
def test_volumes(litres: float, metric: str, us: str) -> None:
    assert (METRIC.volume(litres), US.volume(litres)) == (metric, us)


def test_water_and_mass() -> None:
    assert METRIC.water((320, 480)) == "320–480 ml"
    assert METRIC.water((1300, 2000)) == "1.3–2 l"
    assert METRIC.water((640, 1000)) == "0.64–1 l"
    assert US.water((295.7, 591.5)) == "10–20 fl oz"
    assert US.water((3785, 7571)) == "1–2 US gallons"
    assert (METRIC.mass(453.6), US.mass(453.6)) == ("450 g", "1 lb")
    assert (METRIC.mass(2500), US.mass(28.35)) == ("2.5 kg", "1 oz")


@pytest.mark.parametrize(
    ("value", "text"),
    [(5, "5"), (5.0, "5"), (0.125, "0.125"), (12.34, "12.3"), (999.6, "1000"), (1234, "1234"),
     (20_000, "20 000"), (1e9, "1 000 000 000"), (-12_000, "-12 000"), (99.96, "100")],
)  # fmt: skip
def test_numbers_have_no_needless_digits(value: float, text: str) -> None:
    assert number(value) == text


@pytest.mark.parametrize(
    ("span", "text"),
    [(1, "1 day"), (90, "90 days"), ((90, 120), "90–120 days"),
     (Quantity(60, 90, 75), "60–90 days (usually 75)"),
     (Quantity(60, 60, 60), "60 days"), ((0.5, 1.2), "1–2 days"), (29.9999999999, "30 days")],
)  # fmt: skip
def test_days(span: float, text: str) -> None:
    assert spelled_days(span) == text


@pytest.mark.parametrize(
    ("spell", "span", "text"),
    [
        (spelled_hours, (24, 48), "24–48 hours"),
        (spelled_hours, (48, 72), "2–3 days"),
        (spelled_hours, (36, 48), "36–48 hours"),
        (spelled_hours, 1, "1 hour"),
        (spelled_hours, (0.5, 1), "0.5–1 hour"),
        (spelled_minutes, 1, "1 minute"),
        (spelled_minutes, (15, 30), "15–30 minutes"),
        (spelled_minutes, (180, 240), "3–4 hours"),
        (spelled_minutes, (170, 240), "170–240 minutes"),
    ],
)
def test_hours_and_minutes(spell, span, text) -> None:  # type: ignore[no-untyped-def]
    assert spell(span) == text


def test_dates_and_kinds() -> None:
    day = date(2027, 4, 15)
    assert spelled_date(day) == "15 April 2027"
    assert (short_date(day), short_date(day, 2027), short_date(day, 2026)) == (
        "15 Apr 2027", "15 Apr", "15 Apr 2027",
    )  # fmt: skip
    assert [plural(unit, 2) for unit in ("nut", "berry", "samara", "seed")] == [
        "nuts", "berries", "samaras", "seeds",
    ]  # fmt: skip
    assert plural("berry", 1) == "berry"


def test_what_stands_beside_a_rounded_number_is_rounded_as_well() -> None:
    """692–3100 would promise of one end what the other does not (two significant digits, our choice)."""
    told = [plants(692, 3100), plants(3134, 3134), plants(45, 1234), plants(692)]
    assert told == ["690", "3100", "45", "692"]
