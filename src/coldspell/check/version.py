"""Check that a record says in which version of the format it is written."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from typing import Any, get_args, get_origin

from msgspec import Struct

from coldspell.check.base import Fault, KeyPath, RecordFile, Surroundings
from coldspell.records.model import Quantity, Record
from coldspell.records.record_schema import KINDS
from coldspell.schema.declare import bare, fields_of

Newer = dict[str, tuple[int, "Newer"]]


def key_newer_than_schema(record: RecordFile, around: Surroundings) -> Iterator[Fault]:
    """A key of a later version of the format than the record says it is written in (none said: 1)."""
    said = record.values.get("schema", 1)
    for path, since in _used(record.values, _newer(Record), ()):
        if since > said:
            what = f"'{path[-1]}' is a key of schema {since}; this record is of schema {said}"
            yield Fault(path, what, f"Write 'schema: {since}' near the top, or run the check with --fix.")


def _used(values: Any, newer: Newer, path: KeyPath) -> Iterator[tuple[KeyPath, int]]:
    if isinstance(values, list):
        for index, item in enumerate(values):
            yield from _used(item, newer, (*path, index))
    elif isinstance(values, dict):
        for key in values.keys() & newer.keys():
            since, inside = newer[key]
            if since > 1:
                yield (*path, key), since
            yield from _used(values[key], inside, (*path, key))


@cache
def _newer(struct: type[Struct]) -> Newer:
    """The keys of a map that a later version brought, or that hold maps with such keys."""
    found: Newer = {}
    for one in fields_of(struct, KINDS):
        inner = bare(one.kind)
        if get_origin(inner) is tuple:
            inner = bare(get_args(inner)[0])
        is_map = isinstance(inner, type) and issubclass(inner, Struct) and inner is not Quantity
        inside = _newer(inner) if is_map else {}
        if one.since > 1 or inside:
            found[one.key] = (one.since, inside)
    return found
