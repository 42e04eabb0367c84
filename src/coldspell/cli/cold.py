"""``coldspell cold LOG.csv``: cold received, from a temperature log."""

from __future__ import annotations

import codecs
import io
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from typing import Annotated, Any, TextIO

import typer

from coldspell.arithmetic.cold import ColdReceived, Spell, after_warm_spell, cold_received
from coldspell.arithmetic.logs import LINE_CHARACTERS, LogForm, read_log
from coldspell.arithmetic.readings import LogLimits, Reading
from coldspell.arithmetic.responses import RESPONSES, response
from coldspell.cli import output
from coldspell.cli.output import Form
from coldspell.cli.practice import shipped_practice
from coldspell.errors import ColdspellError, Place
from coldspell.typed import read_moment

_ADVICE = {
    "nothing": "too short and too cool to matter",
    "make_up": "add the time that did not count at the end",
    "look": "look now for sprouts and mould, cool again, add the lost time",
    "warn": "look now; so late, warmth can bring dormancy back: add the lost time and try a few seeds first",
}


def command(
    log: Annotated[str, typer.Argument(help="CSV of times and temperatures; - reads standard input")],
    want: Annotated[float | None, typer.Option(help="days of cold wanted")] = None,
    response_name: Annotated[
        str, typer.Option("--response", help=f"what counts as cold: {', '.join(RESPONSES)}")
    ] = "usual",
    unit: Annotated[
        str | None, typer.Option(help="celsius or fahrenheit, if the heading does not say")
    ] = None,
    date_format: Annotated[str | None, typer.Option(help="if not ISO, as '%d/%m/%Y %H:%M'")] = None,
    time_column: Annotated[str | None, typer.Option(help="heading of the times")] = None,
    temperature_column: Annotated[str | None, typer.Option(help="heading of the temperatures")] = None,
    delimiter: Annotated[str | None, typer.Option(help="if it is not plain from the file")] = None,
    decimal_comma: Annotated[bool, typer.Option("--decimal-comma", help="4,5 means four and a half")] = False,
    gap_hours: Annotated[float | None, typer.Option(help="longest break to bridge")] = None,
    since: Annotated[str | None, typer.Option(help="count from here: moist and swollen from then on")] = None,
    depth_mm: Annotated[float, typer.Option(help="for daily air temperatures: depth of the seed")] = 0.0,
    form: Annotated[Form, typer.Option("--format", help="text or json")] = Form.text,
) -> None:
    """Days of cold that moist seed has received, from a logger or from daily lowest and highest."""
    if delimiter is not None and len(delimiter) != 1:
        raise ColdspellError("a delimiter is one character", mend="as --delimiter ';'")
    if want is not None and not 0 < want < 10_000:
        raise ColdspellError(
            f"--want {want:g} days cannot be", mend="give the days of cold the recipe asks for"
        )
    stated = LogForm(date_format, unit, time_column, temperature_column, delimiter, decimal_comma, depth_mm)
    chosen = response(response_name)
    start = None if since is None else read_moment("--since", since)
    limits = _limits()
    with _opened(log) as lines:
        readings = _since(read_log(_limited(lines), log, stated), start, log)
        found = cold_received(
            readings, chosen, limits=limits, wanted_days=want, gap_hours=gap_hours, file=log
        )
    values: dict[str, Any] = {"log": log, "cold": found, "days_short": found.days_short}
    values["response"] = {
        "name": chosen.name,
        "says": chosen.says,
        "source": chosen.source,
        "basis": chosen.basis,
    }
    output.answer(form, "cold", values, _rows(found, limits), _notes(found, chosen.says, chosen.source))


@contextmanager
def _opened(log: str) -> Iterator[TextIO]:
    """The log as text, read once, as pipes want: UTF-8, or UTF-16 by its mark; other bytes pass through."""
    try:
        with _bytes(log) as raw:
            mark = raw.peek(2)[:2]
            encoding = "utf-16" if mark in (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE) else "utf-8"
            yield io.TextIOWrapper(raw, encoding, errors="surrogateescape", newline=None)
    except OSError as error:
        raise ColdspellError(
            f"cannot be read: {error.strerror or error}",
            Place(log),
            mend="check the path and who may read it",
        ) from None
    except UnicodeError:
        raise ColdspellError("this is not a text table", Place(log), "export the log as CSV") from None


