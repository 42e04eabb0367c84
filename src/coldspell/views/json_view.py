"""The recipe as JSON: the same question gives the same bytes."""

from __future__ import annotations

import inspect

import msgspec

from coldspell.write.recipe import Recipe


def render(recipe: Recipe) -> str:
    """Indented JSON with a newline at the end; keys in the order of the schema."""
    encoded = msgspec.json.encode(recipe)
    return msgspec.json.format(encoded, indent=2).decode() + "\n"


def schema() -> dict[str, object]:
    """The JSON Schema (2020-12) of the recipe, as published in docs/schemas."""
    found = msgspec.json.schema(Recipe)
    head = {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": "https://coldspell.example/schemas/recipe-1.json",
        "title": "Coldspell recipe",
    }
    for part in found["$defs"].values():  # Python 3.13 dedents docstrings, earlier ones do not
        part["description"] = inspect.cleandoc(part.get("description", ""))
    return {**head, **found}
