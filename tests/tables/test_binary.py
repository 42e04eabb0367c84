"""Excel and Parquet, written by the libraries that other programs write them with."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path
from typing import Any

import pytest

from coldspell.errors import ColdspellError
from coldspell.tables.read import open_lots
from coldspell.tables.rows import Refused, Row

WHY = "type: uv run --all-groups pytest (the group surfaces)"
openpyxl = pytest.importorskip("openpyxl", reason=WHY)
pa = pytest.importorskip("pyarrow", reason=WHY)
pq = pytest.importorskip("pyarrow.parquet", reason=WHY)


def workbook(path: Path, *lines: list[Any]) -> str:
    book = openpyxl.Workbook()
    for line in lines:
        book.active.append(line)
    second = book.create_sheet("other")
    second.append(["name"])
    second.append(["pear"])
    book.save(path)
    return str(path)


def test_a_sheet_with_dates_numbers_and_truths(tmp_path: Path) -> None:
    source = workbook(
        tmp_path / "lots.xlsx",
        ["Seed list of an invented school"],
        [],
        ["lot", "name", "seeds", "sow", "southern", "cut", "bench"],
        [7, "apple", 40, datetime(2027, 4, 15), True, "8/10", 3],
        [None, None, None],
        ["B", "pear", 2.5, "15/04/2027", None, datetime(2026, 10, 8), None],
    )
    with open_lots(source) as table:
        first, second = table
    assert isinstance(first, Row)
    assert (first.own.lot, first.lot.seeds, first.lot.sow) == ("7", 40, date(2027, 4, 15))
    assert (first.lot.southern, first.lot.cut, first.carried, first.number) == (
        True,
        (8, 10),
        {"bench": 3},
        4,
    )
    assert isinstance(second, Refused)
    assert second.place.line == 6
    assert {f.column for f in second.faults} == {"seeds", "sow", "cut"}
    assert "as text" in str(second)


def test_a_named_sheet(tmp_path: Path) -> None:
    from coldspell.tables.rows import TableForm

    source = workbook(tmp_path / "lots.xlsx", ["name"], ["apple"])
    with open_lots(source, TableForm(sheet="other")) as table:
        assert [row.name for row in table] == ["pear"]
    with pytest.raises(ColdspellError, match="other"):
        open_lots(source, TableForm(sheet="absent"))


def test_parquet_of_another_program(tmp_path: Path) -> None:
    path = tmp_path / "lots.parquet"
    columns = {
        "name": ["apple", "pear", None],
        "seeds": [40, None, 3],
        "sow": [date(2027, 4, 15), None, None],
        "stored_years": [1.5, float("nan"), 0.0],
        "bench": [[1, 2], None, []],
    }
    pq.write_table(pa.table(columns), path)
    with open_lots(str(path)) as table:
        first, second, third = table
    assert isinstance(first, Row)
    assert (first.lot.seeds, first.lot.sow, first.lot.stored_years) == (40, date(2027, 4, 15), 1.5)
    assert isinstance(second, Row)
    assert "seeds" in second.lot.assumed
    assert second.lot.stored_years == 0
    assert isinstance(third, Refused)
    assert third.place.line == 3


@pytest.mark.parametrize("name", ["lots.xlsx", "lots.parquet"])
@pytest.mark.parametrize("data", [b"", b"nothing of the kind", b"PK\3\4 broken", b"PAR1 broken PAR1"])
def test_broken_files_are_refused(tmp_path: Path, name: str, data: bytes) -> None:
    (tmp_path / name).write_bytes(data)
    with pytest.raises(ColdspellError):
        list(open_lots(str(tmp_path / name)))


def test_what_is_no_text_is_not_read_as_text(tmp_path: Path) -> None:
    source = workbook(tmp_path / "lots.xlsx", ["name"], ["apple"])
    (tmp_path / "lots.csv").write_bytes(Path(source).read_bytes())
    with pytest.raises(ColdspellError, match="not text"):
        open_lots(str(tmp_path / "lots.csv"))


def test_how_much_was_read_is_known_of_parquet(tmp_path: Path) -> None:
    path = tmp_path / "lots.parquet"
    pq.write_table(pa.table({"name": ["apple"] * 4}), path)
    with open_lots(str(path)) as table:
        assert [table.share for _ in table] == [0.25, 0.5, 0.75, 1.0]
    with open_lots(workbook(tmp_path / "lots.xlsx", ["name"], ["apple"])) as table:
        assert [table.share for _ in table] == [None]
