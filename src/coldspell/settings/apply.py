"""What settings say of a lot, where nobody said otherwise."""

from __future__ import annotations

import calendar
from collections.abc import Mapping
from datetime import date
from typing import Any

from coldspell.settings.keys import SETTINGS


def facts_of(settings: Mapping[str, Any], said: Mapping[str, Any], today: date) -> dict[str, Any]:
    """The facts of a lot that settings add to what was said, by the names of lot files.

    The last frost is the next one from today on. A setting says nothing that was said of the lot, or that
    what was said rules out.
    """
    found: dict[str, Any] = {}
    for key, value in settings.items():
        fact = SETTINGS[key].fact
        if fact is None or said.get(fact) is not None or _ruled_out(key, said):
            continue
        found[fact] = _as_fact(key, value, today)
    if found.get("refrigerator") == "none":
        found.pop("fridge_celsius", None)
        if said.get("fridge_celsius") is not None:  # who measures a refrigerator has one
            del found["refrigerator"]
    return found


def _ruled_out(key: str, said: Mapping[str, Any]) -> bool:
    """A sowing day stands before a last frost; what is not there has no temperature."""
    if key == "fridge_celsius":
        return str(said.get("refrigerator")) == "none"
    return key == "last_frost" and said.get("sow") is not None


def _as_fact(key: str, value: Any, today: date) -> Any:
    if key == "hemisphere":
        return value == "south"
    if key != "last_frost":
        return value
    month, day = map(int, value.split("-"))
    this = _day(today.year, month, day)
    return this if this >= today else _day(today.year + 1, month, day)


def _day(year: int, month: int, day: int) -> date:
    return date(year, month, min(day, calendar.monthrange(year, month)[1]))
