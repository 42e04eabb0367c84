"""JSON Schemas of the files of a library, made from the classes that declare them."""

from __future__ import annotations

from typing import Any

from coldspell.json_schema import Schema, SchemaWriter
from coldspell.library import do, kinds, terms
from coldspell.library.model import Record
from coldspell.library.poisonous import Poisonous

ADDRESS = "https://coldspell.example/schemas/"
KINDS: dict[str, Any] = {**vars(kinds), **vars(terms), **vars(do)}
"""What the names in the annotations of the model stand for, in full."""


def writer() -> SchemaWriter:
    """Return a writer that knows the kinds and words of records."""
    return SchemaWriter(KINDS, terms.MEANINGS, typed=True, lists=kinds.LISTS)


def record_schema() -> Schema:
    """Return the schema of a record file."""
    return writer().document(Record, f"{ADDRESS}record-2.json", "Coldspell species record")


def poisonous_schema() -> Schema:
    """Return the schema of ``poisonous.yaml``."""
    title = "Plants known to be dangerous"
    return writer().document(list[Poisonous], f"{ADDRESS}poisonous-1.json", title)
