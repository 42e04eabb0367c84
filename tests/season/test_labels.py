"""Labels: each within its cell to the tenth of a millimetre, read back from the PDF by another library."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from seasons import DAY, some_lots, written

from coldspell.cli.main import main
from coldspell.errors import ColdspellError
from coldspell.season.build import Building
from coldspell.season.lot_plan import LotPlan
from coldspell.season.planning import Planner
from coldspell.season.print.sheet import LabelSheet
from coldspell.tables.read import open_lots
from coldspell.tables.rows import Row

pytestmark = pytest.mark.long

WHY = "type: uv run --all-groups pytest (the group surfaces)"
POINTS = 72 / 25.4


@pytest.fixture(scope="module")
def plans(planner: Planner, tmp_path_factory: pytest.TempPathFactory) -> list[LotPlan]:
    said = some_lots(planner, 60, 11)
    for lot in said:
        if "kilograms" not in lot:
            lot["seeds"] = min(int(lot["seeds"]), 600)
            lot["rooted"] = min(int(lot.get("rooted", 0)), lot["seeds"])
    path = written(tmp_path_factory.mktemp("labels") / "lots.csv", said)
    with open_lots(str(path)) as table:
        found = [planner.plan(row) for row in table if isinstance(row, Row)]
    return [plan for plan in found if isinstance(plan, LotPlan)]


SHEETS = [
    LabelSheet(),
    LabelSheet("bag", (99.1, 38.1), (210, 297), (4.6, 15.3), (2.5, 0)),
    LabelSheet("bag", (63.5, 38.1), (215.9, 279.4)),
    LabelSheet("bag", (62, 29), (62, 29)),
    LabelSheet("pot", (120, 20)),
    LabelSheet("pot", (100, 13), (210, 297), (5, 10), (0, 2)),
]


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda s: f"{s.form} {s.label_mm} on {s.paper_mm}")
def test_every_label_lies_in_its_cell(
    planner: Planner, plans: list[LotPlan], sheet: LabelSheet, tmp_path: Path
) -> None:
    for module in ("typst", "segno"):
        pytest.importorskip(module, reason=WHY)
    pypdf = pytest.importorskip("pypdf", reason=WHY)
    from coldspell.season.print.labels import LabelFile
    from coldspell.texts import Texts

    path = tmp_path / "labels.pdf"
    labels = LabelFile(path, Texts(planner.tables.texts), DAY, sheet)
    wanted = []
    for plan in plans:
        labels.add(plan)
        if plan.page == "plan" and plan.events:
            wanted += [plan.label] * (plan.packs if sheet.form == "bag" else 1)
    labels.finish(Building(planner).season())
    labels.file.commit()
    found: list[str] = []
    (columns, rows), (left, top) = sheet.grid, sheet.origin_mm
    for page in pypdf.PdfReader(path).pages:
        assert float(page.mediabox.width) == pytest.approx(sheet.paper_mm[0] * POINTS, abs=0.1)
        assert float(page.mediabox.height) == pytest.approx(sheet.paper_mm[1] * POINTS, abs=0.1)
        by_cell: dict[tuple[int, int], str] = {}

        def seen(text: str, cm: Any, tm: Any, *rest: Any) -> None:
            if not text.strip():
                return
            across = tm[4] * cm[0] + tm[5] * cm[2] + cm[4]
            up = tm[4] * cm[1] + tm[5] * cm[3] + cm[5]
            x, y = across / POINTS - left, (float(page.mediabox.height) - up) / POINTS - top  # noqa: B023
            pitch = [sheet.label_mm[i] + sheet.gap_mm[i] for i in (0, 1)]
            cell = int(y // pitch[1]), int(x // pitch[0])
            assert 0 <= cell[0] < rows
            assert 0 <= cell[1] < columns
            within = x - cell[1] * pitch[0], y - cell[0] * pitch[1]
            assert 1 <= within[0] <= sheet.label_mm[0] - 1, text
            assert 1 <= within[1] <= sheet.label_mm[1] - 0.8, text
            by_cell[cell] = by_cell.get(cell, "") + text  # noqa: B023

        page.extract_text(visitor_text=seen)
        found += [by_cell[cell] for cell in sorted(by_cell)]
    assert len(found) == len(wanted)
    for text, lot in zip(found, wanted, strict=True):
        assert re.match(rf"\s*{lot}(?!\d)", text), text


def test_a_label_says_what_the_lot_is_and_when(planner: Planner, plans: list[LotPlan]) -> None:
    for module in ("typst", "segno"):
        pytest.importorskip(module, reason=WHY)
    from coldspell.season.print.labels import label_of
    from coldspell.texts import Texts

    texts = Texts(planner.tables.texts)
    for plan in plans:
        label = label_of(plan, texts, DAY, code="")
        told = " ".join((label.lot, label.name, label.state, *label.lines, label.warning))
        assert plan.own.lot in told
        assert all(texts.say(f"label_hazard_{hazard}") in told for hazard in plan.hazards)
        eaten = {"cyanide", "poison", "infection"} & {*plan.hazards}
        assert ("NOT FOOD" in told) == bool(eaten)
        assert ("CAUTION" in told) == bool({*plan.hazards} - eaten)
        if plan.sow is not None:
            assert f"{plan.sow.day} {plan.sow:%b}" in told


def test_the_year_of_several_days_is_told_once() -> None:
    from coldspell.season.print.labels import _days

    days = [date(2027, 12, 17), date(2027, 12, 31), date(2028, 1, 14)]
    assert _days(days, DAY) == ["17 Dec", "31 Dec 2027", "14 Jan 2028"]
    assert _days([date(2027, 1, 8), date(2027, 1, 15)], DAY) == ["8 Jan", "15 Jan"]


def test_codes_are_read_back(planner: Planner, plans: list[LotPlan]) -> None:
    """What the code holds, by the matrix of the library that made it: text, at most 280 characters."""
    pytest.importorskip("segno", reason=WHY)
    from coldspell.season.print.labels import code_text

    for plan in plans:
        text = code_text(plan)
        assert text.startswith(f"{plan.label}\n{plan.species}")
        assert len(text) <= 280
        if plan.sow is not None:
            assert plan.sow.isoformat() in text


@pytest.mark.parametrize(
    "sheet",
    [
        LabelSheet("bag", (300, 37)),
        LabelSheet("bag", (20, 8)),
        LabelSheet("bag", (70, 37), (210, 297), (150, 0)),
    ],
)
def test_labels_that_cannot_be_are_refused(sheet: LabelSheet) -> None:
    with pytest.raises(ColdspellError):
        sheet.checked()


def test_the_command_writes_labels(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for module in ("typst", "segno"):
        pytest.importorskip(module, reason=WHY)
    table = written(
        tmp_path / "lots.csv", [{"lot": "A1", "name": "apple", "seeds": 200, "sow": date(2027, 4, 15)}]
    )
    one, two = tmp_path / "labels.pdf", tmp_path / "more-labels.pdf"
    for path in (one, two):
        assert main(["season", str(table), "-o", str(path), "--today", "2026-11-30"]) == 0
    assert one.read_bytes() == two.read_bytes()
    assert main(["season", str(table), "-o", str(tmp_path / "season.xyz")]) == 2
    assert main(["season", str(table), "-o", str(one), "--label", "300x20"]) == 2
    capsys.readouterr()


def test_a_lot_in_the_ground_is_labelled_with_its_day_and_its_seedlings(
    planner: Planner, tmp_path: Path
) -> None:
    from coldspell.season.print.labels import code_text, label_of
    from coldspell.texts import Texts

    lot = {"lot": "G1", "name": "apple", "seeds": 40, "moisture": "dried", "sown": "2026-11-01"}
    with open_lots(str(written(tmp_path / "lots.csv", [lot]))) as table:
        (plan,) = [planner.plan(row) for row in table if isinstance(row, Row)]
    assert isinstance(plan, LotPlan)
    label = label_of(plan, Texts(planner.tables.texts), DAY, code="")
    assert label.lines[0] == "sown 1 Nov"
    assert any(line.startswith("look for seedlings") for line in label.lines)
    assert "sown 2026-11-01" in code_text(plan)
    assert len({*plan.tasks}) == len(plan.tasks)
