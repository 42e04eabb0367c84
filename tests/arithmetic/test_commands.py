"""The commands on numbers: right text and JSON, one clear error, 40 columns, ASCII, pipes, stdin."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
import typer
from typer.testing import CliRunner

from coldspell.cli import cold, count, germination, output
from coldspell.errors import ColdspellError

DATA = Path(__file__).parent.parent / "data"
app = typer.Typer()
app.add_typer(count.app, name="count")
app.command("cold")(cold.command)
app.command("germination")(germination.command)

PROGRAM = """
import sys, typer
from coldspell.cli import cold, count, germination
app = typer.Typer(add_completion=False)
app.add_typer(count.app, name="count")
app.command("cold")(cold.command)
app.command("germination")(germination.command)
app()
"""


def run(*words: str, width: int = 80, stdin: str | None = None) -> str:
    result = CliRunner().invoke(app, list(words), env={"COLUMNS": str(width)}, input=stdin)
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        raise result.exception
    assert result.exit_code == 0, result.output
    return result.output


ANSWERS = [
    ("count", "plants", "--want", "20", "--cut", "8/10", "--germination", "70-85", "--survival", "75-85"),
    ("count", "plants", "--seeds", "40", "--germination", "65"),
    ("count", "cut", "8/10"),
    ("count", "cut", "10/10"),
    ("count", "cut", "--claim", "90"),
    ("count", "seeds", "--thousand-grams", "25", "--seeds", "1000"),
    ("count", "bed", "--area", "10", "--rows-mm", "152.4x50.8", "--germination", "80"),
    ("count", "moisture", "--dry-basis", "43"),
    ("count", "moisture", "--fresh-grams", "50", "--dry-grams", "35"),
    ("count", "bleach", "--label", "5.5"),
    ("count", "seeds", "--seeds-per-kg", "10000", "--kilograms", "2", "--purity", "90"),
    ("count", "live", "--purity", "85", "--germination", "75"),
    ("count", "bed", "--area", "10", "--density", "60", "--germination", "80", "--seeds-per-kg", "150"),
    ("count", "cells", "--germination", "50", "--filled", "95"),
    ("count", "pack", "--seeds", "40", "--seed-mm", "20", "--bag", "270x280"),
    ("count", "pack", "--seeds", "400", "--seed-mm", "20", "--box", "400x300x200", "--material", "sand"),
    ("count", "towels", "--seeds", "500"),
    ("count", "dates", "--sow", "2027-04-15", "--step", "warm_moist=60", "--step", "cold_moist=90-120"),
    ("count", "dates", "--sow", "2027-04-15", "--step", "cold_moist=90-120", "--today", "2027-02-01"),
    ("count", "dates", "--start", "2027-01-18", "--step", "cold_moist=42"),
    ("cold", str(DATA / "refrigerator.csv"), "--want", "30"),
    ("cold", str(DATA / "outdoors.csv"), "--depth-mm", "50"),
    ("germination", str(DATA / "counts.csv"), "--record", "86"),
]


@pytest.mark.parametrize("words", ANSWERS, ids=lambda w: "-".join(w[:2]))
@pytest.mark.parametrize("width", [40, 80, 200])
def test_text_fits_the_terminal(words, width) -> None:
    output = run(*words, width=width)
    assert output.endswith("\n")
    assert max(len(line) for line in output.splitlines()) <= max(40, min(width, 100))
    assert "None" not in output
    assert "nan" not in output
    assert run(*words, width=width) == output


@pytest.mark.parametrize("words", ANSWERS, ids=lambda w: "-".join(w[:2]))
def test_json(words) -> None:
    found = json.loads(run(*words, "--format", "json"))
    assert found["schema"].startswith("coldspell/")
    assert isinstance(found["notes"], list)


def test_numbers_are_those_of_the_functions() -> None:
    cells = json.loads(run("count", "cells", "--germination", "10", "--format", "json"))
    assert cells["seeds_per_cell"] == 29  # Roy 1957
    live = json.loads(run("count", "live", "--purity", "85", "--germination", "75", "--format", "json"))
    assert live["pure_live_seed_percent"] == 63.75
    seen = json.loads(run("germination", str(DATA / "counts.csv"), "--format", "json"))
    assert seen["replicates"] == {"a": 96.0, "b": 93.0, "c": 90.0, "d": 89.0}
    assert (seen["tolerance"]["limit_points"], seen["tolerance"]["accept"]) == (11, True)  # 7 CFR 201.55
    counted = json.loads(run("cold", str(DATA / "refrigerator.csv"), "--want", "30", "--format", "json"))
    assert counted["cold"]["counted_days"] == pytest.approx(37.5, abs=0.02)
    start = json.loads(
        run("count", "dates", "--start", "2027-01-18", "--step", "cold=42", "--format", "json")
    )
    assert start["plan"]["ready"] == "2027-03-01"  # Forest Research, Metasequoia page


def answered(*words: str) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(run(*words, "--format", "json"))
    return found


def test_small_sums_against_published_figures() -> None:
    moisture = answered("count", "moisture", "--dry-basis", "43")
    assert moisture["wet_basis_percent"] == pytest.approx(30, abs=0.1)  # Johnson 1979: 43 dry, 30 wet
    weighed = answered("count", "moisture", "--fresh-grams", "50", "--dry-grams", "35")
    assert (weighed["wet_basis_percent"], weighed["dry_basis_percent"]) == pytest.approx(
        (30, 42.857), abs=1e-3
    )
    bleach = answered("count", "bleach", "--label", "5.5")
    assert bleach["bleach_ml"] == pytest.approx(47, abs=1)  # common practice: 47 ml of 5-6 % for a quarter
    assert "never with vinegar" in bleach["notes"][0]
    rows = answered("count", "bed", "--area", "10", "--rows-mm", "152.4x50.8", "--germination", "100")
    assert rows["seeds_per_m2"] == pytest.approx(12 / 0.09290304)  # Taft 1966: 12 acorns a square foot
    assert answered("count", "cut", "--claim", "90")["seeds"] == 29  # 0.9**29 < 0.05 < 0.9**28
    assert answered("count", "cut", "10/10")["at_least"] == pytest.approx(0.05**0.1)
    thousand = answered("count", "seeds", "--thousand-grams", "25", "--kilograms", "1")
    assert thousand["seeds"] == 40_000


def test_infeasible_is_an_answer() -> None:
    words = ("count", "dates", "--sow", "2027-04-15", "--step", "cold_moist=90-120", "--today", "2027-02-01")
    found = json.loads(run(*words, "--format", "json"))
    assert found["infeasible"]["days_short"] == 47
    assert found["infeasible"]["days_short_low"] == 17
    assert "47 days" in run(*words)


WRONG = [
    (("count", "plants"), "either --want or --seeds"),
    (("count", "plants", "--want", "5"), "nothing is said of the seed"),
    (("count", "plants", "--want", "5", "--cut", "ten"), "is not like 8/10"),
    (("count", "plants", "--want", "5", "--cut", "9/8"), "9 of 8 cannot be"),
    (("count", "plants", "--want", "5", "--germination", "120"), "is no percentage"),
    (("count", "plants", "--want", "5", "--germination", "90-20"), "is no percentage"),
    (("count", "plants", "--want", "5", "--germination", "80", "--sure", "100"), "between 0 and 1"),
    (("count", "cut", "0/0"), "no seed was tested"),
    (("count", "cut"), "either a result or --claim"),
    (("count", "cut", "--claim", "100"), "no sample proves"),
    (("count", "seeds", "--seeds", "5"), "either --seeds-per-kg or --thousand-grams"),
    (("count", "bed", "--area", "1", "--germination", "80"), "either --density or --rows-mm"),
    (("count", "moisture"), "say one of --wet-basis"),
    (("count", "moisture", "--fresh-grams", "3"), "say one of --wet-basis"),
    (("count", "moisture", "--fresh-grams", "3", "--dry-grams", "4"), "cannot be"),
    (("count", "moisture", "--wet-basis", "100"), "from 0 to under 100"),
    (("count", "bleach", "--label", "5", "--percent", "6"), "weaker than the bleach"),
    (("count", "bleach", "--label", "5", "--litres", "-1"), "cannot be"),
    (("count", "pack", "--seeds", "4", "--seed-mm", "20"), "one of --bag, --box and --tub"),
    (("count", "pack", "--seeds", "4", "--seed-mm", "20", "--bag", "2x"), "is not like MMxMM"),
    (("count", "pack", "--seeds", "4", "--seed-mm", "20", "--bag", "90x90"), "no seed of this size fits"),
    (("count", "dates", "--step", "cold=9"), "either --sow or --start"),
    (("count", "dates", "--sow", "2027-02-31", "--step", "cold=9"), "is no date"),
    (("count", "dates", "--sow", "2027-02-28", "--step", "cold"), "is not like cold_moist=90-120"),
    (("count", "dates", "--sow", "2027-02-28", "--step", "cold=9-3"), "must rise"),
    (("cold", "/nowhere.csv"), "/nowhere.csv: cannot be read"),
    (("cold", "."), ".: cannot be read"),
    (("cold", "x", "--want", "-3"), "cannot be"),
    (("cold", "x", "--delimiter", "ab"), "one character"),
    (("cold", "x", "--response", "apples"), "no response is called"),
    (("germination", "/nowhere.csv"), "cannot be read"),
]


@pytest.mark.parametrize(("words", "says"), WRONG, ids=lambda w: "-".join(w) if isinstance(w, tuple) else "")
def test_wrong_use_is_one_clear_error(words, says) -> None:
    with pytest.raises(ColdspellError) as caught:
        run(*words)
    assert says in str(caught.value)
    assert caught.value.exit_code == 2


TABLES = [
    ("", "the table is empty"),
    ("day,a\n", "the table is empty"),
    ("when,a\n1,2\n", "t.csv:1: the heading starts with 'when'"),
    ("day,a\n1,2\n", "the seeds sown are not stated"),
    ("day,a\nsown,10\n", "there is no count"),
    ("day,a\nsown,10\n1,2,3\n", "t.csv:3: 3 cells under 2 headings"),
    ("day,a\nsown,10\n1,-2\n", "t.csv:3: '-2' is not a count"),
    ("day,a\nsown,10\n1,2.5\n", "t.csv:3: '2.5' is not a count"),
    ("day,a\nsown,10\n2,1\n1,1\n", "t.csv:4: the days must rise"),
    ("day,a\nsown,10\nx,1\n", "t.csv:3: 'x' is not a day"),
    ("day,a\nsown,10\n1,11\n", "replicate a: 11 germinated of 10"),
    ("date,a\nsown,10\n2027-01-02,1\n", "the counts have dates"),
    ("day,a\nsown,10\n1,2\0\n", "no table of counts"),
    ("day,a\nsown,0\n1,0\n", "no seed was sown"),
]


@pytest.mark.parametrize(("table", "says"), TABLES)
def test_each_mistake_in_a_table(tmp_path, monkeypatch, table, says) -> None:
    monkeypatch.chdir(tmp_path)
    Path("t.csv").write_bytes(table.encode())
    with pytest.raises(ColdspellError) as caught:
        run("germination", "t.csv")
    assert says in str(caught.value)
    assert str(caught.value).startswith("t.csv")


def test_tables_in_other_forms(tmp_path) -> None:
    plain, running, dated = (tmp_path / name for name in ("a.csv", "b.csv", "c.csv"))
    plain.write_text("day,a,b\nsown,50,50\n3,10,12\n6,20,21\n")
    running.write_text("day,a,b\nsown,50,50\n3,10,12\n6,30,33\n")
    dated.write_text("\ufeffdate,a,b\n2027-01-04,10,12\n2027-01-07,20,21\n", encoding="utf-8")
    first = run("germination", str(plain))
    assert run("germination", str(running), "--cumulative") == first
    assert run("germination", str(dated), "--sown", "50", "--start", "2027-01-01") == first
    falling = tmp_path / "falling.csv"
    falling.write_text("day,a\nsown,50\n3,10\n6,5\n")
    with pytest.raises(ColdspellError, match="negative"):
        run("germination", str(falling), "--cumulative")


def test_nothing_germinated(tmp_path) -> None:
    path = tmp_path / "none.csv"
    path.write_text("day,a\nsown,50\n7,0\n14,0\n")
    output = run("germination", str(path), "--record", "80")
    assert "0 of 50" in output
    assert "clearly below" in output


def test_standard_input() -> None:
    log = "time,temp_c\n2027-01-01 00:00,4\n2027-01-01 01:00,4\n"
    assert "0.0 days" in run("cold", "-", stdin=log)
    assert "10 of 50" in run("germination", "-", stdin="day,a\nsown,50\n7,10\n")


def test_ascii_terminal_and_closed_pipe() -> None:
    words = [sys.executable, "-c", PROGRAM, "cold", str(DATA / "refrigerator.csv")]
    plain = subprocess.run(words, capture_output=True, env={"PYTHONIOENCODING": "ascii"}, check=True)
    assert plain.stdout.isascii()
    assert b"deg C" in plain.stdout
    piped = subprocess.run(
        f"{sys.executable} -c '{PROGRAM}' cold {DATA / 'refrigerator.csv'} | head -1",
        shell=True,
        capture_output=True,
        check=True,
    )
    assert piped.stderr == b""
    assert piped.stdout.startswith(b"cold counted")


def test_utf16_and_binary_logs(tmp_path) -> None:
    log = "time,temp °C\n2027-01-01 00:00,4\n2027-01-01 01:00,4\n"
    wide, latin, binary = (tmp_path / name for name in ("w.csv", "l.csv", "b.csv"))
    wide.write_text(log, encoding="utf-16")
    latin.write_bytes(log.encode("latin-1"))
    binary.write_bytes(bytes(range(256)) * 400)
    assert run("cold", str(wide)) == run("cold", str(latin))
    with pytest.raises(ColdspellError, match="text table"):
        run("cold", str(binary))


def test_layout_of_rows() -> None:
    assert output.text([("a", "b")], width=40) == "a  b\n"
    long = output.text([("a very long name for a row indeed", "value " * 20)], ["note " * 20], width=40)
    assert max(map(len, long.splitlines())) <= 40


@pytest.mark.parametrize(
    ("table", "says"),
    [
        ("day,a,A\nsown,50,50\n3,6,40\n", "two replicates are headed"),
        ("day,a,b\nsown,50,50\nsown,50,40\n3,6,40\n", "stand twice"),
    ],
)
def test_counts_that_would_lose_a_column(tmp_path: Path, table: str, says: str) -> None:
    counts = tmp_path / "counts.csv"
    counts.write_text(table)
    with pytest.raises(ColdspellError, match=says):
        run("germination", str(counts))
