"""``coldspell germination COUNTS.csv``: what a germination test says, by replicate and in all."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Annotated, Any

import typer

from coldspell.arithmetic import germination as g
from coldspell.arithmetic.samples import clopper_pearson
from coldspell.arithmetic.standards import Tolerance, replicate_tolerance
from coldspell.arithmetic.verdicts import Verdict, against_record, next_lot
from coldspell.cli import output
from coldspell.cli.output import Form
from coldspell.cli.practice import shipped_practice
from coldspell.errors import ColdspellError, Place
from coldspell.typed import read_day, read_percent

_LARGEST = 1_000_000


@dataclass(frozen=True, slots=True)
class Test:
    """A counted test: days, and for each replicate its name, seeds sown and seeds newly germinated."""

    days: list[float]
    names: list[str]
    sown: list[int]
    counts: list[list[int]]


def command(
    counts: Annotated[str, typer.Argument(help="CSV: day or date, then a column for each replicate")],
    sown: Annotated[int | None, typer.Option(help="seeds sown in each replicate, if no line says so")] = None,
    start: Annotated[str | None, typer.Option(help="day of sowing, if the counts have dates")] = None,
    cumulative: Annotated[bool, typer.Option("--cumulative", help="counts are running totals")] = False,
    record: Annotated[str | None, typer.Option(help="percent the record gives, as 86 or 70-90")] = None,
    form: Annotated[Form, typer.Option("--format", help="text or json")] = Form.text,
) -> None:
    """Percentage, mean time, T50, speed, tolerance of replicates, verdict against the record.

    The file has a heading, "day" or "date" and a name for each replicate; a line "sown" with the seeds sown;
    then one line for each count.
    """
    test = read_counts(_rows(counts), counts, sown, start, cumulative)
    pooled = [sum(column) for column in zip(*test.counts, strict=True)]
    total, all_sown = sum(pooled), sum(test.sown)
    low, high = clopper_pearson(total, all_sown)
    percents = [g.percent(sum(c), n) for c, n in zip(test.counts, test.sown, strict=True)]
    values: dict[str, Any] = {
        "germinated": total, "sown": all_sown, "percent": g.percent(total, all_sown),
        "low_percent": 100 * low, "high_percent": 100 * high,
        "replicates": dict(zip(test.names, percents, strict=True)),
    }  # fmt: skip
    rows = [
        ("germinated", f"{total} of {all_sown}, {output.percent(total / all_sown)}"),
        ("in the lot", f"{output.percent(low)} to {output.percent(high)}, with 95 % confidence"),
    ]
    if total:
        speed = _speed(pooled, test.days, all_sown)
        values |= speed
        rows += _speed_rows(speed)
    tolerance = _tolerance(test, percents)
    values["tolerance"] = tolerance
    if len(percents) > 1:
        rows.append(("replicates", _tolerance_text(tolerance, percents)))
    rows += _record(values, total, all_sown, record)
    notes = ["Seed that did not sprout may be dormant, empty or dead: cut it and say which."]
    output.answer(form, "germination", values, rows, notes)


def _record(values: dict[str, Any], total: int, sown: int, record: str | None) -> list[output.Row]:
    low, high = (None, None) if record is None else read_percent("--record", record)
    middle = None if low is None or high is None else 50 * (low + high)
    practice = shipped_practice()
    expected = next_lot(
        [(total, sown)],
        middle,
        record_weight_seeds=practice.next_lot_record_seeds,
        lot_weight_seeds=practice.next_lot_seeds,
    )
    values["next_lot"] = expected
    span = f"{expected.low_percent:.0f} to {expected.high_percent:.0f}, nine in ten"
    text = f"{expected.mean_percent:.0f} % ({span})"
    rows = [("next lot", f"{text} from the same source, if treated alike")]
    if low is not None and high is not None:
        verdict = against_record(total, sown, 100 * low, 100 * high)
        values["verdict"] = verdict
        rows.insert(0, ("record", _verdict_text(verdict)))
    return rows


def _speed(counts: list[int], days: list[float], sown: int) -> dict[str, Any]:
    spread = g.mean_time(counts, days)
    return {
        "first_day": next(t for t, c in zip(days, counts, strict=True) if c),
        "last_day": max(t for t, c in zip(days, counts, strict=True) if c),
        "mean_days": spread.mean,
        "mean_days_standard_error": spread.standard_error,
        "t50_days_coolbear": g.t50(counts, days),
        "t50_days_farooq": g.t50(counts, days, "farooq"),
        "coefficient_of_velocity": g.coefficient_of_velocity(counts, days),
        "speed_seeds_per_day": g.speed(counts, days),
        "germination_value_czabator": g.germination_value_czabator(counts, days, sown),
        "synchrony": g.synchrony(counts),
    }


def _speed_rows(speed: dict[str, Any]) -> list[output.Row]:
    error = speed["mean_days_standard_error"]
    scatter = "" if error is None else f" (standard error {output.number(error, 2)})"
    return [
        ("seen", f"day {speed['first_day']:g} to day {speed['last_day']:g}"),
        ("mean time", f"{speed['mean_days']:.2f} days{scatter}"),
        (
            "half by",
            f"day {speed['t50_days_coolbear']:.2f} (Coolbear), {speed['t50_days_farooq']:.2f} (Farooq)",
        ),
        ("velocity", f"{speed['coefficient_of_velocity']:.2f} (Kotowski)"),
        ("speed", f"{speed['speed_seeds_per_day']:.2f} seeds a day (Maguire)"),
        ("value", f"{speed['germination_value_czabator']:.2f} (Czabator)"),
    ]


def _tolerance(test: Test, percents: list[float]) -> Tolerance | None:
    """Only replicates of 100 have a printed tolerance."""
    return replicate_tolerance(percents) if all(n == 100 for n in test.sown) else None


def _tolerance_text(tolerance: Tolerance | None, percents: list[float]) -> str:
    spread = f"{min(percents):.0f} to {max(percents):.0f} %"
    if tolerance is None:
        return f"{spread}; a tolerance is printed only for two or four replicates of 100"
    said = "agree" if tolerance.accept else "differ too much: test again"
    source = "7 CFR 201.55" + ("" if tolerance.basis == "read" else ", limit from memory")
    return f"{spread}: {said} (range {tolerance.range_points:g}, at most {tolerance.limit_points}; {source})"


def _verdict_text(verdict: Verdict) -> str:
    said = {
        "below": "clearly below it: unfinished treatment, dormant or poor seed",
        "agrees": "the test agrees with it",
        "above": "clearly above it",
    }[verdict.verdict]
    low, high = verdict.record_low_percent, verdict.record_high_percent
    return f"{low:g} % expected: {said}" if low == high else f"{low:g} to {high:g} % expected: {said}"


def _rows(path: str) -> list[tuple[int, list[str]]]:
    """All lines of the table with their numbers; a table of counts is small."""
    try:
        if path == "-":
            text = output.standard_input().read(_LARGEST + 1)
        else:
            with Path(path).open(encoding="utf-8-sig", newline=None) as stream:
                text = stream.read(_LARGEST + 1)
    except OSError as error:
        raise ColdspellError(
            f"cannot be read: {error.strerror or error}",
            Place(path),
            mend="check the path and who may read it",
        ) from None
    except UnicodeError:
        raise ColdspellError(
            "this is not UTF-8 text", Place(path), "save the table as CSV in UTF-8"
        ) from None
    if len(text) > _LARGEST or "\0" in text:
        raise ColdspellError("this is no table of counts", Place(path), "one line for each count, as CSV")
    rows = []
    try:
        for number, line in enumerate(text.splitlines(), 1):
            if line.strip() and not line.startswith("#"):
                rows.append((number, [cell.strip() for cell in next(csv.reader([line]))]))
    except csv.Error as error:
        raise ColdspellError(
            f"not a CSV line: {error}",
            Place(path, number),
            mend="mend the quotation marks of this line, or save the table anew as CSV",
        ) from None
    return rows


def read_counts(
    rows: list[tuple[int, list[str]]], file: str, sown: int | None, start: str | None, cumulative: bool
) -> Test:
    """Read a table of counts; every mistake is one error with its line."""
    if len(rows) < 2:
        raise ColdspellError(
            "the table is empty", Place(file), "a heading, a line for sown, a line for each count"
        )
    number, heading = rows[0]
    kind = heading[0].casefold()
    if kind not in ("day", "days", "date") or len(heading) < 2:
        raise ColdspellError(
            f"the heading starts with {heading[0][:40]!r}",
            Place(file, number),
            "start it with day or date, then replicates",
        )
    names = [name.casefold() for name in heading[1:]]
    twice = next((name for name in heading[1:] if names.count(name.casefold()) > 1), None)
    if twice is not None:
        what = f"two replicates are headed {twice[:40]!r}"
        raise ColdspellError(what, Place(file, number), "give each its own name: a, b, c")
    first = read_day("--start", start) if start is not None else None
    if kind == "date" and first is None:
        raise ColdspellError(
            "the counts have dates", Place(file, number), "say --start with the day of sowing"
        )
    days: list[float] = []
    table: list[list[int]] = []
    stated = False
    seeds = None if sown is None else [sown] * (len(heading) - 1)
    for number, cells in rows[1:]:
        place = Place(file, number)
        if len(cells) != len(heading):
            raise ColdspellError(f"{len(cells)} cells under {len(heading)} headings", place, "mend the line")
        counts = [_count(cell, place) for cell in cells[1:]]
        if cells[0].casefold() == "sown":
            if stated:
                raise ColdspellError("the seeds sown stand twice", place, "keep one line sown")
            stated = True
            seeds = counts
            continue
        days.append(_day(cells[0], kind, first, place))
        if days[-1] <= max([0.0, *days[:-1]]):
            raise ColdspellError("the days must rise from above 0", place, "sort the lines; sowing is day 0")
        table.append(counts)
    return _checked(file, heading[1:], seeds, days, table, cumulative)


def _checked(
    file: str,
    names: list[str],
    sown: list[int] | None,
    days: list[float],
    table: list[list[int]],
    cumulative: bool,
) -> Test:
    if sown is None:
        raise ColdspellError("the seeds sown are not stated", Place(file), "say --sown, or add a line sown")
    if not table:
        raise ColdspellError("there is no count", Place(file), "one line for each count")
    columns = [list(column) for column in zip(*table, strict=True)]
    if cumulative:
        columns = [[b - a for a, b in zip([0, *column], column, strict=False)] for column in columns]
    for name, column, seeds in zip(names, columns, sown, strict=True):
        if seeds < 1:
            raise ColdspellError(
                f"replicate {name}: no seed was sown",
                Place(file),
                mend="give the seeds sown in a line that begins with sown",
            )
        try:
            g.check(column, days, seeds)
        except ColdspellError as error:
            raise ColdspellError(f"replicate {name}: {error.what}", Place(file), error.mend) from None
    return Test(days, names, sown, columns)


def _count(cell: str, place: Place) -> int:
    if not (cell.isascii() and cell.isdecimal() and len(cell) <= 7):
        raise ColdspellError(
            f"{cell[:40]!r} is not a count", place, "whole numbers from 0; 0 where nothing came"
        )
    return int(cell)


def _day(cell: str, kind: str, first: date | None, place: Place) -> float:
    if kind == "date":
        assert first is not None
        return float((read_day("day", cell, place) - first).days)
    try:
        day = float(cell)
    except ValueError:
        day = -1.0
    if not 0 < day < 10_000:
        raise ColdspellError(f"{cell[:40]!r} is not a day after sowing", place, "days from 1; or sown")
    return day
