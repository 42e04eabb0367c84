"""JSON Schemas (2020-12) of what the command line writes around a recipe: an error, a row of a table."""

from __future__ import annotations

from typing import Any

Schema = dict[str, Any]
_DRAFT = "https://json-schema.org/draft/2020-12/schema"
_AT = "https://coldspell.example/schemas"


def _text(says: str) -> Schema:
    return {"description": says, "type": "string"}


def _map(says: str, properties: Schema, *left_out: str) -> Schema:
    """An open map (a later program may add keys); ``left_out`` are keys that need not be there."""
    required = [key for key in properties if key not in left_out]
    return {"description": says, "type": "object", "properties": properties, "required": required}


def error_schema() -> Schema:
    """The schema of an error, as it stands on standard error where the answer would have been JSON."""
    error = {
        "what": _text("What is wrong."),
        "where": {"description": "A place in a file, or null.", "type": ["string", "null"]},
        "mend": _text("How to mend it, to people at a terminal; may be empty."),
        "exit_code": {
            "description": "Exit code of the program: 2 wrong use, 3 a fault of the program.",
            "type": "integer",
            "enum": [2, 3],
        },
        "candidates": {
            "description": "Names of plants of which one may be meant.",
            "type": "array",
            "items": {"type": "string"},
        },
    }
    schema = {"description": "Version of this format.", "const": "coldspell/error/1"}
    whole = _map("Why there is no answer.", {"schema": schema, "error": _map("The error.", error)})
    return {"$schema": _DRAFT, "$id": f"{_AT}/error-1.json", "title": "Coldspell error", **whole}


def row_schema() -> Schema:
    """The schema of one line of ``recipe --lots``: the recipe of a row, or what is wrong with the row."""
    shared = {
        "row": {
            "description": "Line of a text, row of a sheet, or row of a data file, counted from 1.",
            "type": "integer",
            "minimum": 1,
        },
        "lot": _text("Number or name of the lot; may be empty."),
        "name": _text("Name of the plant as it stands in the row; may be empty."),
    }
    own = {
        "supplier": _text("Who it is from; absent where not said."),
        "origin": _text("Where it comes from, in words; absent where not said."),
        "note": _text("A note; absent where not said."),
        "shelf": _text("Where it stands; absent where not said."),
    }
    fault = {
        "column": _text("In which column; empty where several together are wrong."),
        "what": _text("What is wrong."),
        "mend": _text("How to mend it; may be empty."),
    }
    answered = {
        **shared,
        **own,
        "carried": {"description": "Columns that are not known here, as they stood.", "type": "object"},
        "recipe": {"$ref": f"{_AT}/recipe-2.json"},
    }
    refused = {
        **shared,
        "errors": {
            "description": "Everything that is wrong with the row.",
            "type": "array",
            "items": _map("One fault.", fault),
            "minItems": 1,
        },
        "cells": {"description": "All columns of the row, as they stood.", "type": "object"},
    }
    return {
        "$schema": _DRAFT,
        "$id": f"{_AT}/row-1.json",
        "title": "Line of recipe --lots",
        "oneOf": [
            _map("A row that was answered.", answered, *own),
            _map("A row that was refused.", refused),
        ],
    }
