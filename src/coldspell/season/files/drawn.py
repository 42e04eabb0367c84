"""The drawing of a season as a file: SVG as it is, or PNG set by Typst."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

from coldspell.extras import extra
from coldspell.season.files.whole import WholeFile
from coldspell.season.lot_plan import LotPlan
from coldspell.season.phrases import Season
from coldspell.season.print.timeline import MOST_DRAWN, Timeline
from coldspell.texts import Texts

_PICTURE = '#set page(width: auto, height: auto, margin: 0pt)\n#image(bytes(sys.inputs.svg), format: "svg")\n'


class DrawnFile:
    """The time line of a season, by the suffix of its file."""

    def __init__(self, path: Path, texts: Texts, today: date, capacity: float | None) -> None:
        self._typst: Any = extra("typst", "season", "a picture") if path.suffix.lower() == ".png" else None
        self.file = WholeFile(path)
        self._texts, self._today, self._capacity = texts, today, capacity
        self._lots: list[LotPlan] = []

    def add(self, lot: LotPlan) -> None:
        """One more line."""
        if len(self._lots) <= MOST_DRAWN:
            self._lots.append(lot)

    def finish(self, season: Season) -> None:
        """Draw it."""
        svg = Timeline(self._lots, self._today, self._texts, self._capacity).svg()
        if self._typst is None:
            self.file.write(svg)
            return
        compiler = self._typst.Compiler(_PICTURE.encode(), sys_inputs={"svg": svg})
        self.file.write(bytes(compiler.compile(format="png", ppi=144)))
