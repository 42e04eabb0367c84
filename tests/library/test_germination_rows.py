"""Germination of pines, oaks and others against the rows of the handbook's tables.

Source: Bonner & Karrfalt (eds) 2008, The Woody Plant Seed Manual, AH 727: the tables named in
tests/data/germination-rows.csv, where a row has the degrees, the length of the test, the days of the
quick part, its share, and the share in all. A share belongs to the degrees and days of its own row: the days
of the quick part stood with the share in all in eleven oaks and a maple.
"""

from __future__ import annotations

import csv
from collections import defaultdict
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from coldspell.shipped import find
from coldspell.yaml.document import parse, plain

FILE = Path(__file__).parents[1] / "data" / "germination-rows.csv"
Row = dict[str, tuple[float, ...]]
COLUMNS = ("celsius", "length", "energy_days", "energy", "percent")
TAKES_MORE = {
    "Pinus albicaulis": "one row, and the records' days are left out",
    "Pinus peuce": "the table's night is warmer than its day",
    "Quercus agrifolia": "a trial of its own beside the table",
}


def _rows() -> dict[str, list[Row]]:
    found = defaultdict(list)
    with FILE.open(encoding="utf-8", newline="") as stream:
        for row in csv.DictReader(stream):
            ends = {c: (row[f"{c}_low"], row[f"{c}_high"]) for c in COLUMNS}
            found[row["name"]].append({c: tuple(float(v) for v in two if v) for c, two in ends.items()})
    return found


def _ends(value: Any) -> list[float]:
    return [] if value is None else [float(v) for v in value] if isinstance(value, list) else [float(value)]


def _wrong(said: Mapping[str, Any], rows: list[Row]) -> list[str]:
    """What of a germination does not stand in one row for each end of its share."""
    days, celsius = _ends(said.get("days")), _ends(said.get("celsius"))
    found = []
    for share in _ends(said.get("percent")):
        whole = [row for row in rows if share in row["percent"]]
        quick = [row for row in rows if share in row["energy"]]
        fits = [r for r in whole if not days or (_within(r["length"], days) and _counted(r, days))]
        fits += [r for r in quick if set(days) & set(r["energy_days"])]
        if not whole + quick:
            found.append(f"{share:g} % is in no row")
        elif not fits:
            found.append(f"{share:g} % beside days {days}")
        elif celsius and not any(_within(row["celsius"], celsius) for row in fits):
            found.append(f"{share:g} % beside {celsius} °C")
    return found


def _within(told: tuple[float, ...], said: list[float]) -> bool:
    """Whether the row tells nothing, or its upper end lies in what is said."""
    return not told or said[0] <= told[-1] <= said[-1]


def _counted(row: Row, days: list[float]) -> bool:
    """Whether the days run until the whole share was counted, where the row tells how long that was."""
    return not row["length"] or days[-1] >= row["length"][-1]


def _records() -> dict[str, dict[str, Any]]:
    rows = _rows()
    found = {}
    for path in sorted(find("species").glob("*/*.yaml")):
        record = plain(parse(path.read_text("utf-8"), str(path)))
        said = record.get("germination", {})
        if record["name"] in rows and "percent" in said and record["name"] not in TAKES_MORE:
            found[record["name"]] = said
    return found


def test_shares_have_the_days_and_degrees_of_their_row() -> None:
    rows, records = _rows(), _records()
    assert len(records) > 60
    wrong = {name: _wrong(said, rows[name]) for name, said in records.items()}
    assert {name: what for name, what in wrong.items() if what} == {}


@pytest.mark.long
@pytest.mark.parametrize("fault", ["quick days", "other degrees", "another share"])
def test_planted_faults_are_seen(fault: str) -> None:
    rows, records = _rows(), _records()
    planted = caught = 0
    for name, said in records.items():
        worse = dict(said)
        quick = [row for row in rows[name] if row["energy_days"] and row["length"]]
        if fault == "quick days" and "days" in said and len(quick) == 1 == len(rows[name]):
            worse |= {"days": quick[0]["energy_days"][-1], "percent": quick[0]["percent"][-1]}
        elif fault == "other degrees" and "celsius" in said and any(row["celsius"] for row in rows[name]):
            worse["celsius"] = max(_ends(said["celsius"])) + 4
        elif fault == "another share":
            worse["percent"] = (max(_ends(said["percent"])) + 47) % 100
        if worse == said:
            continue
        planted += 1
        caught += bool(_wrong(worse, rows[name]))
    assert planted >= 10
    assert caught >= 0.9 * planted, f"{caught} of {planted}"
