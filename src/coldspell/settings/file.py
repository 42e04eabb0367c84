"""Read the settings file, where there is one: YAML; every fault names the file."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import Any

from coldspell.errors import ColdspellError, Place

_MOST_BYTES = 64 * 1024


def settings_path() -> Path:
    """Where the settings lie: ``COLDSPELL_SETTINGS``, else in the user's folder of configuration."""
    own = os.environ.get("COLDSPELL_SETTINGS")
    if own:
        return Path(own)
    return _config_folder() / "settings.yaml"


def _config_folder() -> Path:
    """The user's folder of configuration by the library for that, and the same without it on Linux.

    There it is the XDG Base Directory Specification's, and loading the library costs each start milliseconds.
    """
    if sys.platform == "linux" and "ANDROID_DATA" not in os.environ:
        own = os.environ.get("XDG_CONFIG_HOME", "")
        return Path(own if os.path.isabs(own) else os.path.expanduser("~/.config"), "coldspell")
    import platformdirs

    return platformdirs.user_config_path("coldspell", appauthor=False)


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
    from coldspell.settings.check import checked
    from coldspell.yaml import document

    name = str(where)
    text = document.decode(document.read_bytes(where, name, _MOST_BYTES), name)
    if not any(line.strip() and not line.lstrip().startswith("#") for line in text.splitlines()):
        return {}
    found = document.plain(document.parse(text, name))
    if not isinstance(found, dict):
        raise ColdspellError("settings are a map of keys", Place(name), "for example  units: metric")
    return checked(found, name)
