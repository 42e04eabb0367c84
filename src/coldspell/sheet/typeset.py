"""PDF and PNG of a sheet by Typst, from a template over its content; whole in memory."""

from __future__ import annotations

import json
from bisect import bisect_left
from datetime import UTC, date, datetime
from functools import cache, partial
from pathlib import Path
from typing import Any

import msgspec

from coldspell.extras import extra
from coldspell.sheet.content import Sheet

TEMPLATE = Path(__file__).parent / "templates" / "sheet.typ"
SIZES = (13.0, 12.5, 12.0, 11.5, 11.0, 10.5, 10.0, 9.5, 9.0, 8.5)
"""Sizes of the letters [points] that are tried, largest first."""
PAGES = 2
_ONE_PAGE_FROM = 10.0
"""A sheet is set on one page when it fits there in letters of at least so many points (our choice)."""


class Typesetter:
    """Sets sheets; one for many, since loading the fonts takes longest.

    Raises
    ------
    ColdspellError
        The library for it is not installed.
    """

    def __init__(self) -> None:
        self._typst: Any = extra("typst", "sheet", "a PDF or PNG")
        self._template = TEMPLATE.read_bytes()
        self._fonts = self._typst.Fonts(include_system_fonts=False)

    def pdf(self, sheet: Sheet) -> bytes:
        """The sheet as tagged PDF (PDF/UA-1), on one page or two; the same bytes for the same sheet."""
        size = self._size(sheet)
        day = date.fromisoformat(sheet.day)
        return bytes(
            self._compiler(sheet, size).compile(
                format="pdf",
                pdf_standards="ua-1",
                timestamp=datetime(day.year, day.month, day.day, tzinfo=UTC),
            )
        )

    def png(self, sheet: Sheet, ppi: float = 150) -> bytes:
        """The sheet as one picture, its pages under one another."""
        compiler = self._compiler(sheet, self._size(sheet), endless="yes")
        return bytes(compiler.compile(format="png", ppi=ppi))

    def pages(self, sheet: Sheet, size: float) -> int:
        """Pages that a sheet takes in letters of a size."""
        return int(json.loads(self._compiler(sheet, size).query("<pages>", field="value", one=True)))

    def _size(self, sheet: Sheet) -> float:
        """The largest letters that fit one page; else the largest that fit two."""
        pages = cache(partial(self.pages, sheet))
        large = [size for size in SIZES if size >= _ONE_PAGE_FROM]
        if pages(large[-1]) == 1:
            return large[bisect_left(large, True, key=lambda size: pages(size) == 1)]
        at = bisect_left(SIZES, True, key=lambda size: pages(size) <= PAGES)
        return SIZES[min(at, len(SIZES) - 1)]

    def _compiler(self, sheet: Sheet, size: float, **inputs: str) -> Any:
        content = msgspec.json.encode(sheet).decode("utf-8")
        told = {"sheet": content, "size": f"{size}pt", **inputs}
        return self._typst.Compiler(self._template, font_paths=self._fonts, sys_inputs=told)
