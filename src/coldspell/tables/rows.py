"""What comes out of a table of lots: rows understood, and rows refused with every reason."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from msgspec import Struct

from coldspell.errors import Place
from coldspell.lot.lot import Lot


class TableForm(Struct, frozen=True):
    """What is stated about a table; ``None`` is as the table shows.

    ``kind`` is one of `coldspell.tables.read.KINDS`; ``date_format`` is as in ``strptime`` (``%d/%m/%Y``).
    """

    kind: str | None = None
    delimiter: str | None = None
    decimal_comma: bool = False
    date_format: str | None = None
    encoding: str | None = None
    sheet: str | None = None


class Own(Struct, frozen=True):
    """What a table says of a lot beside its facts; nothing of it changes the answer."""

    lot: str = ""
    grams: float | None = None
    supplier: str = ""
    origin: str = ""
    """Where it comes from in words; the part of the range (north, south) is a fact of the lot."""
    note: str = ""
    shelf: str = ""
    """Where it stands: season makes a tick sheet for each."""


class Row(Struct, frozen=True):
    """One lot of a table.

    ``number`` is the line of a text, the row of a sheet, or the row of a data file, counted from 1.
    ``carried`` are the columns that are not known here, ``cells`` all of them as they stood.
    """

    number: int
    name: str
    lot: Lot
    own: Own
    said: Mapping[str, Any]
    carried: Mapping[str, Any]
    cells: Mapping[str, Any]


class Fault(Struct, frozen=True):
    """What is wrong with one row, in which column (empty: in several together), and how to mend it."""

    column: str
    what: str
    mend: str = ""

    def __str__(self) -> str:
        return f"column {self.column}: {self.what}" if self.column else self.what


class Refused(Struct, frozen=True):
    """One row that could not be understood or planned."""

    place: Place
    faults: tuple[Fault, ...]
    cells: Mapping[str, Any]
    name: str = ""
    lot: str = ""

    def __str__(self) -> str:
        return "\n".join(
            f"{self.place}: {fault}" + (f"\n  {fault.mend}" if fault.mend else "") for fault in self.faults
        )
