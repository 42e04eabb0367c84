"""Labels for bags and pots as PDF, to exact size: on sheets given by their dimensions, or on a roll."""

from __future__ import annotations

import json
from collections.abc import Sequence
from datetime import UTC, date, datetime, time
from pathlib import Path
from typing import Any

import msgspec
from msgspec import Struct
from msgspec.structs import replace

from coldspell.errors import ColdspellError
from coldspell.extras import extra
from coldspell.records.do import MOIST
from coldspell.records.terms import NO_FOOD
from coldspell.season.files.whole import WholeFile
from coldspell.season.lot_plan import LotPlan
from coldspell.season.phrases import Season
from coldspell.season.print.sheet import LabelSheet
from coldspell.texts import Texts
from coldspell.write.units import number, plural, short_date

MOST_LABELS = 4_000
_TEMPLATE = Path(__file__).parent / "templates" / "labels.typ"


class Label(Struct, frozen=True):
    """What one label says."""

    lot: str
    part: str
    name: str
    species: str
    state: str
    lines: tuple[str, ...]
    warning: str
    code: str
    """A QR code as SVG; empty on a pot label."""


class LabelFile:
    """Labels of every lot of a season: one for each bag, box or roll, or one for a pot."""

    def __init__(self, path: Path, texts: Texts, today: date, sheet: LabelSheet) -> None:
        self._typst: Any = extra("typst", "season", "a sheet of labels")
        self._segno: Any = extra("segno", "season", "a QR code")
        self.file = WholeFile(path)
        self._texts, self._today, self._sheet = texts, today, sheet.checked()
        self._labels: list[Label] = []

    def add(self, lot: LotPlan) -> None:
        """The labels of one more lot; none for one that is not started."""
        if not lot.labels:
            return
        count = lot.labels if self._sheet.form == "bag" else 1
        if len(self._labels) + count > MOST_LABELS:
            raise ColdspellError(
                f"more than {MOST_LABELS} labels", mend="divide the table, and print each part by itself"
            )
        pot = self._sheet.form == "pot"
        code = "" if pot else self._code(lot)
        label = label_of(lot, self._texts, self._today, code=code, short=pot)
        for part in range(1, count + 1):
            told = self._texts.say("label_part", part=part, count=count) if count > 1 else ""
            self._labels.append(replace(label, part=told))

    def finish(self, season: Season) -> None:
        """Set all labels."""
        self.file.write(self.pdf())

    def _code(self, lot: LotPlan) -> str:
        code = self._segno.make(code_text(lot), micro=False, error="m")
        return str(code.svg_inline(border=2, scale=1, omitsize=True))

    def pdf(self) -> bytes:
        """The sheets as PDF; the same bytes for the same labels."""
        if not self._labels:
            raise ColdspellError("there is nothing to label", mend="see the page: leave out the labels")
        return bytes(
            self._compiler().compile(
                format="pdf", timestamp=datetime.combine(self._today, time(), UTC), pdf_standards="1.7"
            )
        )

    def pictures(self, ppi: float = 150) -> list[bytes]:
        """The sheets as PNG, one a page."""
        found = self._compiler().compile(format="png", ppi=ppi)
        return [bytes(page) for page in (found if isinstance(found, list) else [found])]

    def _compiler(self) -> Any:
        sheet = self._sheet
        left, top = sheet.origin_mm
        told = {
            "form": sheet.form,
            "width": sheet.label_mm[0],
            "height": sheet.label_mm[1],
            "paper": sheet.paper_mm,
            "origin": (left, top),
            "gap": sheet.gap_mm,
            "grid": sheet.grid,
            "title": self._texts.say("label_title"),
            "labels": msgspec.to_builtins(self._labels),
        }
        return self._typst.Compiler(
            _TEMPLATE.read_bytes(),
            font_paths=self._typst.Fonts(include_system_fonts=False),
            sys_inputs={"told": json.dumps(told, ensure_ascii=False)},
        )


def label_of(lot: LotPlan, texts: Texts, today: date, *, code: str, short: bool = False) -> Label:
    """What the label of a lot says; a short one only when it is sown."""
    seeds = f"{number(lot.seeds)} {plural('seed', lot.seeds)}"
    return Label(
        lot=lot.label,
        part="",
        name=lot.name,
        species=lot.species,
        state=texts.say("label_state", seeds=seeds, moisture=lot.moisture),
        lines=_lines(lot, texts, today, short=short),
        warning=_warning(lot.hazards, texts),
        code=code,
    )


def _warning(hazards: Sequence[str], texts: Texts) -> str:
    """What makes it no food, then what else it does."""
    told = []
    for key, no_food in (("label_not_food", True), ("label_caution", False)):
        found = [texts.say(f"label_hazard_{kind}") for kind in hazards if (kind in NO_FOOD) is no_food]
        told += [texts.say(key, hazards=", ".join(found))] if found else []
    return " ".join(told)


def _lines(lot: LotPlan, texts: Texts, today: date, *, short: bool) -> tuple[str, ...]:
    """Start, moves, sowing, looks: each with its days."""
    told = [] if lot.sown is None else [texts.say("label_sown", day=_day(lot.sown, today))]
    told += [
        texts.say("season_then", tasks=texts.say(f"task_{lot.word(event)}"), day=_day(event.day, today))
        for event in lot.events
        if event.kind in ("start", "move", "sow")
        or (event.what in MOIST and event.kind != "keep")
        or (event.what == "test" and lot.sown is not None)
    ]
    if short:
        return tuple(told[-1:])
    looks = [event.day for event in lot.tasks if event.kind == "look"]
    if looks:
        shown = ", ".join(_days(looks[:3], today))
        told.append(texts.say("label_looks_more" if len(looks) > 3 else "label_looks", days=shown))
    return tuple(told)


def _days(days: Sequence[date], today: date) -> list[str]:
    """Days, the year only where the next one has another."""
    after = [*days[1:], None]
    same = (two is not None and one.year == two.year for one, two in zip(days, after, strict=True))
    return [
        short_date(day, day.year) if both else _day(day, today) for day, both in zip(days, same, strict=True)
    ]


def code_text(lot: LotPlan) -> str:
    """Lot, kind and days as text: any telephone shows it, without a network."""
    days = (f"{lot.word(e)} {e.day}" for e in lot.events if e.kind != "look")
    lines = [lot.label[:80], lot.species, *([f"sown {lot.sown}"] if lot.sown else ()), *days]
    return "\n".join(lines)[:280]


def _day(day: date, today: date) -> str:
    return short_date(day, day.year if -60 <= (day - today).days < 330 else None)
