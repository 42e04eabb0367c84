"""Read what people type, and refuse it kindly: a day, so many of so many, a percentage, millimetres."""

from __future__ import annotations

import math
import re
from datetime import date, datetime

from coldspell.errors import ColdspellError, Place


def read_day(what: str, text: str, place: Place | None = None) -> date:
    """A day of the calendar from ISO 8601 text (2027-04-15 or 20270415).

    Raises
    ------
    ColdspellError
        When it is not a date, or not in the calendar, or far off; ``what`` names the option or fact.
    """
    text = text.strip()
    form = "".join("0" if one in "0123456789" else one for one in text[:11])
    if form not in ("0000-00-00", "00000000"):
        mend = "write year-month-day, for example 2027-04-15"
        raise ColdspellError(f"{what} is not a date: {text[:40]!r}", place, mend)
    try:
        return near_day(what, date.fromisoformat(text), place)
    except ValueError:
        what = f"{what} is no date: there is no {text} in the calendar"
        raise ColdspellError(what, place, "check month and day") from None


def read_span(what: str, text: str) -> tuple[date, date]:
    """Two days as FROM..TO, both included.

    >>> read_span("--closed", "2026-12-19..2027-01-04")
    (datetime.date(2026, 12, 19), datetime.date(2027, 1, 4))

    Raises
    ------
    ColdspellError
        It is not two days, or the second comes before the first.
    """
    first, dots, last = text.partition("..")
    if not dots:
        raise ColdspellError(f"{what} {text[:60]!r} is not like FROM..TO", mend="as 2026-12-19..2027-01-04")
    one, two = read_day(what, first), read_day(what, last)
    if two < one:
        raise ColdspellError(f"{what} ends before it begins: {text}", mend="the first day comes first")
    return one, two


def read_month_day(what: str, text: str) -> str:
    """A day of every year from its month and day (05-10).

    Raises
    ------
    ColdspellError
        When it is no such day; ``what`` names the option or fact.
    """
    text = text.strip()
    try:
        date.fromisoformat(f"2000-{text}")
    except ValueError:
        mend = "write month-day, for example 05-10, or say 10 May"
        raise ColdspellError(f"{what} is no month and day: {text[:40]!r}", mend=mend) from None
    return f"2000-{text}"[5:10]


YEARS = range(1950, 2201)
"""Years that a day may lie in; beyond them it is a slip of the hand."""


def near_day(what: str, day: date, place: Place | None = None) -> date:
    """A day, refused where its year is so far off that it must be mistyped."""
    if day.year not in YEARS:
        mend = f"write a year from {YEARS[0]} to {YEARS[-1]}, as in 2027-04-15"
        raise ColdspellError(f"{what}: the year {day.year} is far off", place, mend)
    return day


def as_day(what: str, day: object) -> date:
    """A day as programs give it: a date, a moment (its day), or ISO 8601 text.

    Raises
    ------
    ColdspellError
        It is none of them, or far off.
    """
    if isinstance(day, str):
        return read_day(what, day)
    if isinstance(day, datetime):
        return near_day(what, day.date())
    if isinstance(day, date):
        return near_day(what, day)
    raise ColdspellError(
        f"{what} is not a date: {str(day)[:40]!r}", mend="give a date, or text as 2027-04-15"
    )


_MOST_YEARS_AHEAD = 20
"""No lot is sown or gathered so long after today; such a year is a slip of the hand, too."""


def refuse_far_ahead(what: str, day: date, today: date) -> None:
    """Refuse a day so long after today that it must be mistyped.

    Raises
    ------
    ColdspellError
        It is; ``what`` names the option or fact.
    """
    ahead = day.year - today.year
    if ahead > _MOST_YEARS_AHEAD:
        mend = f"write a day within {_MOST_YEARS_AHEAD} years, as in {today.year + 1}-04-15"
        raise ColdspellError(f"{what}: {day} is {ahead} years after today, {today}", mend=mend)


def read_text(what: str, text: str, place: Place | None = None) -> str:
    """A text as typed, refused where its bytes are no text in the character set of the terminal or file."""
    if not isinstance(text, str):
        raise ColdspellError(f"{what} is not a text: {str(text)[:40]!r}", place, "write words")
    if any("\ud800" <= character <= "\udfff" for character in text):
        mend = "type it again, or save the file as UTF-8"
        raise ColdspellError(f"{what} holds bytes that are no text: {text[:40]!a}", place, mend)
    return text


def read_moment(what: str, text: str) -> datetime:
    """A day, or a day with a time, from ISO 8601 text (2027-04-15T08:00)."""
    try:
        return datetime.fromisoformat(text)
    except ValueError:
        mend = "write year-month-day, for example 2027-04-15, or 2027-04-15T08:00"
        raise ColdspellError(f"{what} is not a date: {text[:40]!r}", mend=mend) from None


def read_share(what: str, text: str) -> tuple[int, int]:
    """How many of how many, from text (``8/10``).

    Raises
    ------
    ColdspellError
        When it is no such pair.
    """
    found = re.fullmatch(r"\s*([0-9]{1,9})\s*/\s*([0-9]{1,9})\s*", text)
    if found is None:
        raise ColdspellError(f"{what}: {text[:40]!r} is not like 8/10", mend="write how many of how many")
    return int(found[1]), int(found[2])


def read_percent(what: str, text: str) -> tuple[float, float]:
    """Shares from 0 to 1 from a percentage (``80`` or ``70-90``)."""
    parts = text.replace("–", "-").replace("%", "").split("-")
    if "%" not in text and re.fullmatch(r"\s*0?\.[0-9]+\s*", text) and float(text) > 0:
        percent = f"{100 * float(text):g}"
        mend = f"write {percent} if {percent} in a hundred are meant, else {text.strip()}%"
        raise ColdspellError(f"{what} is {text.strip()}: a share, or percent?", mend=mend)
    try:
        numbers = [float(part) / 100 for part in parts]
    except ValueError:
        numbers = []
    if len(numbers) not in (1, 2) or not all(0 <= n <= 1 for n in numbers) or numbers[0] > numbers[-1]:
        raise ColdspellError(
            f"{what}: {text[:40]!r} is no percentage", mend="give 80 or 70-90, from 0 to 100"
        )
    return numbers[0], numbers[-1]


def read_millimetres(what: str, text: str, sides: int) -> tuple[float, ...]:
    """Sides in millimetres from text (``200x150x100``); an x, × or * between them.

    Raises
    ------
    ColdspellError
        When it has another number of sides, or one that is not over nothing.
    """
    try:
        found = tuple(float(part) for part in re.split(r"[x×X*]", text))
    except ValueError:
        found = ()
    if len(found) != sides or not all(math.isfinite(side) and side > 0 for side in found):
        form, example = "x".join(["MM"] * sides), "x".join(["200", "150", "100"][:sides])
        raise ColdspellError(f"{what}: {text[:40]!r} is not like {form}", mend=f"millimetres, as {example}")
    return found
