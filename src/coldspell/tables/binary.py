"""Tables that are not text: sheets of Excel, and Parquet. Both come with the extra ``season``."""

from __future__ import annotations

import io
from collections.abc import Iterator, Sequence
from typing import Any, BinaryIO

from msgspec.structs import replace

from coldspell.errors import ColdspellError, Place
from coldspell.extras import extra
from coldspell.tables.raw import RawRow, RawTable, with_headings
from coldspell.tables.rows import TableForm

_BATCH_ROWS = 4096


def excel(stream: BinaryIO, file: str, form: TableForm) -> RawTable:
    """The sheet that was named, else the first; formulas as the values that were saved with them."""
    openpyxl = extra("openpyxl", "season", "an Excel table")
    try:
        book = openpyxl.load_workbook(_seekable(stream), read_only=True, data_only=True)
    except Exception as error:  # zip, XML and the library's own, all of a broken file
        what = f"this is no Excel file that can be read: {type(error).__name__}"
        raise ColdspellError(what, Place(file), "save it as .xlsx or as CSV UTF-8") from None
    if form.sheet is not None and form.sheet not in book.sheetnames:
        names = ", ".join(book.sheetnames)
        raise ColdspellError(f"there is no sheet {form.sheet!r}", Place(file), f"its sheets: {names}")
    sheet = book[form.sheet or book.sheetnames[0]]
    return replace(with_headings(_sheet_rows(sheet), file), in_order=False)


def _sheet_rows(sheet: Any) -> Iterator[tuple[int, Sequence[Any]]]:
    sheet.reset_dimensions()  # what the file says of its size is often wrong
    for number, cells in enumerate(sheet.iter_rows(values_only=True), 1):
        if cells:
            yield number, cells


def parquet(stream: BinaryIO, file: str) -> RawTable:
    """The rows of a Parquet file, a batch at a time."""
    arrow, pq = extra("pyarrow", "season", "Parquet"), extra("pyarrow.parquet", "season", "Parquet")
    try:
        opened = pq.ParquetFile(_seekable(stream))
    except (arrow.ArrowException, OSError) as error:
        what = f"this is no Parquet file that can be read: {str(error)[:80]}"
        raise ColdspellError(what, Place(file), "write it anew") from None
    headings = tuple(opened.schema_arrow.names)
    checked = with_headings([(0, headings)], file)
    rows = _arrow_rows(opened, headings, file)
    return RawTable(checked.headings, rows, opened.metadata.num_rows, in_order=False)


def _arrow_rows(opened: Any, headings: Sequence[str], file: str) -> Iterator[RawRow]:
    number = 0
    try:
        for batch in opened.iter_batches(batch_size=_BATCH_ROWS):
            columns = [column.to_pylist() for column in batch.columns]
            for cells in zip(*columns, strict=True):
                number += 1
                if any(cell not in (None, "") for cell in cells):
                    yield RawRow(number, dict(zip(headings, cells, strict=True)))
    except OSError as error:
        raise ColdspellError(
            f"it cannot be read on: {str(error)[:80]}",
            Place(file, number),
            mend="save the table anew, or as CSV",
        ) from None


def _seekable(stream: BinaryIO) -> BinaryIO:
    """A stream that can go back: a pipe is read whole."""
    return stream if stream.seekable() else io.BytesIO(stream.read())
