"""The sheet of a season, or its tick sheets, as PDF or HTML."""

from __future__ import annotations

import base64
import hashlib
import json
from datetime import UTC, datetime, time
from pathlib import Path
from typing import Any

import msgspec

from coldspell.errors import ColdspellError
from coldspell.extras import extra
from coldspell.season.files.whole import WholeFile
from coldspell.season.lot_plan import LotPlan
from coldspell.season.phrases import Season
from coldspell.season.print.content import MOST_PRINTED, SeasonSheet, season_sheet
from coldspell.texts import Texts

TEMPLATES = Path(__file__).parent / "templates"


class SheetFile:
    """A sheet by the name of its file: ``.pdf`` or ``.html``; tick sheets where the name ends in ``ticks``.

    Raises
    ------
    ColdspellError
        The library for that kind is not installed.
    """

    def __init__(self, path: Path, texts: Texts) -> None:
        self._html = path.suffix.lower() == ".html"
        self._ticks = path.stem.lower().endswith("ticks")
        self._library: Any = (
            extra("jinja2", "season", "a sheet as HTML")
            if self._html
            else extra("typst", "season", "a sheet")
        )
        self.file = WholeFile(path)
        self._texts = texts
        self._lots: list[LotPlan] = []

    def add(self, lot: LotPlan) -> None:
        """One more line."""
        if len(self._lots) == MOST_PRINTED:
            raise ColdspellError(
                f"more than {MOST_PRINTED} lots are too many for one sheet",
                mend="divide the table, by shelf or month of sowing",
            )
        self._lots.append(lot)

    def finish(self, season: Season) -> None:
        """Set it."""
        sheet = season_sheet(season, self._lots, self._texts, ticks=self._ticks)
        if self._ticks and not sheet.ticks:
            raise ColdspellError("there is nothing to tick", mend="see the page: leave out the tick sheet")
        made = self._page(sheet) if self._html else self._pdf(sheet, season)
        self.file.write(made)

    def _pdf(self, sheet: SeasonSheet, season: Season) -> bytes:
        """Tagged PDF (PDF/UA-1); the same bytes for the same season."""
        compiler = self._library.Compiler(
            (TEMPLATES / "season.typ").read_bytes(),
            font_paths=self._library.Fonts(include_system_fonts=False),
            sys_inputs={"told": json.dumps(msgspec.to_builtins(sheet), ensure_ascii=False)},
        )
        made = datetime.combine(season.totals.today, time(), UTC)
        return bytes(compiler.compile(format="pdf", timestamp=made, pdf_standards="ua-1"))

    def _page(self, sheet: SeasonSheet) -> str:
        """One file that asks for nothing from outside, as its policy says."""
        style = (TEMPLATES / "season.css").read_text("utf-8")
        digest = base64.b64encode(hashlib.sha256(style.encode("utf-8")).digest()).decode("ascii")
        environment = self._library.Environment(
            loader=self._library.FileSystemLoader(TEMPLATES),
            autoescape=True,
            undefined=self._library.StrictUndefined,
            trim_blocks=True,
            lstrip_blocks=True,
        )
        policy = f"default-src 'none'; style-src 'sha256-{digest}'"
        template = environment.get_template("season.html")
        return str(template.render(s=sheet, words=sheet.words, style=style, policy=policy))
