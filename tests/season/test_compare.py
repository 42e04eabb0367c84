"""Two seasons: what changes is told, and nothing else."""

from __future__ import annotations

from pathlib import Path

import pytest
from seasons import some_lots, written

from coldspell.cli.main import main
from coldspell.season.planning import Planner

TODAY = ["--today", "2026-11-30"]


def compared(one: Path, two: Path, capsys: pytest.CaptureFixture[str]) -> tuple[int, str]:
    code = main(["season", "compare", str(one), str(two), *TODAY])
    return code, capsys.readouterr().out


def test_the_same_table_changes_nothing(
    planner: Planner, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = written(tmp_path / "a.csv", some_lots(planner, 40, 50))
    _, page = compared(path, path, capsys)
    assert "No lot changes." in page


def test_each_change_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    lots = [
        {"lot": f"A{i}", "name": "apple", "seeds": 100, "moisture": "dried", "sow": "2027-04-15"}
        for i in range(1, 7)
    ]
    one = written(tmp_path / "a.csv", lots[:5])
    other = [dict(lot) for lot in lots]
    other[0]["sow"] = "2027-05-01"
    other[1]["seeds"] = 200
    other[2]["name"] = "no such plant at all"
    del other[3]
    code, page = compared(one, written(tmp_path / "b.csv", other), capsys)
    assert code == 1
    assert "Lots that change: 5" in page
    told = {line.split()[0]: line for line in page.splitlines() if line.startswith("  A")}
    assert "sown 1 May instead of 15 Apr" in told["A1"]
    assert "100 seeds become 200" in told["A2"]
    assert "refused now" in told["A3"]
    assert "no longer there" in told["A4"]
    assert "new" in told["A6"]
    assert "A5" not in told


def test_both_tables_are_read_as_stated(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    one, two = (
        written(
            tmp_path / f"{day}.csv", [{"lot": "A1", "name": "apple", "seeds": 100, "sow": f"{day}.04.2027"}]
        )
        for day in (15, 22)
    )
    code = main(["season", "compare", str(one), str(two), *TODAY, "--date-format", "%d.%m.%Y"])
    assert code == 0
    assert "sown 22 Apr instead of 15 Apr" in " ".join(capsys.readouterr().out.split())


def test_options_hold_for_both_tables_as_for_a_season(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A season that was planned with options is compared with the same ones; only what differs is told."""
    lot = {"lot": "A1", "name": "apple", "seeds": 100, "moisture": "dried"}
    one = written(tmp_path / "a.csv", [lot, {**lot, "lot": "A2", "sow": "2027-04-15"}])
    two = written(tmp_path / "b.csv", [lot, {**lot, "lot": "A2", "sow": "2027-05-05"}])
    options = ["--last-frost", "2027-05-10", "--look-day", "friday", "--closed", "2026-12-19..2027-01-03"]
    assert main(["season", "compare", str(one), str(two), *TODAY, *options]) == 0
    page = " ".join(capsys.readouterr().out.split())
    assert "Lots that change: 1 A2 apple" in page
    assert "sown 5 May instead of 15 Apr" in page
    assert "cold room," not in page
    assert main(["season", str(one), *TODAY, *options, "-o", str(tmp_path / "a.jsonl")]) == 0
    assert '"lot":"A1"' in (tmp_path / "a.jsonl").read_text("utf-8")
    assert '"sow":"2027-04-12"' in (tmp_path / "a.jsonl").read_text("utf-8").splitlines()[0]
