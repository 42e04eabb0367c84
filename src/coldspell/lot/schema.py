"""What is made from the table of lot facts: the JSON Schema of a lot file, the table of the documentation."""

from __future__ import annotations

from datetime import date
from typing import Any

from coldspell.lot.lot import Millimetres, MonthDay, Share
from coldspell.lot.read import as_limit
from coldspell.lot.table import FACTS, LotFact, options

_DATE = {"type": "string", "format": "date", "pattern": r"^\d{4}-\d{2}-\d{2}$"}
MONTH_DAY = r"^(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])$"
_SHARE = {
    "oneOf": [
        {"type": "string", "pattern": r"^\d+/\d+$"},
        {"type": "array", "items": {"type": "integer", "minimum": 0}, "minItems": 2, "maxItems": 2},
    ]
}


def lot_schema() -> dict[str, Any]:
    """JSON Schema (2020-12) of a lot file."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": "https://coldspell.example/schemas/lot-1.json",
        "title": "Coldspell seed lot",
        "type": "object",
        "additionalProperties": False,
        "properties": {
            name: {"description": _described(fact), **_shape(fact)} for name, fact in sorted(FACTS.items())
        },
    }


def _described(fact: LotFact) -> str:
    return f"{fact.about.means} [{fact.about.unit}]" if fact.about.unit else fact.about.means


def _shape(fact: LotFact) -> dict[str, Any]:
    if fact.many:
        one = {"enum": list(fact.words)}
        return {"oneOf": [one, {"type": "array", "items": one}]}
    if fact.words:
        return {"enum": list(fact.words)}
    if fact.number:
        kind = "integer" if fact.whole else "number"
        return {"type": kind, "minimum": fact.about.low, "maximum": fact.about.high}
    if fact.kind is date:
        return _DATE
    if fact.kind is MonthDay:
        return {"type": "string", "pattern": MONTH_DAY}
    if fact.kind is Share:
        return _SHARE
    if fact.kind is Millimetres:
        sides = 1 + fact.about.example.count("x")
        numbers = {"type": "array", "items": {"type": "number", "minimum": 10, "maximum": 5000}}
        return {"oneOf": [{"type": "string"}, {**numbers, "minItems": sides, "maxItems": sides}]}
    return {"enum": [True, False, "yes", "no"]} if fact.kind is bool else {"type": "string"}


def lot_table() -> str:
    """The facts of a lot as a Markdown table by group, for the documentation."""
    rows = ["| fact | option | values | means |", "|---|---|---|---|"]
    for group in dict.fromkeys(fact.about.group for fact in FACTS.values()):
        rows.append(f"| **{group}** | | | |")
        for fact in (f for f in FACTS.values() if f.about.group == group):
            option = f"`{', '.join(options(fact))}`"
            rows.append(f"| `{fact.name}` | {option} | {_values(fact)} | {fact.about.means} |")
    return "\n".join(rows) + "\n"


def _values(fact: LotFact) -> str:
    if fact.words:
        return ", ".join(fact.words)
    if fact.number:
        return f"{as_limit(fact.about.low)} to {as_limit(fact.about.high)} {fact.about.unit}"
    return fact.about.example or ("2027-04-15" if fact.kind is date else "yes, no")
