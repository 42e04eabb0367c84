"""The drawing: its bars and marks against the days of the plans, as XML that another library reads."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from datetime import date
from pathlib import Path

import pytest
from seasons import DAY, some_lots, written

from coldspell.cli.main import main
from coldspell.errors import ColdspellError
from coldspell.records.do import COLD
from coldspell.season.lot_plan import LotPlan
from coldspell.season.planning import Planner, Setting
from coldspell.season.print.timeline import Timeline
from coldspell.tables.read import open_lots
from coldspell.tables.rows import Row
from coldspell.texts import Texts

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def plans(planner: Planner, tmp_path_factory: pytest.TempPathFactory) -> list[LotPlan]:
    said = some_lots(planner, 120, 21)
    said[0] = {**said[0], "lot": '<A&"1>'}
    path = written(tmp_path_factory.mktemp("timeline") / "lots.csv", said)
    with open_lots(str(path)) as table:
        found = [planner.plan(row) for row in table if isinstance(row, Row)]
    return [plan for plan in found if isinstance(plan, LotPlan)]


def test_bars_are_as_long_as_their_spells(planner: Planner, plans: list[LotPlan]) -> None:
    drawn = [plan for plan in plans if plan.start is not None]
    tree = ET.fromstring(Timeline(plans, DAY, Texts(planner.tables.texts), 50.0).svg())
    bars = [rect for rect in tree.iter(f"{SVG}rect") if rect.find(f"{SVG}title") is not None]
    spells = [e for plan in drawn for e in plan.events if e.end > e.day and e.kind != "look"]
    assert len(bars) == len(spells)
    longest = max(spells, key=lambda e: e.end - e.day)
    widest = max(float(bar.get("width", "0")) for bar in bars)
    a_day = widest / (longest.end - longest.day).days
    wanted = sorted(max(1.0, a_day * (e.end - e.day).days) for e in spells)
    assert sorted(float(bar.get("width", "0")) for bar in bars) == pytest.approx(wanted, abs=0.25)
    cold = [e for e in spells if e.what in COLD]
    assert sum(bar.get("fill") == "#2f6f9f" for bar in bars) == len(cold)
    marks = [p for p in tree.iter(f"{SVG}path") if "h10" in p.get("d", "")]
    assert len(marks) == 1 + sum(e.kind == "sow" for plan in drawn for e in plan.events)  # one in the legend
    assert sum("A&" in "".join(t.itertext()) for t in tree.iter(f"{SVG}text")) <= 1


def test_every_year_is_named_where_it_begins(planner: Planner, plans: list[LotPlan]) -> None:
    drawn = [plan for plan in plans if plan.start is not None]
    days = [event.day for plan in drawn for event in plan.events]
    tree = ET.fromstring(Timeline(plans, DAY, Texts(planner.tables.texts), 50.0).svg())
    named = {"".join(text.itertext()) for text in tree.iter(f"{SVG}text")}
    assert {str(year) for year in range(min(days).year + 1, max(days).year + 1)} <= named
    assert "Jan" in named


def test_too_many_or_none_are_refused(planner: Planner, plans: list[LotPlan]) -> None:
    texts = Texts(planner.tables.texts)
    for lots in ([], plans * 20):
        with pytest.raises(ColdspellError):
            Timeline(lots, DAY, texts).svg()


def test_the_command_draws(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    table = written(
        tmp_path / "lots.csv", [{"lot": "A1", "name": "apple", "seeds": 200, "sow": date(2027, 4, 15)}]
    )
    assert main(["season", str(table), "-o", str(tmp_path / "s.svg"), "--today", "2026-11-30"]) == 0
    assert ET.parse(tmp_path / "s.svg").getroot().tag == f"{SVG}svg"
    pytest.importorskip("typst", reason="type: uv run --all-groups pytest (the group surfaces)")
    assert main(["season", str(table), "-o", str(tmp_path / "s.png"), "--today", "2026-11-30"]) == 0
    assert (tmp_path / "s.png").read_bytes()[:8] == b"\x89PNG\r\n\x1a\n"
    capsys.readouterr()


def test_the_most_litres_are_those_of_the_page(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Room is rounded up wherever it is named: a drawing with less than the page would be bought by."""
    for seed in range(3):
        path = written(tmp_path / "lots.csv", some_lots(Planner(Setting(DAY)), 40, 60 + seed))
        drawn = tmp_path / f"{seed}.svg"
        main(["season", str(path), "--today", str(DAY), "--no-settings", "-o", str(drawn)])
        told = re.search(r"([\d.,]+) litres\s+of\s+room", " ".join(capsys.readouterr().out.split()))
        assert told is not None
        title = re.search(r"at most ([\d.,]+), from", drawn.read_text(encoding="utf-8"))
        assert title is not None
        assert title[1] == told[1]
