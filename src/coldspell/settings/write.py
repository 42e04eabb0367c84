"""Write one key of the settings file."""

from __future__ import annotations

import json
from pathlib import Path

from coldspell.errors import ColdspellError, Place
from coldspell.placed import put
from coldspell.settings.check import checked
from coldspell.settings.file import read_settings, settings_path
from coldspell.settings.keys import SETTINGS, settings_schema


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
