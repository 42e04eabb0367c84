"""Plans as Arrow record batches: the Parquet file of a season, and `plan_batch` for other engines."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

from coldspell.extras import extra
from coldspell.season.files.flat import COLUMNS, COUNTS, DATES, NUMBERS, as_cell, flat
from coldspell.season.files.whole import WholeFile
from coldspell.season.lot_plan import LotPlan
from coldspell.season.phrases import Season
from coldspell.season.planning import Planner, Setting, plan_rows, planner_of
from coldspell.tables.heading import headings_of
from coldspell.tables.raw import RawRow
from coldspell.tables.rows import Refused, TableForm
from coldspell.tables.understand import Understanding

BATCH = 4096


def schema(*, refused: bool = False) -> Any:
    """The Arrow schema of a season; with ``refused`` a last column says why a row has no plan."""
    pa = extra("pyarrow", "season", "Parquet")
    day, spell = pa.date32(), [("start", pa.date32()), ("end", pa.date32())]
    lists = {
        "first": pa.list_(pa.string()),
        "hazards": pa.list_(pa.string()),
        "looks": pa.list_(day),
        "steps": pa.list_(pa.struct([("do", pa.string()), *spell])),
        "cold": pa.list_(pa.struct(spell)),
    }
    fields = []
    for name in COLUMNS:
        kind = lists.get(name) or (
            day
            if name in DATES
            else pa.int64()
            if name in COUNTS
            else pa.float64()
            if name in NUMBERS
            else pa.string()
        )
        fields.append((name, kind))
    fields.append(("carried", pa.map_(pa.string(), pa.string())))
    return pa.schema([*fields, ("refused", pa.string())] if refused else fields)


def batch_of(lots: Sequence[LotPlan | Refused], *, refused: bool = False) -> Any:
    """Plans as one record batch, in order; refused rows only where there is a column for them."""
    pa = extra("pyarrow", "season", "Parquet")
    rows = [_refusal(lot) if isinstance(lot, Refused) else _row(lot) for lot in lots]
    return pa.RecordBatch.from_pylist(rows, schema=schema(refused=refused))


def _row(lot: LotPlan) -> dict[str, Any]:
    carried = [(key, _text(value)) for key, value in lot.carried.items() if value is not None]
    return {**flat(lot), "carried": carried, "refused": None}


def _refusal(lot: Refused) -> dict[str, Any]:
    faults = "; ".join(f"{fault}" + (f" ({fault.mend})" if fault.mend else "") for fault in lot.faults)
    return {"row": lot.place.line, "lot": lot.lot, "name": lot.name, "refused": faults}


def _text(value: Any) -> str:
    cell = as_cell(value)
    return cell if isinstance(cell, str) else str(cell)


class ParquetFile:
    """One row a lot, written a batch at a time."""

    def __init__(self, path: Path) -> None:
        pq = extra("pyarrow.parquet", "season", "Parquet")
        self.file = WholeFile(path)
        try:
            self._writer = pq.ParquetWriter(self.file.stream, schema(), compression="zstd")
        except BaseException:
            self.file.discard()
            raise
        self._waiting: list[LotPlan] = []

    def add(self, lot: LotPlan) -> None:
        """One more row."""
        self._waiting.append(lot)
        if len(self._waiting) >= BATCH:
            self._flush()

    def _flush(self) -> None:
        self._writer.write_batch(batch_of(self._waiting))
        self._waiting = []

    def finish(self, season: Season) -> None:
        """Write the rest, and what closes the file."""
        if self._waiting:
            self._flush()
        self._writer.close()


def plan_batch(
    batch: Any, planner: Planner | Setting, form: TableForm | None = None, first_row: int = 1
) -> Any:
    """Plan the rows of a record batch; pure: the same batch gives the same batch, in any process.

    Parameters
    ----------
    batch : pyarrow.RecordBatch
        Columns as in a table of lots (docs/tables.md), ``name`` among them; of any number of rows.
    planner
        The library and the day that counts as today. A setting is small and can be sent to other processes;
        each makes its planner once, when it first needs it.
    form
        What is stated about the cells.
    first_row
        Number of the first row, for messages and for the column ``row``.

    Returns
    -------
    pyarrow.RecordBatch
        One row for each of the batch, in order, of `schema` with ``refused``: why it has no plan, else null.

    Raises
    ------
    ColdspellError
        pyarrow is not installed.
    """
    planner = planner_of(planner) if isinstance(planner, Setting) else planner
    names: Sequence[str] = batch.schema.names
    headings = headings_of(names)
    understanding = Understanding(planner.setting.file or "batch", form or TableForm(), {})
    columns = [column.to_pylist() for column in batch.columns]
    rows = (
        understanding.row(RawRow(number, dict(zip(names, cells, strict=True))), headings)
        for number, cells in enumerate(zip(*columns, strict=True), first_row)
    )
    return batch_of(list(plan_rows(rows, planner)), refused=True)


def plan_batches(
    batches: Iterable[Any], planner: Planner | Setting, form: TableForm | None = None
) -> Iterable[Any]:
    """`plan_batch` over batches with running row numbers: what Spark's ``mapInArrow`` takes."""
    row = 1
    for batch in batches:
        yield plan_batch(batch, planner, form, row)
        row += batch.num_rows
