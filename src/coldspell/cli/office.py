"""``--office DIR`` and ``--tally``: the folder of an office on the command line."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from coldspell.errors import ColdspellError, Place
from coldspell.settings.file import read_settings, settings_path

if TYPE_CHECKING:
    from coldspell.api import Library


def folder_of(office: Path | None, *, no_settings: bool) -> Path | None:
    """The folder that was named, else that of the settings."""
    if office is not None or no_settings:
        return office
    kept = read_settings().get("office_folder")
    if not kept:
        return None
    from coldspell.settings.write import office_folder

    try:
        return office_folder(str(kept))
    except ColdspellError as error:
        raise ColdspellError(error.what, Place(str(settings_path())), error.mend) from None


def tallied(library: Library, name: str, day: date, trouble: str = "") -> None:
    """Count one question; raises where there is no folder to count it in."""
    from coldspell.office.tally import count

    office = library.office
    if office is None:
        raise ColdspellError("nothing says where to count", mend="--office DIR, or the setting office_folder")
    count(office.folder, day, library.accepted(name) if name else "", trouble)