def _bytes(log: str) -> io.BufferedReader:
    if log != "-":
        return Path(log).open("rb")
    stream = output.standard_input().buffer
    return stream if isinstance(stream, io.BufferedReader) else io.BufferedReader(stream)  # type: ignore[arg-type]


def _limited(lines: TextIO) -> Iterator[str]:
    """Lines, none read further than the longest allowed: a file without line ends must not fill memory."""
    while line := lines.readline(LINE_CHARACTERS + 1):
        yield line


def _since(readings: Iterator[Reading], start: datetime | None, log: str) -> Iterator[Reading]:
    for reading in readings:
        if start is None:
            yield reading
            continue
        if (reading.time.tzinfo is None) != (start.tzinfo is None):
            raise ColdspellError(
                "--since and the log must both have an offset from UTC, or neither",
                Place(log, reading.line),
                mend="write both alike, as 2027-01-15T08:00 or 2027-01-15T08:00+01:00",
            )
        if reading.time >= start:
            yield reading


def _days(value: float) -> str:
    return f"{value:.1f} days"


def _breaks(count: int) -> str:
    return "1 break" if count == 1 else f"{count} breaks"


def _when(moment: datetime) -> str:
    return f"{moment:%Y-%m-%d %H:%M}"


def _rows(found: ColdReceived, limits: LogLimits) -> list[output.Row]:
    rows = [("cold counted", _days(found.counted_days))]
    if found.wanted_days is not None:
        wanted = f"{found.wanted_days:g} days wanted"
        reached = f"{wanted}: reached {_when(found.reached)}" if found.reached else None
        rows.append(("enough?", reached or f"{wanted}: {_days(found.days_short)} still to come"))
    rows.append(("log", f"{_when(found.first)} to {_when(found.last)}, {found.readings} readings"))
    mean = f", mean {found.mean_celsius:.1f}" if found.logged_hours else ""
    rows.append(("temperature", f"{found.lowest_celsius:.1f} to {found.highest_celsius:.1f} °C{mean}"))
    if found.frozen_hours:
        rows.append(("frozen", f"{_days(found.frozen_hours / 24)}: paused, not lost"))
    if found.warm_hours:
        rows.append((f"over {limits.warm_above_celsius:g} °C", _days(found.warm_hours / 24)))
    if found.gaps:
        rows.append(("missing", f"{_days(found.missing_hours / 24)} in {_breaks(found.gaps)}: not counted"))
        if not found.logged_hours:
            rows.append(("counted?", "nothing: where readings are that rare on purpose, say --gap-hours"))
    for spell in found.spells:
        rows.append((f"{spell.kind} spell", _spell_text(spell, found.wanted_days, limits)))
    return rows


def _limits() -> LogLimits:
    practice = shipped_practice()
    spike, agree = practice.log_spike_degrees
    return LogLimits(
        practice.no_cold_celsius,
        practice.log_hot_celsius,
        practice.log_short_hours,
        24 * practice.log_stuck_days,
        spike,
        agree,
    )


def _spell_text(spell: Spell, wanted_days: float | None, limits: LogLimits) -> str:
    text = f"{_when(spell.start)} to {_when(spell.end)}, {spell.extreme_celsius:.1f} °C"
    if spell.kind == "frozen":
        return (
            f"{text}: moist acorns and chestnuts may be dead below -3 °C: cut some"
            if (spell.extreme_celsius < -3)
            else text
        )
    return f"{text}: {_ADVICE[after_warm_spell(spell, wanted_days, limits)]}"


def _notes(found: ColdReceived, says: str, source: str) -> list[str]:
    faults = [
        (found.faults, "failed readings left out"),
        (found.spikes, "single jumps left out"),
        (found.duplicates, "doubled lines left out"),
        (found.conflicting, "second readings of the same time left out"),
        (found.clock_set_back, "times the clock was set back an hour: evened out"),
    ]
    notes = []
    told = [f"{count} {what}" for count, what in faults if count]
    if found.stuck_hours:
        told.append(f"the sensor stood still for {found.stuck_hours / 24:.0f} days: check it")
    if found.spell_count > len(found.spells):
        told.append(f"the {len(found.spells)} longest of {found.spell_count} spells are shown")
    if told:
        notes.append("; ".join(told).capitalize() + ".")
    notes.append(
        f"Counted {says} ({source}). Only moist, swollen seed receives cold; orchard chill hours are "
        "not seed days."
    )
    return notes
