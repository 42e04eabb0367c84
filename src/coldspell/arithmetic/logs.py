"""Temperature logs as text: lines in, readings out, one clear error with file and line.

Dates are ISO 8601 unless another form is stated; the unit stands in the heading or is stated. Lines before
the heading (serial numbers and the like) are skipped. Nothing is guessed where a guess could cost seed.
"""

from __future__ import annotations

import csv
import math
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from itertools import chain

from coldspell.arithmetic.readings import Reading
from coldspell.errors import ColdspellError, Place

HEAD_LINES = 60
LINE_CHARACTERS = 20_000
FAULT_WORDS = frozenset(
    ("", "-", "--", "---", "na", "n/a", "#n/a", "nan", "null", "none", "err", "error", "fault", "open")
)
_ISO = re.compile(r"\d{4}-\d{2}-\d{2}([T ]\d{2}:\d{2}(:\d{2}(\.\d{1,6})?)?(Z|[+-]\d{2}:?\d{2})?)?")
_TIME_WORDS = ("datetime", "date/time", "timestamp", "date time", "date-time", "date", "time")
_TEMPERATURE_WORDS = ("temp", "celsius", "fahrenheit", "°c", "°f", "deg c", "deg f")
_UNITS = {"celsius": "celsius", "c": "celsius", "fahrenheit": "fahrenheit", "f": "fahrenheit"}


@dataclass(frozen=True, slots=True)
class LogForm:
    """What is stated about a log; ``None`` means: as the heading says, else ISO dates and an error on doubt.

    ``decimal_comma`` may only go with a delimiter that is not a comma.
    """

    date_format: str | None = None
    unit: str | None = None
    time_column: str | None = None
    temperature_column: str | None = None
    delimiter: str | None = None
    decimal_comma: bool = False
    depth_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class _Columns:
    time: tuple[int, ...]
    celsius: tuple[int, ...]
    fahrenheit: bool
    daily: bool


def read_log(lines: Iterable[str], file: str, form: LogForm | None = None) -> Iterator[Reading]:
    """Readings of a log.

    A heading with a lowest and a highest temperature makes it a log of days: see
    :func:`daily_readings`.

    Parameters
    ----------
    lines : iterable of str
        The file, line by line [text].
    file : str
        Name for error messages [path].
    form : LogForm, optional
        What the user stated [names, units, mm].

    Raises
    ------
    ColdspellError
        At the first line that cannot be read, with its number.

    >>> log = ["time,temperature °C", "2027-01-01 00:00,4.0", "2027-01-01 01:00,4.5"]
    >>> [reading.celsius for reading in read_log(log, "log.csv")]
    [4.0, 4.5]
    """
    form = form or LogForm()
    numbered = _numbered(lines, file)
    head = []
    for number, line in numbered:
        head.append((number, line))
        if len(head) >= HEAD_LINES:
            break
    delimiter = form.delimiter or _delimiter(line for _, line in head)
    if form.decimal_comma and delimiter == ",":
        raise ColdspellError("a decimal comma needs another delimiter", Place(file), "say --delimiter ';'")
    rows = [(number, _cells(line, delimiter)) for number, line in head]
    start, columns = _columns(rows, form, file)
    rest = ((number, _cells(line, delimiter)) for number, line in numbered)
    for number, cells in chain(rows[start:], rest):
        if not any(cells):
            continue
        yield from _readings(cells, columns, form, Place(file, number))


def _numbered(lines: Iterable[str], file: str) -> Iterator[tuple[int, str]]:
    for number, line in enumerate(lines, 1):
        if len(line) > LINE_CHARACTERS or "\0" in line:
            raise ColdspellError("this is not a text table", Place(file, number), "export the log as CSV")
        yield number, line.rstrip("\r\n").lstrip("\ufeff")


