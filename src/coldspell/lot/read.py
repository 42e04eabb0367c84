"""Read what was said of a lot: as typed, or from a lot file; every default is marked."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from datetime import date
from functools import lru_cache
from typing import Any

from coldspell.errors import ColdspellError
from coldspell.lot.lot import Lot, Millimetres, MonthDay, Share
from coldspell.lot.table import FACTS, MARKED, LotFact
from coldspell.typed import (
    near_day,
    read_day,
    read_millimetres,
    read_share,
    read_text,
    refuse_far_ahead,
)


def make_lot(said: Mapping[str, Any]) -> Lot:
    """Check what was said of a lot and fill in the defaults.

    Parameters
    ----------
    said
        Values under the names of options and lot files (``float``, ``container``, ``bag``, ``medium``); the
        values may be text as typed, or numbers, lists and dates as a lot file gives them.

    Raises
    ------
    ColdspellError
        For an unknown name, a value outside its limits or choices, or two answers that cannot both hold.
    """
    values: dict[str, Any] = {}
    for key, value in said.items():
        if value is not None:
            checked = _typed_fact if type(value) is str else check_fact
            values[_fact(key).field] = checked(key, value)
    _agree(values)
    if "kilograms" in values and "seeds" not in values:
        values["seeds"] = 1  # set from the record's seeds per kilogram when the recipe is made
    assumed = tuple(sorted(fact.name for fact in MARKED if fact.field not in values))
    return Lot(**values, assumed=assumed)


def check_fact(key: str, value: Any) -> Any:
    """One fact of a lot under its file name, read and checked.

    Raises
    ------
    ColdspellError
        No lot has such a fact, or the value is outside its limits or choices.
    """
    fact = _fact(key)
    if fact.many:
        names = list(value) if isinstance(value, list | tuple) else [value]
        return tuple(dict.fromkeys(_choice(key, name, fact.words) for name in names))
    if fact.words:
        return _choice(key, value, fact.words)
    if fact.number:
        return _number(fact, value)
    if fact.kind is bool:
        return _truth(key, value)
    if fact.kind is date:
        return near_day(key, value) if isinstance(value, date) else read_day(key, str(value))
    if fact.kind is MonthDay:
        from coldspell.lot.days import read_said_of_year  # as for other days, few lots need it

        return MonthDay(read_said_of_year(key, str(value)))
    if fact.kind is Share:
        return _share(key, value)
    if fact.kind is Millimetres:
        return _millimetres(key, value, fact.about.example)
    if not isinstance(value, str):
        raise ColdspellError(f"{key} is not a text: {str(value)[:40]!r}", mend=f"write words, as {key}: text")
    return read_text(key, value[:200])


@lru_cache(maxsize=4096)
def _typed_fact(key: str, text: str) -> Any:
    """`check_fact` of text: in a table many lots say the same."""
    return check_fact(key, text)


def _fact(key: str) -> LotFact:
    if key not in FACTS:
        from coldspell.near import did_you_mean  # only wanted when something is wrong

        raise ColdspellError(f"unknown fact of a lot: {key[:60]}", mend=did_you_mean(key, FACTS))
    return FACTS[key]


LAST_FROST_MONTH = 7
"""The last month (northern) in which a last frost of spring can lie."""
EITHER = (
    ("seeds", "kilograms"),
    ("sow", "last_frost"),
    ("sow", "sown"),
    ("sown", "last_frost"),
    ("container", "bag"),
)
"""Pairs of facts of which only one can be given."""


def _agree(values: Mapping[str, Any]) -> None:
    """Refuse pairs of answers that cannot both hold."""
    for one, other in EITHER:
        if FACTS[one].field in values and FACTS[other].field in values:
            mend = "leave one of them out"
            if "sown" in (one, other):  # it waits for no day
                mend = f"it is sown already: leave {other if one == 'sown' else one} out"
            raise ColdspellError(f"give {one} or {other}, not both", mend=mend)
    sow, collected = values.get("sow"), values.get("collected")
    if sow and collected and sow < collected:
        raise ColdspellError(
            f"the sowing date {sow} lies before the day the seed was collected, {collected}",
            mend="check both dates, in the form 2027-04-15",
        )
    sown = values.get("sown")
    if sown and collected and sown < collected:
        raise ColdspellError(
            f"it was sown on {sown}, before the day it was collected, {collected}",
            mend="check both dates, in the form 2027-04-15",
        )
    if values.get("rooted", 0) > values.get("seeds", math.inf):
        raise ColdspellError("more seeds are rooted than there are", mend="check --rooted and --seeds")
    frost = values.get("usual_frost")
    if frost and (int(frost[:2]) + (5 if values.get("southern") else -1)) % 12 >= LAST_FROST_MONTH:
        raise ColdspellError(
            f"the usual last frost, {frost}, is no day of spring there",
            mend="give the last frost of spring, as month and day; for the southern hemisphere say so",
        )
    if values.get("refrigerator") == "none" and "fridge_celsius" in values:
        raise ColdspellError("a temperature was given for no refrigerator", mend="leave one of them out")


AFTER_GATHERING = {
    "stored_years": "stored",
    "days_dry": "dried",
    "rooted": "rooted",
    "cold_days_done": "chilled",
    "warm_days_done": "kept warm",
    "sown": "sown",
    "cut": "cut",
    "float": "floated",
}
"""What cannot be said of seed that is still to be gathered, by the name of its fact."""


_DAYS = tuple((name, fact.field) for name, fact in FACTS.items() if fact.kind is date)
_MOST_DAYS_TO_GATHER = 183
"""Half a year: seed of the next harvest is asked about in its season, beyond it the year is mistyped."""


def _years_before(day: date, today: date) -> date:
    """The last such day of a year that is not after today."""
    year = today.year if (day.month, day.day) <= (today.month, today.day) else today.year - 1
    return day.replace(year=year, day=min(day.day, 28) if (day.month, day.day) == (2, 29) else day.day)


def refuse_by_today(lot: Lot, today: date) -> None:
    """Refuse a lot that cannot be as it is said, seen from ``today``.

    Raises
    ------
    ColdspellError
        A day lies too far ahead; or it was sown after ``today``; or it is gathered after ``today``, and
        something was said that comes after gathering.
    """
    for name, field in _DAYS:
        day = getattr(lot, field)
        if day is not None:
            refuse_far_ahead(name, day, today)
    if lot.sown is not None and lot.sown > today:
        meant = _years_before(lot.sown, today)
        raise ColdspellError(
            f"sown is {lot.sown}, after today, {today}: what is sown already was sown before",
            mend=f"write {meant} if it was sown then, or sow {lot.sown} for a day to come",
        )
    if lot.collected is None or lot.collected <= today:
        return
    if (lot.collected - today).days > _MOST_DAYS_TO_GATHER:
        meant = _years_before(lot.collected, today)
        raise ColdspellError(
            f"collected is {lot.collected}, {(lot.collected - today).days} days after today: "
            "is the year right?",
            mend=f"write {meant} if it was gathered then; what is still to be gathered is planned at most "
            f"{_MOST_DAYS_TO_GATHER} days ahead",
        )
    for name, word in AFTER_GATHERING.items():
        if getattr(lot, FACTS[name].field):
            raise ColdspellError(
                f"it is gathered on {lot.collected}, after today, {today}, and was {word} already",
                mend=f"check collected and {name}, or leave one of them out",
            )


def _choice(key: str, value: Any, allowed: tuple[str, ...]) -> str:
    if isinstance(value, bool):
        value = "yes" if value else "no"
    text = str(value).strip().lower().replace(" ", "_").replace("-", "_")
    if text not in allowed:
        raise ColdspellError(f"{key} cannot be {value!r}", mend=f"one of: {', '.join(allowed)}")
    return text


def _truth(key: str, value: Any) -> bool:
    if isinstance(value, bool):
        return value
    if str(value).lower() in ("yes", "true", "no", "false"):
        return str(value).lower() in ("yes", "true")
    raise ColdspellError(f"{key} cannot be {value!r}", mend="say yes or no")


def _number(fact: LotFact, value: Any) -> float:
    key, about = fact.name, fact.about
    if about.unit == "°C":
        value = _degrees(key, value)
    if isinstance(value, bool) or (isinstance(value, str) and len(value) > 40):
        raise ColdspellError(f"{key} is not a number", mend="write it in digits, with a point for decimals")
    if isinstance(value, str):
        _refuse_thousands(fact, value.strip())
    try:
        number = float(value)
    except (TypeError, ValueError, OverflowError):
        raise ColdspellError(
            f"{key} is not a number: {str(value)[:40]!r}",
            mend="write it in digits, with a point for decimals",
        ) from None
    if not about.low <= number <= about.high:  # NaN fails too
        raise ColdspellError(
            f"{key} is {value}, outside {as_limit(about.low)} to {as_limit(about.high)} {about.unit}",
            mend="check the number",
        )
    if fact.whole and number != int(number):
        raise ColdspellError(f"{key} must be a whole number, not {value}", mend="count whole seeds")
    return int(number) if fact.whole else number


def as_limit(number: float) -> str:
    """A limit as people write it.

    >>> as_limit(1e9), as_limit(1e-6), as_limit(-40.0)
    ('1,000,000,000', '0.000001', '-40')
    """
    return f"{number:,.0f}" if number == int(number) else f"{number:.6f}".rstrip("0")


_THOUSANDS = r"[+-]?[1-9]\d{0,2}([.,]\d{3})+"


def _refuse_thousands(fact: LotFact, text: str) -> None:
    """Refuse 1.000 of what is counted, and 1,000 of anything: one, or a thousand?

    Raises
    ------
    ColdspellError
        The number can be read in two ways; the mend is the likelier one without its mark.
    """
    if not re.fullmatch(_THOUSANDS, text):
        return
    plain = text.replace(",", "").replace(".", "")
    if fact.whole:
        mend = f"write it without a mark: {plain}"
        raise ColdspellError(f"{fact.name} can be {plain} or a fraction: {text[:40]!r}", mend=mend)
    if "," in text:
        mend = f"write {plain}, or {text.replace(',', '.')} with a point for decimals"
        raise ColdspellError(f"{fact.name} can be a thousand times more or less: {text[:40]!r}", mend=mend)


_HOTTER = 32.0
"""No seed lies hotter than this in a bag; as degrees Fahrenheit it is freezing."""


def _degrees(key: str, value: Any) -> Any:
    """Degrees Celsius, or Fahrenheit with an F behind them; what looks like Fahrenheit is asked about.

    Raises
    ------
    ColdspellError
        The number has no letter and would be hot as Celsius and cool as Fahrenheit.
    """
    found = re.fullmatch(r"\s*([+-]?[0-9]+(?:\.[0-9]+)?)\s*(?:°|º)?\s*([CcFf])?\s*", str(value))
    if found is None or isinstance(value, bool):
        return value
    number, letter = float(found[1]), (found[2] or "").upper()
    celsius = (number - 32) / 1.8
    if letter == "F":
        return round(celsius, 1)
    if not letter and number > _HOTTER:
        raise ColdspellError(
            f"{key} is {found[1]}: Celsius or Fahrenheit?",
            mend=f"{found[1]} °F is {celsius:.1f} °C: write {found[1]}F, or {found[1]}C if it is Celsius",
        )
    return number


def _share(key: str, value: Any) -> Share:
    """How many of how many; not more than were tried."""
    some, tried = read_share(key, _joined("/", value))
    if tried < 1 or some > tried:
        mend = "write how many of how many, for example 8/10"
        raise ColdspellError(f"{key} cannot be {some} of {tried}", mend=mend)
    return some, tried


def _millimetres(key: str, value: Any, example: str) -> Millimetres:
    """The sides of a box or bag, each from 10 to 5000 mm."""
    found = read_millimetres(key, _joined("x", value), 1 + example.count("x"))
    if not all(10 <= side <= 5000 for side in found):
        mend = f"millimetres from 10 to 5000, for example {example}"
        raise ColdspellError(f"{key} cannot be {value!r}", mend=mend)
    return found


def _joined(mark: str, value: Any) -> str:
    """The text of a pair or of sides; a lot file may also give a list."""
    return mark.join(str(part) for part in value) if isinstance(value, list | tuple) else str(value)
