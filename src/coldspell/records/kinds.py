"""Kinds of values in a species record: unit and bounds of a number, form of a text.

:mod:`coldspell.records.model` names these in its fields. They are not loaded when a recipe is made.
"""

from __future__ import annotations

from typing import Annotated

from coldspell.records.quantity import Quantity
from coldspell.schema.declare import DAY, NotInFile, OneOrMany, Range, Text

Days = Annotated[Quantity, Range("days", "days", 0, 1500)]
Hours = Annotated[Quantity, Range("hours", "hours", 0, 2000)]
Minutes = Annotated[Quantity, Range("minutes", "minutes", 0, 2000)]
HoursOfLight = Annotated[Quantity, Range("hours_of_light", "hours in 24", 0, 24)]
Years = Annotated[Quantity, Range("years", "years", 0, 1000)]
GraftYears = Annotated[Quantity, Range("graft_years", "years", 0, 10)]
Celsius = Annotated[Quantity, Range("celsius", "°C", -30, 100)]
StorageCelsius = Annotated[Quantity, Range("storage_celsius", "°C", -200, 40)]
SoilCelsius = Annotated[Quantity, Range("soil_celsius", "°C", 0, 40)]
FrostCelsius = Annotated[Quantity, Range("frost_celsius", "°C", -60, 5)]
ChillingCelsius = Annotated[Quantity, Range("chilling_celsius", "°C", 0, 20)]
HeatCelsius = Annotated[Quantity, Range("heat_celsius", "°C", 20, 100)]
Percent = Annotated[Quantity, Range("percent", "%", 0, 100)]
Millimetres = Annotated[Quantity, Range("millimetres", "mm", 0.01, 500)]
Depth = Annotated[Quantity, Range("depth", "mm", 0, 300)]
GraftMillimetres = Annotated[Quantity, Range("graft_millimetres", "mm", 1, 60)]
Count = Annotated[Quantity, Range("count", "seeds", 0.1, 1e9)]
GramsPerLitre = Annotated[Quantity, Range("grams_per_litre", "g/l", 1, 2000)]
Strength = Annotated[Quantity, Range("strength", "mg/l", 0, 1e5)]
Months = Annotated[tuple[int, int], Range("month", "", 1, 12)]
GbifKey = Annotated[int, Range("gbif_key", "", 1, 1e12)]

Sentence = Annotated[str, Text(1, 600)]
Day = Annotated[str, DAY]
Name = Annotated[str, Text(3, 90, r"^[A-Z×]", "Begin with a capital letter, or with ×.")]
Synonym = Annotated[str, Text(3, 90)]
CommonName = Annotated[str, Text(2, 60)]
Family = Annotated[
    str, Text(pattern=r"^[A-Z][a-z]+ceae$", form="Write one capitalised word that ends in -ceae.")
]
Language = Annotated[
    str, Text(pattern=r"^[a-z]{2,3}$", form="Name a language by its ISO 639 code, as en or de.")
]
WfoId = Annotated[str, Text(pattern=r"^wfo-\d{10}$", form="Write wfo- and ten digits.")]

_HYPHENS = "Write lower-case letters, digits and hyphens, a letter first."
FootnoteName = Annotated[str, Text(pattern=r"^[a-z][a-z0-9-]*$", form=_HYPHENS)]
CheckId = FootnoteName
Slug = Annotated[
    str, Text(pattern=r"^[a-z0-9][a-z0-9-]*$", form="Write lower-case letters, digits and hyphens.")
]
TreatmentName = Annotated[
    str, Text(0, 50, r"^[a-z0-9][a-z0-9-]*$", "Write lower-case letters, digits and hyphens.")
]
FactName = Annotated[str, Text(pattern=r"^[a-z][a-z_]*$", form="Write lower-case letters and underscores.")]
Footnotes = Annotated[
    tuple[FootnoteName, ...],
    OneOrMany("cite"),
    "Names of the footnotes under `cites` that say so: one, or a list.",
]
BotanicalName = Annotated[str, Text(3, 90, r"^[A-Z][a-z]", "Begin with a capital letter.")]
SourceIds = Annotated[tuple[Slug, ...], OneOrMany("sources")]
PathInLibrary = Annotated[str, NotInFile()]

LISTS = {("Treatment", "steps"): (0, 20), ("Asks", "answers"): (2, 0), ("AskAnswer", "then"): (1, 0)}
"""Fewest and most items (0: any number) of a list, where that is limited."""
