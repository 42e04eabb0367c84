"""Words for messages about a value of the wrong type: what it is, and how to mend it."""

from __future__ import annotations

import re
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


def unquoted(value: Any, wanted: str) -> str:
    """Say how to mend a value of the wrong type."""
    if value is None:
        return f"Write {wanted}, or leave the key out."
    if isinstance(value, str) and "number" in wanted:
        if re.fullmatch(r"\d{4}-\d\d-\d\d.*", value):
            return "A date stands where a number belongs."
        if re.fullmatch(r"[-+]?[\d.,_]+", value):
            return "Write the number without quotes, thousands marks or decimal comma."
        return "Write the number alone; units are in the name of the key."
    if isinstance(value, (bool, int, float)) and "text" in wanted:
        return "Put it in quotes."
    return f"Write {wanted}."
