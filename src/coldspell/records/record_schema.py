"""JSON Schemas of the files of a library, made from the classes that declare them."""

from __future__ import annotations

from typing import Any

from coldspell.records import do, kinds, terms
from coldspell.records.model import Record
from coldspell.records.poisonous import Poisonous
from coldspell.records.when import WHEN
from coldspell.schema.json_schema import Schema, SchemaWriter

ADDRESS = "https://coldspell.example/schemas/"
KINDS: dict[str, Any] = {**vars(kinds), **vars(terms), **vars(do)}
"""What the names in the annotations of the model stand for, in full."""


def writer() -> SchemaWriter:
    """Return a writer that knows the kinds and words of records."""
    return SchemaWriter(KINDS, terms.MEANINGS, typed=True, lists=kinds.LISTS)


def record_schema() -> Schema:
    """Return the schema of a record file.

    It lists the facts that ``when`` may ask for, with their words, so that editors offer them; which words a
    fact can have is left to the check ``unknown-condition``, which knows ``not x`` and ``up to n`` as well.
    """
    schema = writer().document(Record, f"{ADDRESS}record-2.json", "Coldspell species record")
    when = schema["$defs"]["Treatment"]["properties"]["when"]
    when["properties"] = {
        name: {"description": f"{fact.says} {fact.values()}.", **when["additionalProperties"]}
        for name, fact in WHEN.items()
    }
    return schema


def poisonous_schema() -> Schema:
    """Return the schema of ``poisonous.yaml``."""
    title = "Plants known to be dangerous"
    return writer().document(list[Poisonous], f"{ADDRESS}poisonous-1.json", title)
