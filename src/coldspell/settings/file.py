"""Read and write the settings file: YAML, checked by its JSON Schema; every fault names the file."""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from coldspell.errors import ColdspellError, Place
from coldspell.settings.keys import SETTINGS, settings_schema

_MOST_BYTES = 64 * 1024


def settings_path() -> Path:
    """Where the settings lie: ``COLDSPELL_SETTINGS``, else in the user's folder of configuration."""
    own = os.environ.get("COLDSPELL_SETTINGS")
    if own:
        return Path(own)
    import platformdirs

    return platformdirs.user_config_path("coldspell", appauthor=False) / "settings.yaml"


def read_settings(path: Path | None = None) -> dict[str, Any]:
    """The settings by their keys; none where there is no file.

    Raises
    ------
    ColdspellError
        The file cannot be read, is no map, or has a key or value that the schema does not allow.
    """
    where = path or settings_path()
    if not os.path.exists(where):
        return {}
    from coldspell.yaml import document

    name = str(where)
    text = document.decode(document.read_bytes(where, name, _MOST_BYTES), name)
    if not any(line.strip() and not line.lstrip().startswith("#") for line in text.splitlines()):
        return {}
    found = document.plain(document.parse(text, name))
    if not isinstance(found, dict):
        raise ColdspellError("settings are a map of keys", Place(name), "for example  units: metric")
    return checked(found, name)


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
            raise ColdspellError(f"there is no setting {key!r}", place, f"one of: {', '.join(SETTINGS)}")
    for error in Draft202012Validator(settings_schema()).iter_errors(plain):
        key = str(error.path[0]) if error.path else ""
        raise ColdspellError(f"{key} cannot be {error.instance!r}", place, _mend(key))
    return plain


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


def write_setting(key: str, text: str, path: Path | None = None) -> Path:
    """Set one key, or take it out with an empty text; the file is written anew, whole or not at all.

    Raises
    ------
    ColdspellError
        There is no such key, the value cannot be, or the file cannot be written.
    """
    where = path or settings_path()
    kept = read_settings(where)
    if key not in SETTINGS:
        raise ColdspellError(f"there is no setting {key!r}", mend=f"one of: {', '.join(SETTINGS)}")
    kept.pop(key, None)
    if text:
        kept |= checked({key: _typed(key, text)})
    import json  # wanted only here

    from coldspell.placed import put

    lines = [f"{name}: {json.dumps(kept[name], ensure_ascii=False)}\n" for name in SETTINGS if name in kept]
    try:
        where.parent.mkdir(parents=True, exist_ok=True)
        put(where, "".join(lines).encode())
    except OSError as error:
        raise ColdspellError(
            f"cannot be written: {error.strerror}",
            Place(str(where)),
            mend="check the path and who may write there",
        ) from None
    return where


def _typed(key: str, text: str) -> str | float:
    schema = settings_schema()["properties"][key]
    if schema.get("type") != "number":
        return text
    try:
        return float(text)
    except ValueError:
        return text  # the schema says what is wrong with it
