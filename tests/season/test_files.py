"""What a season is written as: read back by other programs, whole or absent, the same for any jobs."""

from __future__ import annotations

import csv
import json
import sys
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from seasons import some_lots, written

import coldspell
from coldspell.cli.main import main
from coldspell.season.files.flat import COLUMNS, flat
from coldspell.season.lot_plan import LotPlan
from coldspell.season.planning import Planner
from coldspell.tables.read import open_lots
from coldspell.tables.rows import Refused, Row

TODAY = ["--today", "2026-11-30"]
WHY = "type: uv run --all-groups pytest (the group surfaces)"


@pytest.fixture(scope="module")
def lots(planner: Planner, tmp_path_factory: pytest.TempPathFactory) -> Path:
    said = some_lots(planner, 60, 7)
    said[3] = {**said[3], "seeds": "many", "bench": "=2+2"}
    return written(tmp_path_factory.mktemp("lots") / "lots.csv", said)


def season(*arguments: str | Path) -> int:
    return main(["season", *map(str, arguments), *TODAY])


def as_text(value: Any) -> str:
    """What a cell says of a value of a JSON line: several parted by spaces, a spell as its two days."""
    if isinstance(value, list):
        return " ".join(map(as_text, value))
    if isinstance(value, dict):
        spell = f"{value['start']}/{value['end']}"
        return f"{value['do']}:{spell}" if "do" in value else spell
    return "" if value is None else str(value)


