"""Options and small steps that the species commands share."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Annotated

import typer

from coldspell.errors import ColdspellError
from coldspell.library.load import Library, load_library, shipped_dirs
from coldspell.library.names import Found, Several, look_up
from coldspell.records.model import Record

Libraries = Annotated[
    list[Path] | None,
    typer.Option(
        "--library", metavar="DIR", help="A library of your own, after the shipped one; repeatable."
    ),
]


def load(libraries: Sequence[Path] | None) -> Library:
    """Load the shipped library and those of the user after it."""
    return load_library([*shipped_dirs(), *(libraries or ())])


def chosen(library: Library, name: str) -> Record:
    """Return the one record that a name means.

    Raises
    ------
    ColdspellError
        If the name means several plants, or none: with the names to choose from.
    """
    found = look_up(library, name)
    if isinstance(found, Found):
        return found.record
    if isinstance(found, Several):
        names = ", ".join(record.name for record in found.records[:12])
        more = len(found.records) - 12
        further = f" and {more} more" if more > 0 else ""
        raise ColdspellError(f"'{name}' means several plants", mend=f"Say which: {names}{further}.")
    near = ", ".join(found.nearest)
    mend = f"Did you mean: {near}?" if near else "Try 'coldspell species find'."
    raise ColdspellError(f"no record is named '{name}'", mend=mend)
