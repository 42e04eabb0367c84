"""Write one key of the settings file."""

from __future__ import annotations

import json
import os
from pathlib import Path
from typing import Any

from coldspell.errors import ColdspellError, Place
from coldspell.placed import put
from coldspell.settings.check import checked
from coldspell.settings.file import read_settings, settings_path
from coldspell.settings.keys import SETTINGS, known_settings, settings_schema

FOLDER = "office_folder"


def write_setting(key: str, text: str, path: Path | None = None) -> tuple[Any, Path]:
    """Set one key, or take it out with an empty text; the file is written anew, whole or not at all.

    Gives what was kept (a folder as its whole path, degrees as Celsius) and the file.

    Raises
    ------
    ColdspellError
        There is no such key, the value cannot be, or the file cannot be written.
    """
    where = path or settings_path()
    kept = read_settings(where)
    if key not in SETTINGS:
        raise ColdspellError(f"there is no setting {key!r}", mend=known_settings(key))
    kept.pop(key, None)
    if text:
        kept |= checked({key: _typed(key, text)})
        if key == FOLDER:
            kept[key] = str(office_folder(text))
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
    return kept.get(key), where


def office_folder(text: str) -> Path:
    """The folder of an office as its whole path, so that it is found from every folder.

    Raises
    ------
    ColdspellError
        There is no such folder.
    """
    folder = Path(os.path.abspath(Path(text).expanduser()))
    if not folder.is_dir():
        mend = f"name a folder that is there; to have none type: coldspell settings unset {FOLDER}"
        raise ColdspellError(f"{FOLDER}: there is no folder {folder}", mend=mend)
    return folder


def _typed(key: str, text: str) -> str:
    schema = settings_schema()["properties"][key]
    words = {str(word).casefold(): str(word) for word in schema.get("enum", ())}
    return words.get(text.strip().casefold(), text)
