"""Tables that are text: as spreadsheets write them (RFC 4180, and what people's programs make of it)."""

from __future__ import annotations

import io
import json
import sys
from datetime import date
from pathlib import Path

import pytest

from coldspell.errors import ColdspellError
from coldspell.tables.cells import plain_text
from coldspell.tables.read import open_lots
from coldspell.tables.rows import Refused, Row, TableForm


def rows(path: Path, text: str | bytes, form: TableForm | None = None) -> list[Row | Refused]:
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    with open_lots(str(path), form) as table:
        return list(table)


def one(path: Path, text: str | bytes, form: TableForm | None = None) -> Row:
    (row,) = rows(path, text, form)
    assert isinstance(row, Row), str(row)
    return row


def refused(path: Path, text: str, form: TableForm | None = None) -> Refused:
    (row,) = rows(path, text, form)
    assert isinstance(row, Refused)
    return row


@pytest.fixture
def csv(tmp_path: Path) -> Path:
    return tmp_path / "lots.csv"


PLAIN = "lot,name,seeds,sow\nA1,apple,40,2027-04-15\n"


@pytest.mark.parametrize(
    "text",
    [
        PLAIN,
        PLAIN.replace("\n", "\r\n"),
        PLAIN.replace("\n", "\r"),
        PLAIN.replace(",", ";"),
        PLAIN.replace(",", "\t"),
        "\ufeff" + PLAIN,
        "\ufeffsep=;\r\n" + PLAIN.replace(",", ";"),
        PLAIN.encode("utf-16"),
        "# seed list, 2026\n\n" + PLAIN,
        "Seed list of an invented school,,,\n,,,\n" + PLAIN + ",,,\n",
        PLAIN.replace("seeds", " Seeds ").replace("lot", "LOT"),
        PLAIN.replace("A1,apple", '"A1","apple"'),
        PLAIN.replace("2027-04-15", "2027-04-15 00:00:00"),
        PLAIN.replace(",40,", ",40.0,"),
    ],
)
def test_the_same_lot_in_every_dress(csv: Path, text: str | bytes) -> None:
    row = one(csv, text)
    assert (row.name, row.own.lot, row.lot.seeds, row.lot.sow) == ("apple", "A1", 40, date(2027, 4, 15))
    assert "seeds" not in row.lot.assumed


def test_unknown_columns_are_carried_and_near_ones_named(csv: Path) -> None:
    csv.write_text("name,bench,moistrue\napple,3,dried\n")
    with open_lots(str(csv)) as table:
        (row,) = table
        assert [(m.heading, m.meant) for m in table.headings.misspelt] == [("moistrue", "moisture")]
    assert isinstance(row, Row)
    assert row.carried == {"bench": "3", "moistrue": "dried"}
    assert row.lot.moisture == "fresh"


@pytest.mark.parametrize("heading", ["seeds,Seeds", "stored_years,Stored years", "bench,bench"])
def test_doubled_columns_are_refused(csv: Path, heading: str) -> None:
    with pytest.raises(ColdspellError, match=r"twice|mean the same"):
        rows(csv, f"name,{heading}\napple,1,2\n")


def test_a_table_without_names_says_which_headings_it_has(csv: Path) -> None:
    with pytest.raises(ColdspellError) as told:
        rows(csv, "species,seeds\napple,4\n")
    assert "species, seeds" in str(told.value)
    with pytest.raises(ColdspellError, match="empty"):
        rows(csv, "\n\n")


@pytest.mark.parametrize(
    ("cell", "kilograms"), [("0,5", 0.5), ("0.5", 0.5), ("2", 2.0), ("0,125", 0.125), ("1.250", 1.25)]
)
def test_decimals_with_comma_or_point(csv: Path, cell: str, kilograms: float) -> None:
    assert one(csv, f"name;kilograms\napple;{cell}\n").lot.kilograms == kilograms


@pytest.mark.parametrize(
    ("column", "cell"), [("kilograms", "1,250"), ("seeds", "1.000"), ("seeds", "1,000"), ("seeds", "1,5")]
)
def test_a_number_that_can_be_read_in_two_ways_is_refused(csv: Path, column: str, cell: str) -> None:
    row = refused(csv, f"name;{column}\napple;{cell}\n")
    assert [f.column for f in row.faults] == [column]


