"""Read what was said of a lot: as typed, or from a lot file; every default is marked."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping
from datetime import date
from typing import Any

from coldspell.errors import ColdspellError
from coldspell.lot.lot import Lot, Millimetres, Share
from coldspell.lot.table import FACTS, MARKED, LotFact


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
            values[_fact(key).field] = check_fact(key, value)
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
        names = [value] if isinstance(value, str) else list(value)
        return tuple(dict.fromkeys(_choice(key, name, fact.words) for name in names))
    if fact.words:
        return _choice(key, value, fact.words)
    if fact.number:
        return _number(fact, value)
    if fact.kind is bool:
        return _truth(key, value)
    if fact.kind is date:
        return read_date(key, value)
    if fact.kind is Share:
        return read_share(key, value, fact.about.example)
    if fact.kind is Millimetres:
        return read_millimetres(key, value, 1 + fact.about.example.count("x"), fact.about.example)
    return str(value)[:200]


def nearest(word: str, allowed: Iterable[str]) -> str:
    """The allowed word most like a mistyped one; all of them, when none is near."""
    from difflib import get_close_matches  # only wanted when something is wrong

    words = sorted(allowed)
    near = get_close_matches(word, words, n=1, cutoff=0.6)
    return near[0] if near else ", ".join(words)


def _fact(key: str) -> LotFact:
    if key not in FACTS:
        raise ColdspellError(
            f"unknown fact of a lot: {key[:60]}", mend=f"did you mean {nearest(key, FACTS)}?"
        )
    return FACTS[key]


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
            raise ColdspellError(f"give {one} or {other}, not both", mend="leave one of them out")
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
    if values.get("refrigerator") == "none" and "fridge_celsius" in values:
        raise ColdspellError("a temperature was given for no refrigerator", mend="leave one of them out")


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


def read_date(key: str, value: Any) -> date:
    """A day of the calendar from ISO 8601 text (2027-04-15).

    Raises
    ------
    ColdspellError
        When it is not a date, or not in the calendar.
    """
    if isinstance(value, date):
        return value
    text = str(value).strip()
    if not re.fullmatch(r"\d{4}-\d{2}-\d{2}", text):
        raise ColdspellError(
            f"{key} is not a date: {text!r}", mend="write year-month-day, for example 2027-04-15"
        )
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise ColdspellError(
            f"{key}: there is no {text} in the calendar", mend="check month and day"
        ) from None


def _number(fact: LotFact, value: Any) -> float:
    key, about = fact.name, fact.about
    if isinstance(value, bool) or (isinstance(value, str) and len(value) > 40):
        raise ColdspellError(f"{key} is not a number", mend="write it in digits, with a point for decimals")
    try:
        number = float(value)
    except (TypeError, ValueError, OverflowError):
        raise ColdspellError(
            f"{key} is not a number: {str(value)[:40]!r}",
            mend="write it in digits, with a point for decimals",
        ) from None
    if not about.low <= number <= about.high:  # NaN fails too
        raise ColdspellError(
            f"{key} is {value}, outside {about.low:g} to {about.high:g} {about.unit}", mend="check the number"
        )
    if fact.whole and number != int(number):
        raise ColdspellError(f"{key} must be a whole number, not {value}", mend="count whole seeds")
    return int(number) if fact.whole else number


def read_share(key: str, value: Any, example: str = "8/10") -> Share:
    """How many of how many, from text (``8/10``) or a pair.

    Raises
    ------
    ColdspellError
        When it is no such pair, or more did it than were tried.
    """
    mend = "write how many of how many, for example 8/10"
    parts = value.split("/") if isinstance(value, str) else value if isinstance(value, list | tuple) else []
    if len(parts) != 2 or not all(re.fullmatch(r"\s*\d{1,9}\s*", str(p)) for p in parts):
        raise ColdspellError(f"{key} is not a test result: {value!r}", mend=mend)
    some, tried = int(parts[0]), int(parts[1])
    if tried < 1 or some > tried:
        raise ColdspellError(f"{key} cannot be {some} of {tried}", mend=mend)
    return some, tried


def read_millimetres(key: str, value: Any, sides: int, example: str) -> Millimetres:
    """Sides of a container in millimetres, from text (``200x150x100``) or a list.

    Raises
    ------
    ColdspellError
        When it has another number of sides, or one outside 10 to 5000 mm.
    """
    listed = value if isinstance(value, list | tuple) else [value]
    parts = re.split(r"[x×X*]", value) if isinstance(value, str) else listed
    try:
        found = tuple(float(p) for p in parts)
    except (TypeError, ValueError):
        found = ()
    if len(found) != sides or not all(10 <= s <= 5000 for s in found):
        shape = "length, width and height" if sides == 3 else "width and length"
        raise ColdspellError(
            f"{key} is not a size: {value!r}",
            mend=f"give {shape} in millimetres from 10 to 5000, for example {example}",
        )
    return found
