"""A recipe, or another answer, as JSON: the same question gives the same bytes."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec
from msgspec import Struct


def render(recipe: Struct | Sequence[Struct]) -> str:
    """Indented JSON with a newline at the end; keys in the order of the schema."""
    encoded = msgspec.json.encode(recipe)
    return msgspec.json.format(encoded, indent=2).decode() + "\n"