def test_rows_in_the_files_are_those_of_the_table(
    lots: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert season(lots, "-o", tmp_path / "s.csv", "-o", tmp_path / "s.jsonl") == 1
    with (tmp_path / "s.csv").open(newline="", encoding="utf-8") as stream:
        rows = list(csv.DictReader(stream))
    with (tmp_path / "s.refused.csv").open(newline="", encoding="utf-8") as stream:
        refused = list(csv.DictReader(stream))
    assert len(rows) + len(refused) == 60
    assert list(rows[0])[: len(COLUMNS)] == list(COLUMNS)
    assert list(rows[0])[len(COLUMNS) :] == ["bench"]
    assert any(row["refused_row"] == "5" and "seeds" in row["refused_because"] for row in refused)
    lines = [json.loads(line) for line in (tmp_path / "s.jsonl").read_text("utf-8").splitlines()]
    assert [line["row"] for line in lines] == [int(row["row"]) for row in rows]
    for line, row in zip(lines, rows, strict=True):
        assert (line["sow"] or "", str(line["seeds"]), line["species"]) == (
            row["sow"],
            row["seeds"],
            row["species"],
        )
        assert line["carried"]["bench"] == row["bench"]
        assert {column: row[column] for column in COLUMNS} == {c: as_text(line[c]) for c in COLUMNS}
    # the refused rows can be mended and read again
    with open_lots(str(tmp_path / "s.refused.csv")) as table:
        assert len(list(table)) == len(refused)
    assert "bench" in (tmp_path / "s.refused.csv").read_text("utf-8").splitlines()[0]
    capsys.readouterr()


@pytest.mark.parametrize("suffix", [".csv", ".jsonl", ".parquet", ".ics"])
def test_the_same_bytes_for_any_number_of_jobs(
    lots: Path, tmp_path: Path, suffix: str, capsys: pytest.CaptureFixture[str]
) -> None:
    if suffix in (".parquet", ".ics"):
        pytest.importorskip({".parquet": "pyarrow", ".ics": "icalendar"}[suffix], reason=WHY)
    one, two = tmp_path / f"one{suffix}", tmp_path / f"two{suffix}"
    season(lots, "-o", one)
    page = capsys.readouterr().out
    season(lots, "-o", two, "--jobs", "2")
    assert one.read_bytes() == two.read_bytes()
    assert capsys.readouterr().out == page.replace("one.refused", "two.refused")


def test_nothing_is_left_behind_when_it_fails(
    lots: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    kept = tmp_path / "s.csv"
    kept.write_text("what was there")
    calls = 0

    def fails(self: Planner, row: Row) -> LotPlan | Refused:
        nonlocal calls
        calls += 1
        if calls > 20:
            raise KeyboardInterrupt
        return Refused(place=coldspell.errors.Place("f", 1), faults=(), cells={})

    monkeypatch.setattr(Planner, "plan", fails)
    assert season(lots, "-o", kept, "-o", tmp_path / "s.jsonl") == 130
    assert [p.name for p in tmp_path.iterdir()] == ["s.csv"]
    assert kept.read_text() == "what was there"
    capsys.readouterr()


def test_wrong_use_writes_nothing(lots: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for more in (
        ["-o", tmp_path / "s.odt"],
        ["-o", lots],
        ["-o", tmp_path / "s.csv", "-o", tmp_path / "s.csv"],
        ["-o", tmp_path],
        ["-o", tmp_path / "absent" / "s.csv"],
        ["--capacity", "-3"],
        ["--look-day", "fryday"],
        ["--closed", "2027-01-01"],
        ["--closed", "2027-01-05..2027-01-01"],
        ["--jobs", "0"],
        ["--sow", "15 April"],
    ):
        code = season(lots, *more)
        told = capsys.readouterr()
        assert code in (1, 2), more
        if more[0] != "--sow":
            assert code == 2
            assert told.out == ""
            assert len(told.err.strip().splitlines()) >= 2, told.err
    assert list(tmp_path.iterdir()) == []


def test_parquet_reads_back(
    lots: Path, tmp_path: Path, planner: Planner, capsys: pytest.CaptureFixture[str]
) -> None:
    pq = pytest.importorskip("pyarrow.parquet", reason=WHY)
    season(lots, "-o", tmp_path / "s.parquet")
    capsys.readouterr()
    rows = pq.read_table(tmp_path / "s.parquet").to_pylist()
    with open_lots(str(lots)) as table:
        plans = [planner.plan(row) for row in table if isinstance(row, Row)]
    kept = [plan for plan in plans if isinstance(plan, LotPlan)]
    assert len(rows) == len(kept)
    for row, plan in zip(rows, kept, strict=True):
        assert {key: row[key] for key in COLUMNS} == flat(plan)
        assert isinstance(row["sow"], date | None)


def test_a_calendar_opens_in_another_parser(
    lots: Path, tmp_path: Path, planner: Planner, capsys: pytest.CaptureFixture[str]
) -> None:
    """The parser is that of vobject (RFC 5545 and the older 2445), which shares no code with the writer."""
    pytest.importorskip("icalendar", reason=WHY)
    vobject = pytest.importorskip("vobject", reason=WHY)
    path = tmp_path / "s.ics"
    season(lots, "-o", path, "--alarm")
    capsys.readouterr()
    data = path.read_bytes()
    assert b"\n" not in data.replace(b"\r\n", b"")
    assert max(len(line) for line in data.split(b"\r\n")) <= 75  # RFC 5545 3.1
    calendar = vobject.readOne(data.decode(), validate=True)
    with open_lots(str(lots)) as table:
        found = [planner.plan(row) for row in table if isinstance(row, Row)]
    tasks = [(e.day, plan) for plan in found if isinstance(plan, LotPlan) for e in plan.tasks]
    events = calendar.vevent_list
    assert [event.dtstart.value for event in events] == [day for day, _ in tasks]
    assert all((event.dtend.value - event.dtstart.value).days == 1 for event in events)
    assert len({event.uid.value for event in events}) == len(events)
    assert all(plan.own.lot in event.summary.value for event, (_, plan) in zip(events, tasks, strict=True))
    assert all(event.valarm.trigger.value.total_seconds() == 8 * 3600 for event in events)


def test_events_keep_their_uid_when_the_day_moves(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    icalendar = pytest.importorskip("icalendar", reason=WHY)
    uids = []
    for sow in ("2027-04-15", "2027-04-29"):
        table = written(
            tmp_path / "lots.csv", [{"lot": "A1", "name": "apple", "moisture": "dried", "sow": sow}]
        )
        season(table, "-o", tmp_path / "s.ics")
        calendar = icalendar.Calendar.from_ical((tmp_path / "s.ics").read_bytes())
        uids.append(
            {str(e["summary"]): str(e["uid"]) for e in calendar.walk("VEVENT") if "Look" not in e["summary"]}
        )
    capsys.readouterr()
    assert uids[0] == uids[1]


def test_a_missing_library_is_named_with_the_line_that_installs_it(
    lots: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    for module in ("pyarrow", "pyarrow.parquet", "icalendar"):
        monkeypatch.setitem(sys.modules, module, None)
    for name in ("s.parquet", "s.ics"):
        assert season(lots, "-o", tmp_path / name) == 2
        told = capsys.readouterr().err
        assert 'uv tool install --force ".[sheet,page,season]"' in told
        assert ("uv run --extra season" in told) == (
            (Path(coldspell.__file__).parents[2] / "species").is_dir()
        )
    assert list(tmp_path.iterdir()) == []


def test_the_template_is_a_table(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "lots.csv"
    assert main(["season", "new", str(path)]) == 0
    with open_lots(str(path)) as table:
        (row,) = table
        assert not table.headings.carried
    assert isinstance(row, Row)
    assert main(["season", "new", str(path)]) == 2
    assert season(path) == 0
    capsys.readouterr()


def test_plan_batch_has_a_row_for_each_row(planner: Planner) -> None:
    pa = pytest.importorskip("pyarrow", reason=WHY)
    from coldspell.season.files.arrow import plan_batch, schema

    batch = pa.RecordBatch.from_pydict(
        {"lot": ["a", "b", "c"], "name": ["apple", "no such plant at all", None], "seeds": [40, 4, 4]}
    )
    found = plan_batch(batch, planner)
    assert found.schema == schema(refused=True)
    assert found.num_rows == 3
    assert [bool(text) for text in found["refused"].to_pylist()] == [False, True, True]
    assert found["row"].to_pylist() == [1, 2, 3]
    assert plan_batch(batch, planner) == found


def test_the_calendar_of_one_recipe(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    icalendar = pytest.importorskip("icalendar", reason=WHY)
    facts = ["--seeds", "200", "--moisture", "dried", "--sow", "2027-04-15", *TODAY]
    path = tmp_path / "apple.ics"
    assert main(["recipe", "apple", *facts, "-o", str(path)]) == 0
    events = icalendar.Calendar.from_ical(path.read_bytes()).walk("VEVENT")
    recipe = coldspell.recipe(
        "apple", seeds=200, moisture="dried", sow="2027-04-15", today=date(2026, 11, 30)
    )
    steps = {step.start for step in recipe.steps if step.start}
    looks = set(recipe.checks.dates if recipe.checks else ())
    assert {event["dtstart"].dt.isoformat() for event in events} == steps | looks
    for wrong in (["oak", "-o", str(tmp_path / "oak.ics")], ["apple", "-o", str(tmp_path / "a.pdf")]):
        assert main(["recipe", *wrong, *TODAY]) == 2
    assert [p.name for p in tmp_path.iterdir()] == ["apple.ics"]
    capsys.readouterr()
