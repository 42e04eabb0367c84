"""A day as people say it: in three weeks, end of March, next spring; read as one day of the calendar.

A closed list of forms, so that the same words always mean the same day; what could mean two days is refused.
"""

from __future__ import annotations

import re
from calendar import monthrange
from collections.abc import Mapping
from datetime import date, timedelta
from typing import Any, NamedTuple

from coldspell.errors import ColdspellError
from coldspell.lot.lot import Lot
from coldspell.lot.table import DATES
from coldspell.typed import near_day, read_day, read_month_day

PAST = ("collected", "sown")
"""The days of a lot that lie behind it: without a year they are the last such day, the others the next."""
_MONTHS = (
    *("january", "february", "march", "april", "may", "june"),
    *("july", "august", "september", "october", "november", "december"),
)
_SEASONS = {"spring": 3, "summer": 6, "autumn": 9, "fall": 9, "winter": 12}
"""The first month of each season in the north, as meteorologists count them."""
_NUMBERS = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
_PARTS = {
    **dict.fromkeys(("start of", "beginning of", "the start of", "the beginning of"), "start"),
    **dict.fromkeys(("early", "early in"), "early"),
    **dict.fromkeys(("mid", "middle of", "the middle of"), "middle"),
    **dict.fromkeys(("late", "late in"), "late"),
    **dict.fromkeys(("end of", "the end of"), "end"),
}
_DAY_OF = {"start": 1, "early": 5, "middle": 15, "late": 25}
_MONTH = "|".join(f"{name}|{name[:3]}" for name in _MONTHS) + "|sept"
_SEASON = "|".join(_SEASONS)
_PART = "|".join(sorted(_PARTS, key=len, reverse=True))
_COUNT = rf"(?P<count>[0-9]{{1,3}}|an?|{'|'.join(_NUMBERS)})"
_YEAR = r"(?:,? (?P<year>[0-9]{4}))?"
_TH = r"(?:st|nd|rd|th)?"
_UNIT = r"(?P<unit>day|week|fortnight|month)s?"
_WHICH = r"(?:(?P<which>next|last|this) )?"
_FORMS = {  # compiled where a day is said in words: they cost a start two milliseconds
    "word": r"(?P<word>today|now|tomorrow|yesterday)",
    "ahead": rf"in {_COUNT} {_UNIT}(?: time)?",
    "ago": rf"{_COUNT} {_UNIT} ago",
    "next": r"(?P<which>next|last) (?P<unit>week|month)",
    "day": rf"(?:the )?(?P<day>[0-9]{{1,2}}){_TH}(?: of)? (?P<month>{_MONTH}){_YEAR}",
    "month_day": rf"(?P<month>{_MONTH}) (?P<day>[0-9]{{1,2}}){_TH}{_YEAR}",
    "month": rf"(?:in )?(?:(?P<part>{_PART}) )?{_WHICH}(?P<month>{_MONTH}){_YEAR}",
    "season": rf"(?:in )?(?:(?P<part>{_PART}) )?{_WHICH}(?P<season>{_SEASON}){_YEAR}",
}
_BEFORE = r"^(?:(?:by|on|from|about|around) )?(?:the (?=[0-9]|next|last))?"
_SAY = "write 2027-04-15, or say 15 April, end of March, in three weeks, next month or spring"


class Taken(NamedTuple):
    """What was said in words, and the day that it was taken for."""

    said: str
    day: date


def days_of(facts: Mapping[str, Any], today: date) -> tuple[dict[str, Any], tuple[Taken, ...]]:
    """The facts of a lot with days in place of words for them, and what was taken for what.

    Raises
    ------
    ColdspellError
        Words mean no day, or more than one.
    """
    southern = str(facts.get("southern", Lot().southern)).casefold() in ("yes", "true")
    found, taken = dict(facts), []
    for name in DATES:
        said = facts.get(name)
        if isinstance(said, str) and not is_date(said):
            day = read_said(name, said, today, past=name in PAST, southern=southern)
            found[name] = day.isoformat()
            taken.append(Taken(" ".join(said.split())[:40], day))
    return found, tuple(taken)


def read_said(what: str, text: str, today: date, *, past: bool = False, southern: bool = False) -> date:
    """A day from ISO 8601 text or from words.

    Parameters
    ----------
    what
        Names the option or fact, for the error.
    today
        What words like "in three weeks" count from.
    past
        Without a year the last such day is meant, not the next.
    southern
        Seasons are those of the southern hemisphere.

    >>> str(read_said("--sow", "end of March", date(2026, 11, 30)))
    '2027-03-31'
    >>> str(read_said("--collected", "three weeks ago", date(2026, 11, 30), past=True))
    '2026-11-09'

    Raises
    ------
    ColdspellError
        It means no day, or more than one.
    """
    if is_date(text):
        return read_day(what, text)
    words = _words(text)
    for form, pattern in _FORMS.items():
        match = re.fullmatch(pattern, words)
        if match is not None:
            try:
                return near_day(what, _meant(form, match.groupdict(), today, past=past, southern=southern))
            except (ValueError, OverflowError):
                mend = "check day and month"
                raise ColdspellError(
                    f"{what}: there is no {text[:40]!r} in the calendar", mend=mend
                ) from None
    raise _unclear(what, text)


