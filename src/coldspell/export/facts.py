"""What a record states of a plant, one fact a row: the class MeasurementOrFact of Darwin Core."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from msgspec import Struct

from coldspell.export.columns import FOOTNOTES, TAXON, Cell, Column, Table, darwin_core, text
from coldspell.export.flat import fields, is_quantity
from coldspell.records.model import TOPICS, Record
from coldspell.records.name import slug
from coldspell.schema.declare import Field, unit_of

_COLUMNS = (
    darwin_core("measurementID", "The fact: plant, topic and key of its record.", required=True),
    TAXON,
    darwin_core("measurementType", "Topic and key, as docs/record-fields.md explains them.", required=True),
    darwin_core("measurementValue", "The value as text: a number, low to high, a word or a sentence.",
                required=True),
    darwin_core("measurementUnit", "Unit of the numbers."),
    Column("low", "The number, or the low end of a range.", "number"),
    Column("usual", "The usual value inside a range, where one is known.", "number"),
    Column("high", "The number, or the high end of a range.", "number"),
    FOOTNOTES,
)  # fmt: skip


def facts(records: Iterable[Record]) -> Table:
    """Every single value of the topics that hold one map: size, storage, dormancy, germination, …"""
    rows = tuple(row for one in records for row in _rows(one))
    return Table(
        "facts", "What is stated of a plant", _COLUMNS, rows, ("measurementID",),
        {("taxonID",): ("taxa", ("taxonID",))},
    )  # fmt: skip


def _rows(record: Record) -> Iterator[tuple[Cell, ...]]:
    own = slug(record.name)
    for topic in TOPICS:
        value = getattr(record, topic)
        if value is not None:
            for one in fields(value.__class__):
                stated = getattr(value, one.name)
                if one.key != "cite" and stated is not None and stated != () and stated != one.default:
                    kind = f"{topic}.{one.key}"
                    yield (f"{own}/{kind}", own, kind, *_value(one, stated), _footnotes(value))


def _value(one: Field, stated: Any) -> tuple[Cell, ...]:
    unit = unit_of(one.kind) or None
    if is_quantity(one):
        ends = f"{stated.low:g}" if stated.low == stated.high else f"{stated.low:g} to {stated.high:g}"
        usual = "" if stated.usual is None else f", usually {stated.usual:g}"
        return ends + usual, unit, stated.low, stated.usual, stated.high
    if isinstance(stated, tuple) and all(isinstance(part, int) for part in stated):
        return " to ".join(map(str, stated)), unit, *[None] * 3  # months may wrap: no low and high
    word = str(stated).lower() if isinstance(stated, bool) else str(text(stated))
    return word, unit, *[None] * 3


def _footnotes(value: Struct) -> str:
    return " ".join(value.cite)  # type: ignore[attr-defined]
