"""Load species libraries, compiled once and kept or carried by the wheel."""

from __future__ import annotations

import warnings
from collections.abc import Sequence
from pathlib import Path

from coldspell import kept, shipped
from coldspell.errors import LeftOutWarning
from coldspell.library.built import Built
from coldspell.library.library import Library


def shipped_dirs() -> tuple[Path, ...]:
    """Return the directories of the shipped library."""
    return (shipped.find("species"),)


def load_library(dirs: Sequence[Path], *, cache: Path | None = None) -> Library:
    """Load library directories; a record of a later one replaces the record of that name as a whole.

    Parameters
    ----------
    dirs
        Library directories, in order. Each is compiled by itself and kept until one of its files changes; the
        shipped one is compiled already where Coldspell is installed.
    cache
        Folder for what is compiled; the user's cache folder by default. Where it cannot be written, nothing
        is kept.

    Raises
    ------
    ColdspellError
        A folder cannot be read, or at the first fault of its bibliography or common words, with line and
        column. A record with a fault is left out with a :class:`~coldspell.errors.LeftOutWarning`.
    """
    library = Library({folder: _built(folder, cache) for folder in dirs})
    for fault in library.left_out.values():
        warnings.warn(f"left out: {fault}", LeftOutWarning, stacklevel=2)
    return library


def _built(folder: Path, cache: Path | None) -> Built:
    ready = kept.carried("species", Built) if folder in shipped_dirs() else None
    if ready is not None:
        return ready
    from coldspell.library.files import walk  # an installed library is compiled already

    files = (path for _, path in walk(folder))
    code = kept.own_code("", "library", "library/schemas", "records", "schema", "yaml")
    return kept.kept("library", (folder,), (*code, *files), lambda: _compile(folder), Built, cache)


def _compile(folder: Path) -> Built:
    from coldspell.library.compile import compile_library

    return compile_library(folder)