def test_a_stated_comma_reads_three_digits_and_refuses_points(csv: Path) -> None:
    form = TableForm(decimal_comma=True)
    assert one(csv, "name;kilograms\napple;1,250\n", form).lot.kilograms == 1.25
    assert "point" in str(refused(csv, "name;kilograms\napple;1.25\n", form))


@pytest.mark.parametrize(
    ("cell", "form", "day"),
    [
        ("15.10.2026", "%d.%m.%Y", date(2026, 10, 15)),
        ("5-10-2026", "%d-%m-%Y", date(2026, 10, 5)),
        ("10/15/2026", "%m/%d/%Y", date(2026, 10, 15)),
        ("15/10/26", "%d/%m/%y", date(2026, 10, 15)),
    ],
)
def test_the_form_that_a_refused_date_suggests_reads_it(csv: Path, cell: str, form: str, day: date) -> None:
    text = f"name;sow\napple;{cell}\n"
    assert f'--date-format "{form}"' in refused(csv, text).faults[0].mend
    assert one(csv, text, TableForm(date_format=form)).lot.sow == day


def test_a_date_of_iso_8601_is_read_beside_a_stated_form(csv: Path) -> None:
    assert one(csv, "name;sow\napple;2027-04-03\n", TableForm(date_format="%d.%m.%Y")).lot.sow == date(
        2027, 4, 3
    )


def test_other_dates_only_in_a_stated_form(csv: Path) -> None:
    text = "name;sow\napple;03/04/2027\n"
    assert "--date-format" in str(refused(csv, text))
    assert one(csv, text, TableForm(date_format="%d/%m/%Y")).lot.sow == date(2027, 4, 3)
    assert one(csv, text, TableForm(date_format="%m/%d/%Y")).lot.sow == date(2027, 3, 4)


def test_every_fault_of_a_row_by_its_column(csv: Path) -> None:
    (good, bad) = rows(csv, "name,seeds,moisture,sow\nElm,4,,\n,many,wet,2027-02-30\n")
    assert isinstance(good, Row)
    assert isinstance(bad, Refused)
    assert str(bad.place).endswith("lots.csv:3")
    assert {f.column for f in bad.faults} == {"name", "seeds", "moisture", "sow"}


def test_facts_that_do_not_go_together_are_of_the_row(csv: Path) -> None:
    row = refused(csv, "name,seeds,kilograms\napple,4,2\n")
    assert [f.column for f in row.faults] == [""]


def test_lines_are_counted_through_cells_with_line_ends(csv: Path) -> None:
    first, second = rows(csv, 'name,note,seeds\napple,"two\nlines",4\npear,,none\n')
    assert isinstance(first, Row)
    assert first.own.note == "two lines"
    assert isinstance(second, Refused)
    assert second.place.line == 4


def test_an_open_quotation_mark_ends_the_reading_where_it_began(csv: Path) -> None:
    with pytest.raises(ColdspellError) as told:
        rows(csv, 'name,note\napple,"not closed\npear,x\n')
    assert "lots.csv:2" in str(told.value)


def test_cells_beyond_the_headings_are_refused_and_missing_ones_are_empty(csv: Path) -> None:
    short, long, trailing = rows(csv, "name,seeds,note\napple,4\npear,4,x,y\nplum,4,x,,\n")
    assert isinstance(short, Row)
    assert isinstance(long, Refused)
    assert "without a heading" in str(long)
    assert isinstance(trailing, Row)


def test_characters_that_do_not_print_never_come_through(csv: Path) -> None:
    for odd in ("\x1b[31m", "\u202e", "\x07"):
        row = refused(csv, f"name,note,bench\napple,{odd}x,{odd}\n")
        assert {f.column for f in row.faults} == {"note", "bench"}
        assert str(row).isprintable() or odd not in str(row)


def test_text_in_another_encoding_says_what_to_type(csv: Path) -> None:
    text = "name,note\napple,é\n".encode("cp1252")
    with pytest.raises(ColdspellError, match="--encoding cp1252"):
        rows(csv, text)
    assert one(csv, text, TableForm(encoding="cp1252")).own.note == "é"


