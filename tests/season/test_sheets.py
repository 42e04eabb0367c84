"""The printed sheets of a season: every task is a box, every lot a line, on pages that were made whole."""

from __future__ import annotations

from collections import Counter
from datetime import timedelta
from html.parser import HTMLParser
from pathlib import Path

import pytest
from seasons import DAY, some_lots, written

from coldspell.cli.main import main
from coldspell.season.build import Building
from coldspell.season.lot_plan import LotPlan
from coldspell.season.phrases import Phrases, Season
from coldspell.season.planning import Planner
from coldspell.season.print.content import season_sheet
from coldspell.season.print.ticks import WEEKS, tick_sheets
from coldspell.season.totals import monday
from coldspell.tables.read import open_lots
from coldspell.tables.rows import Refused
from coldspell.texts import Texts


@pytest.fixture(scope="module")
def made(planner: Planner, tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Season, list[LotPlan]]:
    said = [
        {**lot, "shelf": ("", "A2", "A10", "b 1")[i % 4]} for i, lot in enumerate(some_lots(planner, 60, 60))
    ]
    said[3] = {**said[3], "sow": "never"}
    said[4] = {**said[4], "lot": '<b>&"'}
    path = written(tmp_path_factory.mktemp("sheets") / "lots.csv", said)
    plans: list[LotPlan] = []

    def keep(found: LotPlan | Refused) -> None:
        if isinstance(found, LotPlan):
            plans.append(found)

    building = Building(planner, 30.0, (keep,))
    with open_lots(str(path)) as table:
        building.run(table)
    return path, building.season(), plans


def test_every_task_is_a_box_of_its_shelf_and_week(
    planner: Planner, made: tuple[Path, Season, list[LotPlan]]
) -> None:
    _, season, plans = made
    phrases = Phrases(season, Texts(planner.tables.texts))
    sheets = tick_sheets(plans, phrases)
    titles = list(dict.fromkeys(sheet.shelf for sheet in sheets))
    assert titles == ["Shelf A2", "Shelf A10", "Shelf b 1", "Lots without a shelf"]
    found: Counter[tuple[str, str, int, int]] = Counter()
    for sheet in sheets:
        assert len(sheet.weeks) == sum(count for _, count in sheet.months) == WEEKS
        for line in sheet.lines:
            assert len(line.weeks) == WEEKS
            for week, boxes in zip(sheet.weeks, line.weeks, strict=True):
                found.update((sheet.shelf, line.lot, int(week), int(box.day)) for box in boxes)
    wanted: Counter[tuple[str, str, int, int]] = Counter()
    for plan in plans:
        shelf = f"Shelf {plan.own.shelf}" if plan.own.shelf else "Lots without a shelf"
        wanted.update(
            (shelf, plan.label, monday(event.day).day, event.day.day)
            for event in plan.tasks
            if event.kind != "keep" and event.what not in ("light", "dark")
        )
    assert found == wanted
    assert sum(found.values()) > 250


def test_the_sheet_has_every_lot_once_and_the_sums_of_the_page(
    planner: Planner, made: tuple[Path, Season, list[LotPlan]]
) -> None:
    _, season, plans = made
    sheet = season_sheet(season, plans, Texts(planner.tables.texts), ticks=False)
    assert Counter(row.lot for row in sheet.lots) == Counter(plan.label for plan in plans)
    assert f"{season.refused_count} refused" in sheet.said[0]
    looks = sum(int(row.counts[3] or 0) for row in sheet.calendar if row.counts)
    assert looks == sum(event.kind == "look" for plan in plans for event in plan.tasks)
    week = (monday(DAY), monday(DAY) + timedelta(days=7))
    due = {plan.label for plan in plans for e in plan.tasks if week[0] <= e.day < week[1] and e.kind == "sow"}
    assert due <= {row.lot for row in sheet.due[0].rows}


class _Words(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.words: list[str] = []
        self.tags: Counter[str] = Counter()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags[tag] += 1
        assert tag not in ("script", "link", "img", "iframe")

    def handle_data(self, data: str) -> None:
        self.words.append(data)


@pytest.mark.long
def test_files_are_made_of_them(made: tuple[Path, Season, list[LotPlan]], tmp_path: Path) -> None:
    reason = "type: uv run --all-groups pytest (the group surfaces)"
    pypdf = pytest.importorskip("pypdf", reason=reason)
    for module in ("typst", "jinja2"):
        pytest.importorskip(module, reason=reason)
    path, _, plans = made
    names = ("season.pdf", "season.html", "ticks.pdf", "ticks.html")
    outputs = [word for name in names for word in ("-o", str(tmp_path / name))]
    said = ["season", str(path), "--today", DAY.isoformat(), "--capacity", "30", "--no-settings", *outputs]
    assert main(said) == 1  # one row is refused
    text = "\n".join(page.extract_text() for page in pypdf.PdfReader(tmp_path / "season.pdf").pages)
    assert sum(f"{plan.label}" in text for plan in plans) == len(plans)
    ticks = pypdf.PdfReader(tmp_path / "ticks.pdf")
    assert all(page.mediabox.width > page.mediabox.height for page in ticks.pages)
    assert "Shelf A10" in "\n".join(page.extract_text() for page in ticks.pages)
    for name in names[1::2]:
        read = _Words()
        read.feed((tmp_path / name).read_text("utf-8"))
        assert read.tags["b"] == (0 if name == "season.html" else read.tags["b"])
        assert '<b>&"' in " ".join(read.words)
    before = {name: (tmp_path / name).read_bytes() for name in names}
    assert main([*said[:2], "--jobs", "2", *said[2:]]) == 1
    assert {name: (tmp_path / name).read_bytes() for name in names} == before


def test_too_many_lots_for_a_sheet_say_so(planner: Planner, tmp_path: Path) -> None:
    pytest.importorskip("jinja2", reason="type: uv run --all-groups pytest (the group surfaces)")
    from coldspell.errors import ColdspellError
    from coldspell.season.print.content import MOST_PRINTED
    from coldspell.season.print.files import SheetFile

    with open_lots(str(written(tmp_path / "lots.csv", some_lots(planner, 1, 61)))) as table:
        plan = next(planner.plan(row) for row in table if not isinstance(row, Refused))
    assert isinstance(plan, LotPlan)
    file = SheetFile(tmp_path / "season.html", Texts(planner.tables.texts))
    for _ in range(MOST_PRINTED):
        file.add(plan)
    with pytest.raises(ColdspellError, match="too many for one sheet"):
        file.add(plan)
    file.file.discard()
    assert {one.name for one in tmp_path.iterdir()} == {"lots.csv"}
