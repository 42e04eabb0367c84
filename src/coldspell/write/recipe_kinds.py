"""Kinds of values in a recipe: unit of a number, form of a text, closed words with their meanings.

:mod:`coldspell.write.recipe` names these in its fields. They are not loaded when a recipe is made. Words of
records are in :mod:`coldspell.records.terms`, those of the rules in :mod:`coldspell.decide.names`.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal

from coldspell.arithmetic.calendar import Constraint
from coldspell.arithmetic.packing import Arrangement as Pattern
from coldspell.decide.knowledge import KnownBy
from coldspell.decide.names.closed import Fits, Into, Material, Packs
from coldspell.decide.relatives import Wants
from coldspell.schema.declare import DAY, Measure, Text
from coldspell.write.recipe_plain import PlantsRange as PlainPlants
from coldspell.write.recipe_plain import Range

Version = Literal[2]
Status = Literal["used", "possible", "refused"]
Units = Literal["metric", "us", "both"]
Shape = Literal["bag", "box", "tub", "tray", "roll", "pit", "none"]
Timings = Literal[Fits, "not_asked"]
ArmKind = Literal["pot", "sequence", "cold", "warm", "warm_now", "damp", "dry"]

Day = Annotated[str, Text(10, 10, DAY.pattern, "Year-month-day (ISO 8601).", date=True)]
DayNumber = Annotated[int, Measure("days")]
DayNumbers = Annotated[tuple[DayNumber, ...], Measure("days")]
Days = Annotated[int, Measure("days", 0)]
DaysRange = Annotated[Range, Measure("days", 0)]
Celsius = Annotated[float, Measure("°C")]
CelsiusRange = Annotated[Range, Measure("°C")]
Millimetres = Annotated[float, Measure("mm", 0)]
MillimetresRange = Annotated[Range, Measure("mm", 0)]
Lengths = Annotated[tuple[Millimetres, ...], Measure("mm")]
Points = Annotated[tuple[tuple[float, float], ...], Measure("mm")]
Litres = Annotated[float, Measure("l", 0)]
Millilitres = Annotated[tuple[float, float], Measure("ml", 0)]
Grams = Annotated[float, Measure("g", 0)]
PlantsRange = Annotated[PlainPlants, Measure("plants", 0)]
Count = Annotated[int, Measure("", 0)]
Counted = Annotated[int, Measure("", 1)]
Cites = Annotated[tuple[Counted, ...], "Numbers of the `sources` that say so."]

MEANINGS: dict[Any, dict[Any, str]] = {
    Version: {2: "This format."},
    KnownBy: {
        "species": "Its own record.",
        "genus": "The record of its genus alone.",
        "kin": "No record of its own or its genus: the plan is that of its relatives on record.",
        "nothing": "No record: the page says how to learn what it wants.",
    },
    Wants: {
        "nothing": "It is sown as it is.",
        "cold_helps": "Moist cold helps; some come without.",
        "cold": "Moist cold.",
        "warm_then_cold": "Moist warmth, then moist cold.",
        "open_coat": "Its hard coat is opened.",
        "coat_then_cold": "Its hard coat is opened, then moist cold.",
        "warmth": "Moist warmth.",
        "dry_rest": "A time of dry rest.",
        "outdoors": "It is sown outdoors, for the seasons to do it.",
        "never_chill": "A refrigerator injures it; it is sown warm.",
        "other": "Something else.",
    },
    ArmKind: {
        "pot": "A pot outdoors.",
        "sequence": "Warmth, then cold.",
        "cold": "Cold alone.",
        "warm": "Warmth alone.",
        "warm_now": "Sown warm today.",
        "damp": "Damp and cold today.",
        "dry": "Kept dry for a second try.",
    },
    Status: {
        "used": "The plan follows it.",
        "possible": "It could be used, for this lot or if something were otherwise.",
        "refused": "It is not used.",
    },
    Units: {
        "metric": "Millimetres, litres, °C.",
        "us": "Inches, fluid ounces, gallons, pounds, °F.",
        "both": "Metric, with those of `us` behind.",
    },
    Constraint: {
        "today": "Too little time is left from today.",
        "collected": "Too little time is left from the day it is gathered.",
        "wait_before": "The seed cannot wait long enough before the treatment.",
    },
    Shape: {
        "bag": "A flat bag.",
        "box": "A box with straight sides.",
        "tub": "A round tub.",
        "tray": "A tray with the seed on its surface.",
        "roll": "A roll of paper towels.",
        "pit": "A pit in the ground.",
        "none": "Nothing that has measures.",
    },
    Pattern: {
        "square": "In rows and columns.",
        "hexagonal": "Each row shifted by half a distance.",
    },
}
"""What each word means that neither records nor rules have."""
NOT_ASKED = "Nothing is treated, so it was not asked."
"""What ``not_asked`` means, beside the words that the rules have for it."""

__all__ = [
    "MEANINGS", "NOT_ASKED", "ArmKind", "Celsius", "CelsiusRange", "Cites", "Constraint", "Count", "Counted",
    "Day", "DayNumber", "DayNumbers", "Days", "DaysRange", "Grams", "Into", "KnownBy", "Lengths", "Litres",
    "Material", "Millilitres", "Millimetres", "MillimetresRange", "Packs", "Pattern", "PlantsRange", "Points",
    "Shape", "Status", "Timings", "Units", "Version", "Wants",
]  # fmt: skip
