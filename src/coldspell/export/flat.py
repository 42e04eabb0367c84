"""Maps of a record as columns and cells, made from the declaration of records: a new field is in at once."""

from __future__ import annotations

import json
from collections.abc import Iterator
from functools import cache
from typing import Any, get_origin

from msgspec import Struct

from coldspell.export.columns import FOOTNOTES, Cell, Column, text
from coldspell.records.model import Quantity
from coldspell.records.record_schema import KINDS
from coldspell.records.terms import MEANINGS
from coldspell.schema.declare import Field, bare, fields_of, unit_of, words_of

_TYPES = {str: "string", bool: "boolean", int: "integer", float: "number"}
_ENDS = ("low", "usual", "high")


@cache
def fields(struct: Any) -> tuple[Field, ...]:
    """The declared fields of a class of records, read off its source once."""
    return fields_of(struct, KINDS)


def columns_of(struct: type[Struct], *without: str) -> tuple[Column, ...]:
    """The columns of a class of maps; a quantity has three: its low, usual and high value."""
    return tuple(column for one in fields(struct) if one.key not in without for column in _of(one))


def cells_of(value: Struct, *without: str) -> tuple[Cell, ...]:
    """The cells of one map, in the order of :func:`columns_of` for its class."""
    return tuple(
        cell
        for one in fields(type(value))
        if one.key not in without
        for cell in _cells(one, getattr(value, one.name))
    )


def _of(one: Field) -> Iterator[Column]:
    if one.key == "cite":
        yield FOOTNOTES
    elif is_quantity(one):
        for end in _ENDS:
            yield Column(f"{one.key}_{end}", f"{one.says} ({end} value)", "number", unit=unit_of(one.kind))
    else:
        inner = bare(one.kind)
        words = tuple(map(str, words_of(inner, MEANINGS) or ()))
        kind = _TYPES.get(inner, "object" if get_origin(inner) is dict else "string")
        yield Column(one.key, one.says, kind, required=one.required, words=words)


def _cells(one: Field, value: Any) -> Iterator[Cell]:
    if one.key == "cite":
        yield " ".join(value) or None
    elif is_quantity(one):
        yield from (None if value is None else getattr(value, end) for end in _ENDS)
    elif isinstance(value, dict):
        yield json.dumps(value, ensure_ascii=False) if value else None
    else:
        yield text(value) if value != () else None


def is_quantity(one: Field) -> bool:
    """Whether a field holds a number or a range of numbers."""
    return bare(one.kind) is Quantity