def _delimiter(lines: Iterable[str]) -> str:
    """The delimiter that most lines of the head hold; a semicolon or tab beats a comma (decimal commas)."""
    counts = dict.fromkeys((";", "\t", ","), 0)
    for line in lines:
        for delimiter in counts:
            counts[delimiter] += delimiter in line
    best = max(counts, key=lambda delimiter: counts[delimiter])
    return best if counts[best] else ","


def _cells(line: str, delimiter: str) -> list[str]:
    if '"' not in line:
        return [cell.strip() for cell in line.split(delimiter)]
    return [cell.strip() for cell in next(csv.reader([line], delimiter=delimiter), [])]


def _columns(rows: list[tuple[int, list[str]]], form: LogForm, file: str) -> tuple[int, _Columns]:
    """Find the heading, the first line that names a time and a temperature; and the line after it."""
    for index, (number, cells) in enumerate(rows):
        names = [cell.casefold() for cell in cells]
        time = _named(names, form.time_column) if form.time_column else _time_columns(names)
        if form.temperature_column:
            celsius, daily = _named(names, form.temperature_column), False
        else:
            celsius, daily = _temperature_columns(names)
        if time and celsius:
            place = Place(file, number)
            if len(celsius) > 1 and not daily:
                several = " and ".join(cells[i] for i in celsius)
                raise ColdspellError(f"several temperatures: {several}", place, "say --temperature-column")
            fahrenheit = _is_fahrenheit(names[celsius[0]], form, place)
            return index + 1, _Columns(time, celsius, fahrenheit, daily)
    if form.time_column or form.temperature_column:
        wanted = " and ".join(filter(None, (form.time_column, form.temperature_column)))
        raise ColdspellError(f"no heading has the column {wanted}", Place(file), "spell it as in the file")
    if rows and len(rows[0][1]) == 2 and _ISO.fullmatch(rows[0][1][0]):
        return 0, _Columns((0,), (1,), _is_fahrenheit("", form, Place(file, 1)), False)
    raise ColdspellError(
        "no heading names a time and a temperature",
        Place(file, rows[0][0] if rows else 0),
        "say --time-column and --temperature-column",
    )


def _named(names: list[str], wanted: str | None) -> tuple[int, ...]:
    key = (wanted or "").casefold().strip()
    return (names.index(key),) if key in names else ()


def _time_columns(names: list[str]) -> tuple[int, ...]:
    for word in _TIME_WORDS:
        for i, name in enumerate(names):
            if name == word or name.startswith((word + " ", word + "(", word + ",", word + "_")):
                clock = [j for j, other in enumerate(names) if other.split(" ")[0] == "time"]
                return (i, clock[0]) if word == "date" and clock else (i,)
    return ()


def _temperature_columns(names: list[str]) -> tuple[tuple[int, ...], bool]:
    spaced = [name.replace("_", " ") for name in names]
    low = [i for i, name in enumerate(spaced) if re.search(r"\b(t?min|lowest|minimum)\b", name)]
    high = [i for i, name in enumerate(spaced) if re.search(r"\b(t?max|highest|maximum)\b", name)]
    if low and high:
        return (low[0], high[0]), True
    found = [i for i, name in enumerate(names) if any(word in name for word in _TEMPERATURE_WORDS)]
    return tuple(found), False


def _is_fahrenheit(heading: str, form: LogForm, place: Place) -> bool:
    stated = None if form.unit is None else _UNITS.get(form.unit.casefold().lstrip("°"))
    if form.unit is not None and stated is None:
        raise ColdspellError(f"unknown unit {form.unit!r}", mend="use celsius or fahrenheit")
    text = heading.replace("\udcb0", "°").replace("º", "°")
    words = set(re.findall(r"[a-z]+", text))
    named = None
    if "fahrenheit" in words or "f" in words:
        named = "fahrenheit"
    elif "celsius" in words or "c" in words or "centigrade" in words:
        named = "celsius"
    if stated and named and stated != named:
        raise ColdspellError(f"the heading says {named}, the option {stated}", place, "leave the option out")
    if not (stated or named):
        raise ColdspellError("the temperature has no unit", place, "say --unit celsius or fahrenheit")
    return (stated or named) == "fahrenheit"


