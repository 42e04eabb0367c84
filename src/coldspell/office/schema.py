"""JSON Schema (2020-12) of ``office.yaml``; the tables beside it have the same keys."""

from __future__ import annotations

from typing import Any

from coldspell.office.read import MOST_TEXT, NOTE, PHOTOGRAPH
from coldspell.records.terms import LAW_ABOUT

_TEXT = {"type": "string", "minLength": 1, "maxLength": MOST_TEXT}
_SAYS = {
    "name": "name of the office",
    "telephone": "where questions go, on sheets",
    "logo": "PNG or JPEG in the folder, on sheets",
    "kind": "name of a species or genus, or all",
    "place": "country, state or region",
    "about": "what is regulated",
    "says": "the note, one sentence",
    "who": "who says so",
    "checked": "day on which it was looked up; stale after two years",
    "file": "PNG or JPEG in the folder",
    "shows": "what is to be seen",
    "by": "who took it",
    "licence": "under which it may be printed",
}


def office_schema() -> dict[str, Any]:
    """The schema of the file."""
    lists = {
        "notes": ("notes by kind and place", NOTE),
        "photographs": ("photographs with their licence", PHOTOGRAPH),
    }
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": "https://coldspell.example/schemas/office-1.json",
        "title": "Folder of an office",
        "type": "object",
        "additionalProperties": False,
        "properties": {
            **{key: _field(key) for key in ("name", "telephone", "logo")},
            **{
                key: {"description": says, "type": "array", "items": _entry(of)}
                for key, (says, of) in lists.items()
            },
        },
    }


def _entry(columns: tuple[str, ...]) -> dict[str, Any]:
    return {
        "type": "object",
        "additionalProperties": False,
        "required": list(columns),
        "properties": {key: _field(key) for key in columns},
    }


def _field(key: str) -> dict[str, Any]:
    if key == "about":
        return {"description": _SAYS[key], "enum": list(LAW_ABOUT)}
    if key == "checked":
        return {"description": _SAYS[key], "type": "string", "format": "date"}
    return {"description": _SAYS[key], **_TEXT}
