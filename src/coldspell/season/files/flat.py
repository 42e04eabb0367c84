"""A plan as one row of columns, and the files of such rows: CSV, JSON Lines, Parquet, and rejected rows."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Mapping, Sequence
from datetime import date
from operator import itemgetter
from pathlib import Path
from typing import Any

import msgspec

from coldspell.season.files.whole import WholeFile
from coldspell.season.lot_plan import LotPlan
from coldspell.season.phrases import Season
from coldspell.tables.rows import Refused

DATES = ("asked", "start", "sow", "held_until")
COUNTS = (
    "row", "seeds", "days_spare", "days_late", "days_short", "bags", "boxes", "trays", "rolls", "sheets",
    "plants_low", "plants", "plants_high",
)  # fmt: skip
NUMBERS = ("grams", "medium_litres", "cold_litres")
COLUMNS = (
    "row", "lot", "name", "species", "seeds", "moisture", "route", "says", "asked", "start", "sow",
    "held_until", "days_spare", "days_late", "days_short", "first", "steps", "looks", "cold", "medium",
    "material", "medium_litres", "bags", "boxes", "trays", "rolls", "sheets", "cold_litres", "plants_low",
    "plants", "plants_high", "hazards", "grams", "supplier", "origin", "shelf", "note",
)  # fmt: skip
"""Columns of a season in files, in order; those that were carried through come after them."""
_AS_COLUMNS = itemgetter(*COLUMNS)


def flat(lot: LotPlan) -> dict[str, Any]:
    """A plan under the names of the columns; lists where there are several."""
    return _in_columns(
        lot,
        first=list(lot.first),
        steps=[{"do": e.what, "start": e.day, "end": e.end} for e in lot.events if e.kind != "look"],
        looks=list(lot.looks),
        cold=[{"start": first, "end": after} for first, after in lot.cold],
        hazards=list(lot.hazards),
    )


def _in_cells(lot: LotPlan) -> dict[str, Any]:
    """A plan under the names of the columns; several values as one text, parted by spaces."""
    return _in_columns(
        lot,
        first=" ".join(lot.first),
        steps=" ".join([f"{e.what}:{e.day!s}/{e.end!s}" for e in lot.events if e.kind != "look"]),
        looks=" ".join(map(str, lot.looks)),
        cold=" ".join([f"{first!s}/{after!s}" for first, after in lot.cold]),
        hazards=" ".join(lot.hazards),
    )


def _in_columns(
    lot: LotPlan, *, first: Any, steps: Any, looks: Any, cold: Any, hazards: Any
) -> dict[str, Any]:
    own, wants, plants = lot.own, lot.wants, lot.plants or (None, None, None)
    return {
        "row": lot.number,
        "lot": own.lot,
        "name": lot.name,
        "species": lot.species,
        "seeds": lot.seeds,
        "moisture": lot.moisture,
        "route": lot.route,
        "says": lot.says,
        "asked": lot.asked,
        "start": lot.start,
        "sow": lot.sow,
        "held_until": lot.held_until,
        "days_spare": lot.spare,
        "days_late": lot.late,
        "days_short": lot.short,
        "first": first,
        "steps": steps,
        "looks": looks,
        "cold": cold,
        "medium": wants.form,
        "material": wants.material,
        "medium_litres": round(wants.medium_litres, 3),
        "bags": wants.bags,
        "boxes": wants.boxes,
        "trays": wants.trays,
        "rolls": wants.rolls,
        "sheets": wants.sheets,
        "cold_litres": round(wants.room_litres, 3),
        "plants_low": plants[0],
        "plants": plants[1],
        "plants_high": plants[2],
        "hazards": hazards,
        "grams": own.grams,
        "supplier": own.supplier,
        "origin": own.origin,
        "shelf": own.shelf,
        "note": own.note,
    }


def carried_name(heading: str) -> str:
    """The column of what was carried through; one that is called as a column here gets a mark."""
    return f"{heading} (given)" if heading in COLUMNS else heading


class CsvFile:
    """One row a lot, RFC 4180 with UTF-8; several values of a cell are parted by spaces.

    ``carried`` are the columns carried through; ``None``, where each row has its own: one column with all.
    """

    def __init__(self, path: Path, carried: Sequence[str] | None) -> None:
        self.file, self._carried = WholeFile(path), carried
        self._text = io.StringIO()
        self._writer = csv.writer(self._text, lineterminator="\r\n")
        self._writer.writerow([*COLUMNS, *(["carried"] if carried is None else map(carried_name, carried))])

    def add(self, lot: LotPlan) -> None:
        """One more row."""
        cells = [*_AS_COLUMNS(_in_cells(lot))]
        if self._carried is None:
            cells.append(as_cell(lot.carried))
        else:
            cells += [as_cell(lot.carried.get(heading)) for heading in self._carried]
        self._writer.writerow(cells)
        if self._text.tell() > 1 << 16:
            self._flush()

    def _flush(self) -> None:
        self.file.write(self._text.getvalue())
        self._text.seek(0)
        self._text.truncate()

    def finish(self, season: Season) -> None:
        """Write the rest."""
        self._flush()


class JsonLinesFile:
    """One JSON object a line, with lists and dates as ISO 8601 text."""

    def __init__(self, path: Path) -> None:
        self.file = WholeFile(path)
        self._encoder = msgspec.json.Encoder(enc_hook=str)

    def add(self, lot: LotPlan) -> None:
        """One more line."""
        self.file.write(self._encoder.encode({**flat(lot), "carried": lot.carried}) + b"\n")

    def finish(self, season: Season) -> None:
        """Nothing is left to write."""


class RejectFile:
    """Refused rows as they stood, with where and why: mend them there and read the file again.

    ``headings`` are those of the table; ``None``, where each row has its own: JSON Lines instead of CSV.
    """

    def __init__(self, path: Path, headings: Sequence[str] | None) -> None:
        self.path, self._headings = path, headings
        self.file: WholeFile | None = None

    def add(self, refused: Refused) -> None:
        """One more row; the first one opens the file."""
        if self.file is None:
            self.file = WholeFile(self.path)
            if self._headings is not None:
                self.file.write(_csv_line([*self._headings, *_WHY]))
        because = "; ".join(f"{f}" + (f" ({f.mend})" if f.mend else "") for f in refused.faults)
        why = dict(zip(_WHY, (refused.place.line, because), strict=True))
        if self._headings is None:
            line = json.dumps({**refused.cells, **why}, ensure_ascii=False, default=str)
            self.file.write(line + "\n")
            return
        cells = [as_cell(refused.cells.get(heading)) for heading in self._headings]
        self.file.write(_csv_line([*cells, *why.values()]))


_WHY = ("refused_row", "refused_because")


def _csv_line(cells: Sequence[Any]) -> str:
    text = io.StringIO()
    csv.writer(text, lineterminator="\r\n").writerow(cells)
    return text.getvalue()


def as_cell(value: Any) -> Any:
    """What was carried through, as one cell of a text."""
    if type(value) is str:
        return value
    if isinstance(value, Mapping | list | tuple):
        return json.dumps(value, ensure_ascii=False, default=str)
    return value.isoformat() if isinstance(value, date) else value