def read_said_of_year(what: str, text: str) -> str:
    """A day of every year, month-day (05-10), from that form or from words without a year.

    >>> read_said_of_year("--usual-frost", "15 May"), read_said_of_year("--usual-frost", "mid-May")
    ('05-15', '05-15')

    Raises
    ------
    ColdspellError
        It means no such day; ``what`` names the option or fact.
    """
    words = _words(text)
    for form in ("day", "month_day", "month"):
        match = re.fullmatch(_FORMS[form], words)
        said = match.groupdict() if match else {}
        if not match or said["year"] or said.get("which") or (form == "month" and not said["part"]):
            continue  # a bare month is no day
        try:
            return _meant(form, said, _ANY_LEAP_YEAR, past=False, southern=False).strftime("%m-%d")
        except (ValueError, StopIteration):
            mend = "check day and month"
            raise ColdspellError(f"{what}: there is no {text[:40]!r} in the calendar", mend=mend) from None
    return read_month_day(what, text)


_ANY_LEAP_YEAR = date(2000, 1, 1)


def is_date(text: str) -> bool:
    """Whether it has the form of ISO 8601, a day of the calendar or not."""
    return re.fullmatch(r"\s*[0-9]{4}-?[0-9]{2}-?[0-9]{2}\s*", text) is not None


def _words(text: str) -> str:
    """Words that say a day as the forms have them, without what may stand before them."""
    return re.sub(_BEFORE, "", " ".join(text.casefold().replace("-", " ").split()).strip(" .,"))


def _meant(form: str, said: Mapping[str, str | None], today: date, *, past: bool, southern: bool) -> date:
    if form == "word":
        ahead = {"tomorrow": 1, "yesterday": -1}
        return today + timedelta(days=ahead.get(said["word"] or "", 0))
    if form in ("ahead", "ago", "next"):
        count = _count(said["count"]) if "count" in said else 1
        back = form == "ago" or said.get("which") == "last"
        return _moved(today, -count if back else count, said["unit"] or "")
    if form in ("day", "month_day"):
        month, day = _month(said["month"]), int(said["day"] or 0)
        return _in_year(said["year"], None, month, day, today, past=past)
    whole = not said["part"] and not said["year"] and said["which"] in (None, "this")
    if form == "month":
        month = _month(said["month"])
        if whole and month == today.month:
            return today
        part = _PARTS.get(said["part"] or "", "middle")
        day = _DAY_OF.get(part, 0)
        return _in_year(said["year"], said["which"], month, day, today, past=past)
    first = (_SEASONS[said["season"] or ""] + (5 if southern else -1)) % 12 + 1
    if whole and (today.month - first) % 12 < 3:
        return today
    part = _PARTS.get(said["part"] or "", "middle")
    after, day = {"start": (0, 1), "early": (0, 15), "middle": (1, 15), "late": (2, 15), "end": (2, 0)}[part]
    month = (first - 1 + after) % 12 + 1
    return _in_year(said["year"], said["which"], month, day, today, past=past)


def _in_year(year: str | None, which: str | None, month: int, day: int, today: date, *, past: bool) -> date:
    """The day of a month (0: its last) in a year; without one the next, or the last, such day."""
    if year is not None:
        return _day(int(year), month, day)
    back = past if which in (None, "this") else which == "last"
    years = (today.year, today.year - 1) if back else (today.year, today.year + 1)
    near = [_day(each, month, day) for each in years]
    if which in ("next", "last") and (near[0].year, near[0].month) == (today.year, today.month):
        return near[1]
    return next(one for one in near if (one <= today if back else one >= today))


def _day(year: int, month: int, day: int) -> date:
    return date(year, month, day or monthrange(year, month)[1])


def _moved(today: date, count: int, unit: str) -> date:
    if unit == "month":
        months = today.year * 12 + today.month - 1 + count
        year, month = divmod(months, 12)
        return date(year, month + 1, min(today.day, monthrange(year, month + 1)[1]))
    return today + timedelta(days=count * {"day": 1, "week": 7, "fortnight": 14}[unit])


def _count(word: str | None) -> int:
    word = word or ""
    return int(word) if word.isdecimal() else _NUMBERS.index(word) + 1 if word in _NUMBERS else 1


def _month(word: str | None) -> int:
    return next(n for n, name in enumerate(_MONTHS, 1) if name.startswith((word or "")[:3]))


def _unclear(what: str, text: str) -> ColdspellError:
    numbers = re.fullmatch(r"\s*([0-9]{1,2})[./-]([0-9]{1,2})[./-]([0-9]{4})\s*", text)
    if numbers is None:
        return ColdspellError(f"{what} is not a date: {text[:40]!r}", mend=_SAY)
    a, b, year = map(int, numbers.groups())
    iso = dict.fromkeys(f"{year}-{m:02}-{d:02}" for m, d in ((b, a), (a, b)) if 1 <= m <= 12 and 1 <= d <= 31)
    if len(iso) == 2:
        return ColdspellError(f"{what} may be two days: {text[:40]!r}", mend=f"write {' or '.join(iso)}")
    return ColdspellError(
        f"{what} is not a date: {text[:40]!r}", mend=f"write {' '.join(iso) or '2027-04-15'}"
    )
