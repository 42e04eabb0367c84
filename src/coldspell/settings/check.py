"""Settings held against their JSON Schema; every fault names the file and what may stand there."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from coldspell.errors import ColdspellError, Place
from coldspell.lot.read import check_fact
from coldspell.settings.keys import SETTINGS, known_settings, settings_schema


def checked(found: Mapping[str, Any], where: str | None = None) -> dict[str, Any]:
    """Settings that the schema allows.

    Raises
    ------
    ColdspellError
        At the first key or value that it does not allow.
    """
    from jsonschema import Draft202012Validator

    place = None if where is None else Place(where)
    plain = {key: _bare(value) for key, value in found.items()}
    for key in plain:
        if key not in SETTINGS:
            raise ColdspellError(f"there is no setting {key!r}", place, known_settings(key))
    for key in plain.keys() & _AS_SAID:
        plain[key] = _fact(key, plain[key], place)
    for error in Draft202012Validator(settings_schema()).iter_errors(plain):
        key = str(error.path[0]) if error.path else ""
        raise ColdspellError(f"{key} cannot be {error.instance!r}", place, _mend(key))
    return plain


_AS_SAID = frozenset(("fridge_celsius", "last_frost"))
"""What people also say in other forms than the schema has: degrees Fahrenheit, a day in words."""


def _fact(key: str, value: Any, place: Place | None) -> Any:
    """A value as the fact of a lot that it is kept for, read as it is read there."""
    fact = SETTINGS[key].fact or key
    try:
        return check_fact(fact, value)
    except ColdspellError as error:
        raise ColdspellError(error.what.replace(fact, key, 1), place, error.mend) from None


def _mend(key: str) -> str:
    schema = settings_schema()["properties"][key]
    if "enum" in schema:
        return f"one of: {', '.join(map(str, schema['enum']))}"
    if schema["type"] == "number":
        return f"a number from {schema['minimum']:g} to {schema['maximum']:g}"
    return "a month and day in quotes, for example '05-10'" if "pattern" in schema else "one line of text"


def _bare(value: Any) -> Any:
    """A value as JSON has it: a whole number of YAML is one, a day becomes its text."""
    return value.isoformat() if hasattr(value, "isoformat") else value
