"""Words for messages about a value of the wrong type: what it is, and how to mend it."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from typing import Any

TYPE_WORDS = {
    "string": "a text",
    "number": "a number",
    "integer": "a whole number",
    "boolean": "true or false",
    "array": "a list",
    "object": "a map (key: value)",
    "null": "nothing",
}


def of_value(value: Any) -> str:
    """Describe a value in a few words."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return f"the text '{value if len(value) <= 40 else value[:37] + '...'}'"
    if isinstance(value, list):
        return f"a list of {len(value)}"
    if isinstance(value, dict):
        return "a map"
    return "nothing (an empty value)" if value is None else str(value)


_OTHER_UNITS: dict[str, tuple[str, str, Callable[[float], float]]] = {
    "weeks": ("days", "a week has 7 days", lambda n: 7 * n),
    "months": ("days", "a month has about 30 days", lambda n: 30 * n),
    "fahrenheit": ("celsius", "68 °F is 20 °C", lambda n: (n - 32) / 1.8),
    "inches": ("mm", "an inch has 25 mm", lambda n: 25.4 * n),
}


def other_unit(key: str, known: Iterable[str], value: Any = None) -> str:
    """Say how to mend a key that names a unit other than the one that is asked for; empty for others.

    >>> other_unit("depth_inches", ["depth_mm", "cite"])
    "Write 'depth_mm': an inch has 25 mm."
    >>> other_unit("weeks", ["days"], [8, 12])
    "Write 'days: [56, 84]': a week has 7 days."
    """
    for unit, (ours, means, turned) in _OTHER_UNITS.items():
        meant = key.replace(unit, ours)
        if meant != key and meant in known:
            numbers = value if isinstance(value, list) else [value]
            if all(isinstance(n, (int, float)) and not isinstance(n, bool) for n in numbers):
                ones = ", ".join(f"{turned(n):.0f}" for n in numbers)
                meant += f": [{ones}]" if isinstance(value, list) else f": {ones}"
            return f"Write '{meant}': {means}."
    return ""


def many_unknown(keys: list[str], known: Iterable[str]) -> tuple[str, str]:
    """Say that several keys of one map are unknown, and what that mostly is."""
    shown = ", ".join(f"'{key[:40]}'" for key in keys[:4])
    more = f" and {len(keys) - 4} more" if len(keys) > 4 else ""
    mend = f"Are they indented too far, or not far enough? Known here: {', '.join(known)}."
    return f"unknown keys {shown}{more}", mend


MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")


def unquoted(value: Any, wanted: str, means: str = "") -> str:
    """Say how to mend a value of the wrong type; ``means`` is what the schema says of it."""
    if value is None:
        return f"Write {wanted}, or leave the key out."
    span = re.fullmatch(r"(\d[\d.]*) ?[-–] ?(\d[\d.]*)", value) if isinstance(value, str) else None
    if span and "list" in wanted:
        return f"Write a range in brackets: [{span[1]}, {span[2]}]."
    if isinstance(value, str) and "from 1 to 12" in wanted and value[:3].casefold() in MONTHS:
        return f"Months are numbers: write {MONTHS.index(value[:3].casefold()) + 1}."
    if isinstance(value, (str, list)) and value and "map" in wanted and "language" in means:
        return f"Name the language: {{en: {value if isinstance(value, list) else [value]}}}.".replace("'", "")
    if isinstance(value, str) and "number" in wanted:
        if re.fullmatch(r"\d{4}-\d\d-\d\d.*", value):
            return "A date stands where a number belongs."
        if re.fullmatch(r"[-+]?[\d.,_]+", value):
            return "Write the number without quotes, thousands marks or decimal comma."
        return "Write the number alone; units are in the name of the key."
    if isinstance(value, (bool, int, float)) and "text" in wanted:
        return "Put it in quotes."
    return f"Write {wanted}. {means}".strip()
