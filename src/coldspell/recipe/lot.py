"""The question: one seed lot as the grower describes it, with every default marked."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from datetime import date
from typing import Any, get_args, get_type_hints

from msgspec import Struct

from coldspell.errors import ColdspellError
from coldspell.recipe.choices import CHOICES, LIMITS, nearest

Share = tuple[int, int]
"""Seeds that did it, of seeds tried."""
Millimetres = tuple[float, ...]


class Lot(Struct, frozen=True):
    """What is known of one seed lot. ``None`` or ``unknown`` is not said; ``assumed`` names the defaults.

    Dates are days of the calendar, lengths millimetres, temperatures degrees Celsius.
    """

    seeds: int = 25
    kilograms: float | None = None
    moisture: str = "fresh"
    stored_years: float = 0.0
    days_dry: float | None = None
    collected: date | None = None
    sow: date | None = None
    last_frost: date | None = None
    southern: bool = False
    place: str | None = None
    winter: str = "unknown"
    origin: str = "unknown"
    gathered: str = "unknown"
    pulp: str = "unknown"
    shell: str = "intact"
    frozen: str = "unknown"
    heated: str = "unknown"
    swollen: str = "unknown"
    rooted: int = 0
    root_mm: float | None = None
    soft: str = "unknown"
    mould: str = "unknown"
    holes: str = "unknown"
    smell: str = "unknown"
    cut: Share | None = None
    float_test: Share | None = None
    cold_days_done: float = 0.0
    warm_days_done: float = 0.0
    sure: bool = True
    children: bool = False
    animals: bool = False
    professional: bool = False
    refrigerator: str = "food"
    fridge_celsius: float | None = None
    fridge_litres: float | None = None
    grow_in: str = "container"
    media: tuple[str, ...] = ()
    container_mm: Millimetres | None = None
    bag_mm: Millimetres | None = None
    want: int | None = None
    units: str = "metric"
    assumed: tuple[str, ...] = ()

    @property
    def lain_moist(self) -> bool:
        """Whether some of its days of moist cold or warmth are behind it."""
        return self.cold_days_done > 0 or self.warm_days_done > 0 or self.rooted > 0

    @property
    def mostly_rooted(self) -> bool:
        """Whether more than half of it has rooted."""
        return 2 * self.rooted > self.seeds


FILE_NAMES = {"float_test": "float", "container_mm": "container", "bag_mm": "bag", "media": "medium"}
"""Names of lot fields in options and lot files where they differ from the field."""
_FIELDS = set(Lot.__struct_fields__) - {"assumed"}
FACTS = {FILE_NAMES.get(name, name): name for name in sorted(_FIELDS)}
"""Facts of a lot by the name that options and lot files use."""


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
            values[_name_of(key)] = check_fact(key, value)
    _agree(values)
    if "kilograms" in values and "seeds" not in values:
        values["seeds"] = 1  # set from the record's seeds per kilogram when the recipe is made
    lot = Lot(**values)
    assumed = tuple(sorted(FILE_NAMES.get(n, n) for n in _MARKED if n not in values))
    return Lot(**{**values, "assumed": assumed, "moisture": _moisture(lot, values)})


def check_fact(key: str, value: Any) -> Any:
    """One fact of a lot under its file name, read and checked.

    Raises
    ------
    ColdspellError
        No lot has such a fact, or the value is outside its limits or choices.
    """
    return _read(_name_of(key), key, value)


def _name_of(key: str) -> str:
    if key not in FACTS:
        raise ColdspellError(
            f"unknown fact of a lot: {key[:60]}", mend=f"did you mean {nearest(key, FACTS)}?"
        )
    return FACTS[key]


_MARKED = ("seeds", "moisture", "shell", "refrigerator", "grow_in")


def _moisture(lot: Lot, values: Mapping[str, Any]) -> str:
    """Seed stored for half a year or more without a word on moisture was stored dry."""
    if "moisture" not in values and (lot.stored_years >= 0.5 or (lot.days_dry or 0) > 60):
        return "dried"
    return lot.moisture


def _agree(values: Mapping[str, Any]) -> None:
    """Refuse pairs of answers that cannot both hold."""
    for one, other in (("seeds", "kilograms"), ("sow", "last_frost"), ("container_mm", "bag_mm")):
        if one in values and other in values:
            raise ColdspellError(
                f"give {FILE_NAMES.get(one, one)} or {FILE_NAMES.get(other, other)}, not both",
                mend="leave one of them out",
            )
    sow, collected = values.get("sow"), values.get("collected")
    if sow and collected and sow < collected:
        raise ColdspellError(
            f"the sowing date {sow} lies before the day the seed was collected, {collected}",
            mend="check both dates, in the form 2027-04-15",
        )
    if values.get("rooted", 0) > values.get("seeds", math.inf):
        raise ColdspellError("more seeds are rooted than there are", mend="check --rooted and --seeds")
    if values.get("refrigerator") == "none" and "fridge_celsius" in values:
        raise ColdspellError("a temperature was given for no refrigerator", mend="leave one of them out")


def _read(name: str, key: str, value: Any) -> Any:
    if name in CHOICES:
        return _choice(key, value, CHOICES[name])
    kind = _KINDS[name]
    if kind is bool:
        return _truth(key, value)
    if kind is date:
        return read_date(key, value)
    if kind in (int, float):
        return _number(name, key, value, whole=kind is int)
    if name in ("cut", "float_test"):
        return _share(key, value)
    if name in ("container_mm", "bag_mm"):
        return _millimetres(key, value, 3 if name == "container_mm" else 2)
    if name == "media":
        names = [value] if isinstance(value, str) else list(value)
        return tuple(dict.fromkeys(_choice(key, n, CHOICES["medium"]) for n in names))
    return str(value)[:200]


def _kinds() -> dict[str, type]:
    hints = get_type_hints(Lot)
    kinds = {}
    for name in _FIELDS:
        inner = [t for t in (get_args(hints[name]) or (hints[name],)) if t is not type(None)]
        kinds[name] = inner[0] if isinstance(inner[0], type) else object
    return kinds


_KINDS = _kinds()
WHOLE = frozenset(name for name, kind in _KINDS.items() if kind is int)
"""Fields of a lot that are counted, not measured."""


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


def _number(name: str, key: str, value: Any, *, whole: bool) -> float:
    if isinstance(value, bool) or (isinstance(value, str) and len(value) > 40):
        raise ColdspellError(f"{key} is not a number", mend="write it in digits, with a point for decimals")
    try:
        number = float(value)
    except (TypeError, ValueError, OverflowError):
        raise ColdspellError(
            f"{key} is not a number: {str(value)[:40]!r}",
            mend="write it in digits, with a point for decimals",
        ) from None
    low, high, unit = LIMITS[name]
    if not low <= number <= high:  # NaN fails too
        raise ColdspellError(f"{key} is {value}, outside {low:g} to {high:g} {unit}", mend="check the number")
    if whole and number != int(number):
        raise ColdspellError(f"{key} must be a whole number, not {value}", mend="count whole seeds")
    return int(number) if whole else number


def _share(key: str, value: Any) -> Share:
    parts = (
        value.split("/") if isinstance(value, str) else list(value) if isinstance(value, list | tuple) else []
    )
    if len(parts) != 2 or not all(re.fullmatch(r"\s*\d{1,9}\s*", str(p)) for p in parts):
        raise ColdspellError(
            f"{key} is not a test result: {value!r}", mend="write how many of how many, for example 8/10"
        )
    some, tried = int(parts[0]), int(parts[1])
    if tried < 1 or some > tried:
        raise ColdspellError(
            f"{key} cannot be {some} of {tried}", mend="write how many of how many, for example 8/10"
        )
    return some, tried


def _millimetres(key: str, value: Any, most: int) -> Millimetres:
    parts = (
        re.split(r"[x×X*]", value)
        if isinstance(value, str)
        else value
        if isinstance(value, list | tuple)
        else [value]
    )
    try:
        sides = tuple(float(p) for p in parts)
    except (TypeError, ValueError):
        sides = ()
    if len(sides) != most or not all(10 <= s <= 5000 for s in sides):
        shape = "length, width and height" if most == 3 else "width and length"
        example = "200x150x100" if most == 3 else "270x280"
        raise ColdspellError(
            f"{key} is not a size: {value!r}",
            mend=f"give {shape} in millimetres from 10 to 5000, for example {example}",
        )
    return sides
