"""Open a table of lots and read its rows: the one way in, for every command that takes many lots."""

from __future__ import annotations

import io
import os
import sys
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import Any, BinaryIO

from coldspell.errors import ColdspellError, Place
from coldspell.tables.binary import excel, parquet
from coldspell.tables.heading import Headings, headings_of
from coldspell.tables.raw import RawTable
from coldspell.tables.rows import Refused, Row, TableForm
from coldspell.tables.text import delimited, json_lines
from coldspell.tables.understand import Understanding

KINDS = ("csv", "tsv", "jsonl", "xlsx", "parquet")
_SUFFIXES = {
    ".csv": "csv", ".txt": "csv", ".tsv": "tsv", ".tab": "tsv", ".jsonl": "jsonl", ".ndjson": "jsonl",
    ".xlsx": "xlsx", ".xlsm": "xlsx", ".parquet": "parquet",
}  # fmt: skip
_NOT_READ = {
    ".xls": "save it as .xlsx",
    ".ods": "save it as .xlsx or as CSV UTF-8",
    ".json": "write one lot a line: JSON Lines (.jsonl)",
    ".yaml": "for one lot: --lot; for many, a table",
    ".yml": "for one lot: --lot; for many, a table",
}


class LotTable:
    """An open table of lots: iterate over it once for its rows; close it, or use it in a ``with``.

    Parameters
    ----------
    source
        A path, or ``-`` for standard input.
    form
        What is stated about the table.
    defaults
        Facts for the rows that do not say them.

    Raises
    ------
    ColdspellError
        The table as a whole cannot be read: it is no table, lacks the heading ``name``, has a heading twice.
    """

    def __init__(
        self,
        source: str,
        form: TableForm | None = None,
        defaults: Mapping[str, Any] | None = None,
    ) -> None:
        self.source, self._form, self._defaults = source, form or TableForm(), dict(defaults or {})
        self._stream, self._passed = _opened(source), 0
        try:
            self._raw = _raw(self._stream, source, self._form)
            self.headings = headings_of(self._raw.headings)
        except BaseException:
            self.close()
            raise

    @property
    def columns(self) -> tuple[str, ...] | None:
        """The headings in order; ``None`` where each row has keys of its own."""
        return None if self._raw.headings is None else tuple(h for h in self._raw.headings if h)

    @property
    def fixed(self) -> bool:
        """Whether all rows have the same columns."""
        return self._raw.headings is not None

    @property
    def share(self) -> float | None:
        """How much of the table was read [0 to 1]; ``None`` where nobody knows how much there is."""
        if self._raw.count is not None:
            return min(1.0, self._passed / max(1, self._raw.count))
        try:
            size = os.fstat(self._stream.fileno()).st_size if self._raw.in_order else 0
            return min(1.0, self._stream.tell() / size) if size else None
        except (OSError, ValueError):  # a pipe has no size
            return None

    def __enter__(self) -> LotTable:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def close(self) -> None:
        """Close the file; standard input stays open."""
        if self.source != "-":
            self._stream.close()

    def __iter__(self) -> Iterator[Row | Refused]:
        """Rows in order, one at a time; empty ones are left out."""
        understanding = Understanding(self.source, self._form, self._defaults)
        fixed = self.headings if self._raw.headings is not None else None
        seen: dict[tuple[str, ...], Headings] = {}
        for raw in self._raw.rows:
            self._passed = raw.number
            headings = fixed
            if headings is None:
                keys = tuple(raw.cells)
                headings = seen.get(keys)
                if headings is None:
                    headings = headings_of(keys)
                    if len(seen) < 1000:
                        seen[keys] = headings
                self.headings = self.headings.joined(headings)
            yield understanding.row(raw, headings)


def open_lots(
    source: str, form: TableForm | None = None, defaults: Mapping[str, Any] | None = None
) -> LotTable:
    """Open a table of lots; see `LotTable`."""
    return LotTable(source, form, defaults)


def _opened(source: str) -> BinaryIO:
    if source == "-":
        stream: Any = getattr(sys.stdin, "buffer", None)
        if stream is None:
            stream = io.BytesIO(sys.stdin.read().encode())
        return stream if hasattr(stream, "peek") else io.BufferedReader(stream)
    path = Path(source)
    try:
        if not (path.is_file() or path.is_fifo()):  # a pipe as the shell names it
            what = "this is not a file" if path.exists() else "there is no such file"
            raise ColdspellError(what, Place(source), "a table of lots; a template: coldspell season new")
        return path.open("rb")
    except (OSError, ValueError) as error:
        what = getattr(error, "strerror", None) or str(error)
        raise ColdspellError(
            f"the file cannot be read: {what}", Place(source[:200]), mend="check the path and who may read it"
        ) from None


def _raw(stream: BinaryIO, source: str, form: TableForm) -> RawTable:
    head: bytes = stream.peek(8)[:8]  # type: ignore[attr-defined]
    kind = form.kind or _kind(source, head)
    if kind not in KINDS:
        raise ColdspellError(f"a table cannot be {kind!r}", mend=f"one of: {', '.join(KINDS)}")
    if head[:4] in (b"PK\3\4", b"PAR1") and kind in ("csv", "tsv", "jsonl"):
        raise ColdspellError(
            "this is not text, whatever its name says", Place(source), "give it its suffix: .xlsx or .parquet"
        )
    readers: dict[str, Callable[[], RawTable]] = {
        "csv": lambda: delimited(stream, head, source, form, None),
        "tsv": lambda: delimited(stream, head, source, form, "\t"),
        "jsonl": lambda: json_lines(stream, head, source, form),
        "xlsx": lambda: excel(stream, source, form),
        "parquet": lambda: parquet(stream, source),
    }
    return readers[kind]()


def _kind(source: str, head: bytes) -> str:
    """By the suffix; of standard input by its first bytes."""
    suffix = Path(source).suffix.lower()
    if source != "-" and suffix in _NOT_READ:
        raise ColdspellError(f"tables are not read from {suffix}", Place(source), _NOT_READ[suffix])
    if source != "-" and suffix in _SUFFIXES:
        return _SUFFIXES[suffix]
    if head[:4] == b"PK\3\4":
        return "xlsx"
    if head[:4] == b"PAR1":
        return "parquet"
    return "jsonl" if head.lstrip(b"\xef\xbb\xbf \r\n\t")[:1] == b"{" else "csv"