def _readings(cells: list[str], columns: _Columns, form: LogForm, place: Place) -> Iterator[Reading]:
    needed = max((*columns.time, *columns.celsius))
    if len(cells) <= needed:
        what = f"the line has {len(cells)} of {needed + 1} columns"
        raise ColdspellError(what, place, "mend or delete the line")
    time = _time(" ".join(cells[i] for i in columns.time), form, place)
    values = [_celsius(cells[i], columns.fahrenheit, form, place) for i in columns.celsius]
    if not columns.daily:
        yield Reading(time, values[0], place.line)
        return
    low, high = values
    if low is None or high is None:
        yield Reading(time, None, place.line)
        return
    for reading in daily_readings(time.date(), low, high, depth_mm=form.depth_mm):
        yield Reading(reading.time, reading.celsius, place.line)


def _time(text: str, form: LogForm, place: Place) -> datetime:
    try:
        if form.date_format is not None:
            return datetime.strptime(text, form.date_format)
        if _ISO.fullmatch(text):
            return datetime.fromisoformat(text)
    except ValueError as error:
        raise ColdspellError(f"{text!r} is no date: {error}", place, "mend the line") from None
    mend = "say --date-format, as '%d/%m/%Y %H:%M'"
    raise ColdspellError(f"{text!r} is not an ISO date such as 2027-01-31 06:00", place, mend)


def _celsius(text: str, fahrenheit: bool, form: LogForm, place: Place) -> float | None:
    if text.casefold() in FAULT_WORDS:
        return None
    number = text.replace(",", ".") if form.decimal_comma else text
    try:
        value = float(number)
    except ValueError:
        mend = "mend the line, or say --decimal-comma" if "," in text else "mend or empty the cell"
        raise ColdspellError(f"{text[:40]!r} is not a temperature", place, mend) from None
    if not math.isfinite(value):
        return None
    return (value - 32) / 1.8 if fahrenheit else value


def daily_readings(
    day: date, lowest_celsius: float, highest_celsius: float, *, steps: int = 24, depth_mm: float = 0.0
) -> Iterator[Reading]:
    """Readings of one day from its lowest and highest temperature: one sine wave, warmest at 15:00.

    ``T = mean + half range x sin`` (Baskerville & Emin 1969, Ecology 50:514-517; from memory). At a depth
    the wave of the day shrinks by exp(-depth / 100 mm), as it does in moist loam (textbook figure, from
    memory); the lag is left out. A logger in the soil is better than air temperatures.

    Parameters
    ----------
    day : date
        Day of the readings [calendar date].
    lowest_celsius, highest_celsius : float
        Extremes of the day [degrees Celsius].
    steps : int
        Readings made of it [count].
    depth_mm : float
        Depth of the seed in the soil [mm].

    Raises
    ------
    ColdspellError
        When the lowest temperature is above the highest.

    >>> [round(r.celsius, 1) for r in daily_readings(date(2027, 1, 1), 2, 8, steps=4)]
    [2.9, 2.9, 7.1, 7.1]
    """
    if lowest_celsius > highest_celsius:
        raise ColdspellError(
            f"{day}: the lowest temperature {lowest_celsius:g} is above the highest",
            mend="exchange the two columns, or correct the line",
        )
    mean = (lowest_celsius + highest_celsius) / 2
    half = (highest_celsius - lowest_celsius) / 2 * math.exp(-max(0.0, depth_mm) / 100)
    start = datetime(day.year, day.month, day.day)
    for i in range(steps):
        hour = 24 * i / steps
        yield Reading(start + timedelta(hours=hour), mean + half * math.cos(2 * math.pi * (hour - 15) / 24))
