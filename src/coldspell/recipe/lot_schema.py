"""The JSON Schema of a lot file, made from the same choices and limits that check the lot."""

from __future__ import annotations

from typing import Any

from coldspell.recipe.choices import CHOICES, LIMITS
from coldspell.recipe.lot import FACTS, WHOLE, Lot

_YES_NO = {"enum": [True, False, "yes", "no"]}
_DATE = {"type": "string", "pattern": r"^\d{4}-\d{2}-\d{2}$"}
_SHARE = {
    "oneOf": [
        {"type": "string", "pattern": r"^\d+/\d+$"},
        {"type": "array", "items": {"type": "integer", "minimum": 0}, "minItems": 2, "maxItems": 2},
    ]
}
MEANS = {
    "seeds": "how many seeds",
    "kilograms": "weight of the lot, instead of seeds",
    "moisture": "fresh: never dried since it ripened",
    "stored_years": "years in store",
    "days_dry": "days it lay dry in a room",
    "collected": "day it was gathered",
    "sow": "day to sow",
    "last_frost": "day of the last frost, instead of a sowing day",
    "southern": "southern hemisphere",
    "place": "country or region, for notes on law",
    "winter": "winters where it would be sown outdoors",
    "origin": "part of the range of the species it comes from",
    "gathered": "how and when it was got",
    "pulp": "whether flesh or husk is still on",
    "shell": "state of the shell; intact is the cleaned seed",
    "frozen": "whether the moist seed froze",
    "heated": "roasted, blanched, pasteurised or dried hot",
    "swollen": "whether it swelled in water",
    "rooted": "how many show a root",
    "root_mm": "length of the roots",
    "soft": "whether seeds are soft or leak",
    "mould": "where mould was seen",
    "holes": "whether insect holes were seen",
    "smell": "how it smells",
    "cut": "cut test: sound of cut",
    "float": "float test: floated of tried",
    "cold_days_done": "days of moist cold it has had",
    "warm_days_done": "days of moist warmth it has had",
    "sure": "whether you are sure what it is",
    "children": "children take part or live there",
    "animals": "pets or stock can reach it",
    "professional": "done by trained people",
    "refrigerator": "own for seed, shared with food, or none",
    "fridge_celsius": "temperature where the bag will lie",
    "fridge_litres": "room in the refrigerator for it",
    "grow_in": "where the seedlings grow first",
    "medium": "media at hand",
    "container": "box inside: length, width, height in mm",
    "bag": "flat bag: width, length in mm",
    "want": "plants wanted",
    "units": "units of the answer",
}
"""What each fact of a lot means, in a few words."""


def lot_schema() -> dict[str, Any]:
    """JSON Schema (2020-12) of a lot file."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": "https://coldspell.example/schemas/lot-1.json",
        "title": "Coldspell seed lot",
        "type": "object",
        "additionalProperties": False,
        "properties": {
            name: {"description": MEANS[name], **_shape(name, field)} for name, field in FACTS.items()
        },
    }


def _shape(name: str, field: str) -> dict[str, Any]:
    if name == "medium":
        one = {"enum": list(CHOICES["medium"])}
        return {"oneOf": [one, {"type": "array", "items": one}]}
    if field in CHOICES:
        return {"enum": list(CHOICES[field])}
    if field in LIMITS:
        low, high, _ = LIMITS[field]
        return {"type": "integer" if field in WHOLE else "number", "minimum": low, "maximum": high}
    if field in ("collected", "sow", "last_frost"):
        return _DATE
    if field in ("cut", "float_test"):
        return _SHARE
    if field in ("container_mm", "bag_mm"):
        sides = 3 if field == "container_mm" else 2
        numbers = {"type": "array", "items": {"type": "number", "minimum": 10, "maximum": 5000}}
        return {"oneOf": [{"type": "string"}, {**numbers, "minItems": sides, "maxItems": sides}]}
    return _YES_NO if isinstance(getattr(Lot(), field), bool) else {"type": "string"}


def lot_table() -> str:
    """The facts of a lot as a Markdown table, for the documentation."""
    rows = ["| fact | values | means |", "|---|---|---|"]
    for name, field in FACTS.items():
        rows.append(f"| `{name}` | {_values(name, field)} | {MEANS[name]} |")
    return "\n".join(rows) + "\n"


def _values(name: str, field: str) -> str:
    if name == "medium" or field in CHOICES:
        return ", ".join(CHOICES["medium" if name == "medium" else field])
    if field in LIMITS:
        low, high, unit = LIMITS[field]
        return f"{low:g} to {high:g} {unit}"
    shapes = {"cut": "8/10", "float": "3/40", "container": "200x150x100", "bag": "270x280", "place": "text"}
    return shapes.get(name, "2027-04-15" if field in ("collected", "sow", "last_frost") else "yes, no")
