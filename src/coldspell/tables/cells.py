"""One cell as a fact of a lot: what spreadsheets make of numbers, dates and words, and what is refused."""

from __future__ import annotations

import re
import unicodedata
from datetime import date, datetime
from typing import Any

from coldspell.errors import ColdspellError
from coldspell.lot.lot import Share
from coldspell.lot.table import LotFact
from coldspell.tables.rows import TableForm

MOST_TEXT = 2000
_MIDNIGHT = re.compile(r"(\d{4}-\d{2}-\d{2})[ T]00:00(:00(\.0+)?)?")
_ISO = re.compile(r"\d{4}-\d{2}-\d{2}")
_MARKED = re.compile(r"(\d{1,2})([./ -])(\d{1,2})\2(\d{4}|\d{2})")
_THOUSANDS = re.compile(r"[+-]?[1-9]\d{0,2}([.,]\d{3})+")
_TRUTH = {"true": True, "false": False}
_BIDI = {*map(chr, range(0x202A, 0x202F)), *map(chr, range(0x2066, 0x206A)), "\u200e", "\u200f"}


def as_said(fact: LotFact, cell: Any, form: TableForm) -> Any:
    """A cell as a lot file would say it; the table of lot facts checks it afterwards.

    Raises
    ------
    ColdspellError
        The cell can be read in two ways, or a spreadsheet has made something else of it.
    """
    if isinstance(cell, datetime):
        cell = cell.date()
    if isinstance(cell, date):
        return _day(fact, cell)
    if fact.kind is date:
        return _dated(fact, cell, form)
    if isinstance(cell, str):
        if fact.number:
            return _number(fact, cell, form)
        if fact.many:
            return [word for word in re.split(r"[\s,;+/]+", cell.strip()) if word]
        return _TRUTH.get(cell.casefold(), cell)
    if isinstance(cell, dict):
        raise ColdspellError(f"{fact.name} is a map", mend="write one value")
    return cell


def plain_text(what: str, cell: Any) -> str:
    """A name, a number of a lot or a note: one line, without characters that do not print.

    Raises
    ------
    ColdspellError
        It has such characters, or is far too long.
    """
    text = str(int(cell)) if isinstance(cell, float) and cell.is_integer() else str(cell)
    text = " ".join(text.split())
    if len(text) > MOST_TEXT:
        raise ColdspellError(f"{what} is {len(text)} characters long", mend=f"at most {MOST_TEXT}")
    if not text.isprintable():
        odd = next((c for c in text if c in _BIDI or unicodedata.category(c) in ("Cc", "Cs")), None)
        if odd is not None:
            raise ColdspellError(
                f"{what} has a character that does not print, U+{ord(odd):04X}", mend="type it anew"
            )
    return text


def _day(fact: LotFact, day: date) -> date:
    if fact.kind is date:
        return day
    if fact.kind is Share:
        raise ColdspellError(
            f"the spreadsheet has made a date of {fact.name}: {day}",
            mend=f"format the column as text, then type it again, as {fact.about.example}",
        )
    raise ColdspellError(f"{fact.name} is a date: {day}", mend="format the column as a number or text")


def _dated(fact: LotFact, cell: Any, form: TableForm) -> Any:
    """A day: ISO 8601, also where another form is stated, for it reads in one way; a midnight is left out."""
    if isinstance(cell, int | float):
        raise ColdspellError(
            f"{fact.name} is the number {cell}, not a date", mend="format the column as dates"
        )
    text = str(cell).strip()
    found = _MIDNIGHT.fullmatch(text)
    if found is not None or _ISO.fullmatch(text):
        return found[1] if found is not None else text
    if form.date_format is None:
        raise ColdspellError(
            f"{fact.name} is not a date as 2027-04-15: {text[:40]!r}",
            mend=f'write year-month-day, or say how it is written: --date-format "{_likely_form(text)}"',
        )
    try:
        return datetime.strptime(text, form.date_format).date()
    except ValueError:
        raise ColdspellError(
            f"{fact.name} is not a date in the form {form.date_format}: {text[:40]!r}",
            mend="mend the cell, or state another form: --date-format",
        ) from None


def _likely_form(text: str) -> str:
    """A form to state, with the marks of the cell; of two small numbers nobody knows which is the day."""
    found = _MARKED.fullmatch(text)
    if found is None:
        return "%d/%m/%Y"
    one, two, mark = int(found[1]), int(found[3]), found[2]
    day, month = ("%m", "%d") if one <= 12 < two else ("%d", "%m")
    return f"{day}{mark}{month}{mark}{'%y' if len(found[4]) == 2 else '%Y'}"


def _number(fact: LotFact, text: str, form: TableForm) -> str:
    """Digits with a point. What may be thousands or decimals is not guessed."""
    text = text.strip().replace("\u00a0", " ")
    stated = form.decimal_comma
    if fact.whole and _THOUSANDS.fullmatch(text):
        plain = text.replace(",", "").replace(".", "")
        raise ColdspellError(
            f"{fact.name} can be {plain} or a fraction: {text!r}", mend=f"write it without a mark: {plain}"
        )
    if "," not in text:
        if stated and "." in text:
            what = f"{fact.name} has a point: {text[:40]!r}"
            raise ColdspellError(what, mend="write a comma for decimals, as in the other rows")
        return text
    if not stated and _THOUSANDS.fullmatch(text):
        raise ColdspellError(
            f"{fact.name} can be a thousand times more or less: {text[:40]!r}",
            mend="write it with a point for decimals, or say --decimal-comma",
        )
    return text.replace(",", ".") if re.fullmatch(r"[+-]?\d+,\d+", text) else text
