"""``coldspell recipe --lots FILE``: a recipe for each row of a table, as JSON Lines."""

from __future__ import annotations

import gc
import sys
from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import Any

import msgspec
from msgspec.structs import replace

from coldspell.api import Library
from coldspell.ask import Question
from coldspell.cli.output import aside
from coldspell.cli.table_options import table_form
from coldspell.errors import ColdspellError
from coldspell.lot.table import FACTS
from coldspell.tables.heading import Headings
from coldspell.tables.read import open_lots
from coldspell.tables.rows import Fault, Refused, Row
from coldspell.views.layout import fitted_json


def recipes(
    source: str,
    facts: Mapping[str, Any],
    today: date,
    libraries: Sequence[Path],
    given: Mapping[str, Any],
    kept: frozenset[str] = frozenset(),
    rules: Path | None = None,
) -> int:
    """Write a line for each row: its recipe, or what is wrong with it; 1 when some rows were refused.

    ``kept`` names the facts that come from the settings.
    """
    gc.enable()  # one recipe goes without
    with open_lots(source, table_form(given), facts) as table:
        library = Library(*libraries, rules=rules)
        out = sys.stdout.buffer if hasattr(sys.stdout, "buffer") else None
        refused = rows = 0
        for row in table:
            rows += 1
            line = _line(row, library, today, kept)
            refused += "errors" in line
            text = fitted_json(msgspec.json.encode(line, enc_hook=str).decode() + "\n", "utf-8")
            if out is None:
                sys.stdout.write(text)
            else:
                out.write(text.encode())
        warn(table.headings)
    if not rows:
        aside(f"{source}: the table has no rows below its headings")
    if refused:
        aside(f"{refused} {'row was' if refused == 1 else 'rows were'} refused; the lines say why")
    return 1 if refused else 0


def warn(headings: Headings) -> None:
    """Say which headings look like a fact and are none, since a fact that is not read is assumed."""
    for each in headings.misspelt:
        aside(f"the column {each.heading!r} is not read, only carried through: was {each.meant!r} meant?")


def _line(row: Row | Refused, library: Library, today: date, kept: frozenset[str]) -> dict[str, Any]:
    if isinstance(row, Refused):
        return _refusal(row.place.line, row.lot, row.name, row.faults, row.cells)
    try:
        found = library.recipe_of(Question(row.name, row.lot, today))
    except ColdspellError as error:
        fault = Fault("", error.what, error.mend)
        return _refusal(row.number, row.own.lot, row.name, (fault,), row.cells)
    used = {name for name in kept - row.said.keys() if getattr(row.lot, FACTS[name].field) is not None}
    found = replace(found, lot=replace(found.lot, from_settings=tuple(sorted(used))))
    own = {
        "supplier": row.own.supplier,
        "origin": row.own.origin,
        "note": row.own.note,
        "shelf": row.own.shelf,
    }
    return {
        "row": row.number,
        "lot": row.own.lot,
        "name": row.name,
        **{key: text for key, text in own.items() if text},
        "carried": row.carried,
        "recipe": found,
    }


def _refusal(
    number: int, lot: str, name: str, faults: Sequence[Fault], cells: Mapping[str, Any]
) -> dict[str, Any]:
    return {"row": number, "lot": lot, "name": name, "errors": faults, "cells": cells}
