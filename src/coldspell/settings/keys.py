"""The one table of settings: key, what it means, what may stand there, and the fact of a lot that it says."""

from __future__ import annotations

from typing import Any, Literal, get_args

from msgspec import Struct

from coldspell.lot.schema import lot_schema

Hemisphere = Literal["north", "south"]


class Setting(Struct, frozen=True):
    """One key; ``fact`` is the fact of a lot that it says, ``None`` where it says nothing of a lot."""

    key: str
    means: str
    fact: str | None = None
    schema: dict[str, Any] | None = None
    """What may stand there; ``None`` where the schema of the fact says it."""


_TEXT = {"type": "string", "minLength": 1, "maxLength": 200}
SETTINGS: dict[str, Setting] = {
    s.key: s
    for s in (
        Setting("units", "units of the answer", "units"),
        Setting("hemisphere", "north or south", "southern", {"enum": list(get_args(Hemisphere))}),
        Setting("winter", "winters where seed would be sown outdoors", "winter"),
        Setting("last_frost", "usual last frost, month and day", "usual_frost"),
        Setting("place", "country or region, for notes on law", "place"),
        Setting("refrigerator", "own for seed, shared with food, or none", "refrigerator"),
        Setting("fridge_celsius", "temperature where the bag lies, °C", "fridge_celsius"),
        Setting("adviser", "who signs the page", None, _TEXT),
        Setting("office", "where questions go: a telephone or an address", None, _TEXT),
        Setting("note", "a line for every page", None, _TEXT),
        Setting("office_folder", "folder of the office: local notes, logo, photographs", None, _TEXT),
    )
}


def known_settings(key: str) -> str:
    """What to write in place of a key that is no setting: the one that says the same of a lot, if any does.

    >>> known_settings("usual_frost")
    'It is kept as last_frost: usual last frost, month and day.'
    """
    meant = next((s for s in SETTINGS.values() if s.fact == key), None)
    if meant is not None:
        return f"It is kept as {meant.key}: {meant.means}."
    return f"one of: {', '.join(SETTINGS)}"


def settings_schema() -> dict[str, Any]:
    """JSON Schema (2020-12) of a settings file."""
    facts = lot_schema()["properties"]
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": "https://coldspell.example/schemas/settings-1.json",
        "title": "Coldspell settings",
        "type": "object",
        "additionalProperties": False,
        "properties": {
            s.key: {"description": s.means, **(s.schema or _of_fact(facts[s.fact]))}
            for s in SETTINGS.values()
        },
    }


def _of_fact(schema: dict[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in schema.items() if key != "description"}