def test_grams_count_where_no_seeds_are_given(csv: Path) -> None:
    weighed, counted = rows(csv, "name,seeds,grams\napple,,250\napple,40,2,5\n".replace(",5", ""))
    assert isinstance(weighed, Row)
    assert isinstance(counted, Row)
    assert weighed.lot.kilograms == 0.25
    assert (counted.lot.seeds, counted.lot.kilograms, counted.own.grams) == (40, None, 2.0)


def test_origin_is_a_fact_where_it_can_be_one(csv: Path) -> None:
    north, vale, typo = rows(csv, "name,origin\napple,North\napple,Long Vale\napple,nroth\n")
    assert isinstance(north, Row)
    assert isinstance(vale, Row)
    assert (north.lot.origin, vale.lot.origin, vale.own.origin) == ("north", "unknown", "Long Vale")
    assert isinstance(typo, Refused)


def test_several_media_and_truths(csv: Path) -> None:
    row = one(csv, 'name,medium,southern,pulp\napple,"sand, peat",TRUE,FALSE\n')
    assert (row.lot.media, row.lot.southern, row.lot.pulp) == (("sand", "peat"), True, "no")


def test_defaults_hold_where_a_row_says_nothing(csv: Path) -> None:
    csv.write_text("name,sow,seeds\napple,,3\npear,2027-04-15,4\n")
    with open_lots(str(csv), None, {"last_frost": "2027-05-10", "kilograms": "2"}) as table:
        first, second = table
    assert isinstance(first, Row)
    assert isinstance(second, Row)
    assert (first.lot.last_frost, first.lot.kilograms) == (date(2027, 5, 10), None)
    assert (second.lot.last_frost, second.lot.sow) == (None, date(2027, 4, 15))


def test_json_lines(tmp_path: Path) -> None:
    lines = [
        '{"name": "apple", "seeds": 40, "cut": [8, 10], "bench": {"row": 3}}',
        "",
        '{"name": "apple", "seeds": 40, "Seeds": 4}',
        '{"name": "apple", "seeds": NaN}',
        "[1]",
        '{"name": "apple"',
        '{"name": "apple", "seeds": {"n": 3}}',
    ]
    first, *bad = rows(tmp_path / "lots.jsonl", "\n".join(lines))
    assert isinstance(first, Row)
    assert (first.lot.cut, first.carried) == ((8, 10), {"bench": {"row": 3}})
    assert all(isinstance(row, Refused) for row in bad)
    assert [row.place.line for row in bad if isinstance(row, Refused)] == [3, 4, 5, 6, 7]


def test_standard_input_is_known_by_its_first_bytes(monkeypatch: pytest.MonkeyPatch) -> None:
    for text in (PLAIN, json.dumps({"lot": "A1", "name": "apple", "seeds": 40, "sow": "2027-04-15"})):
        monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(text.encode())))
        with open_lots("-") as table:
            (row,) = table
        assert isinstance(row, Row)
        assert row.lot.seeds == 40


@pytest.mark.parametrize("name", ["lots.xls", "lots.json", "absent.csv", ".", "lots.yaml"])
def test_what_is_no_table_is_refused_kindly(tmp_path: Path, name: str) -> None:
    if "absent" not in name and name != ".":
        (tmp_path / name).write_text("name\napple\n")
    with pytest.raises(ColdspellError) as told:
        open_lots(str(tmp_path / name))
    assert told.value.mend


def test_how_much_of_a_file_was_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The share grows with the bytes that were read, and is whole at the end; a pipe has none."""
    text = "name,note\n" + "".join(f"apple,{'x' * 400}{i}\n" for i in range(600))
    path = tmp_path / "lots.csv"
    path.write_text(text)
    with open_lots(str(path)) as table:
        shares = [table.share for _ in table]
    assert shares == sorted(shares)
    assert shares[0] < 0.2
    assert 0.3 < shares[299] < 0.7
    assert shares[-1] == 1.0
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(text.encode())))
    with open_lots("-") as table:
        assert {table.share for _ in table} == {None}


@pytest.mark.parametrize(
    ("cell", "text"), [(float("inf"), "inf"), (float("nan"), "nan"), (3.0, "3"), (3.5, "3.5")]
)
def test_a_number_for_a_name_is_a_name(cell: float, text: str) -> None:
    """1e309 in JSON Lines is not finite, and was a fault of the program; its row is refused as any."""
    assert plain_text("name", cell) == text
