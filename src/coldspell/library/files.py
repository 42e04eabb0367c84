"""Find the files of a library directory and read them."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

from coldspell.errors import ColdspellError
from coldspell.yaml.bytes import MAX_BYTES, read_bytes

BIBLIOGRAPHY = "bibliography.yaml"
WORDS = "common-words.yaml"
BESIDE = "beside-names.yaml"
POISONOUS = "poisonous.yaml"
MAX_BIBLIOGRAPHY_BYTES = 4 * 1024 * 1024
NOT_RECORDS = frozenset({BIBLIOGRAPHY, WORDS, BESIDE, POISONOUS})


class LibraryFile(NamedTuple):
    """One file of a library: its path below the library's folder, the path that messages print, its bytes."""

    relative: str
    shown: str
    data: bytes


def shown(path: Path) -> str:
    """Return a path as messages print it: relative to the working directory where it lies below it."""
    text, here = str(path), os.path.join(os.getcwd(), "")
    return text[len(here) :].replace(os.sep, "/") if text.startswith(here) else text


def read_file(path: Path, relative: str) -> LibraryFile:
    """Read one file of a library; only the bibliography may be larger than a record.

    Raises
    ------
    ColdspellError
        If the file cannot be read or is too large.
    """
    limit = MAX_BIBLIOGRAPHY_BYTES if relative == BIBLIOGRAPHY else MAX_BYTES
    name = shown(path)
    return LibraryFile(relative, name, read_bytes(path, name, limit))


def walk(directory: Path) -> Iterator[tuple[str, Path]]:
    """Yield (path relative to the directory, path) of each YAML file below a directory, sorted.

    Raises
    ------
    ColdspellError
        If there is no such directory or it cannot be read, a link leads back to a folder above it, or a file
        ends in ``.yml``.
    """
    if not directory.is_dir():
        raise ColdspellError(
            "there is no such library directory", shown(directory), "Name a directory that holds records."
        )
    return _walk(str(directory), "", ())


def _walk(folder: str, prefix: str, above: tuple[str, ...]) -> Iterator[tuple[str, Path]]:
    try:
        found = sorted(os.scandir(folder), key=lambda entry: entry.name)
    except OSError as error:
        raise ColdspellError(
            f"the folder cannot be read: {error.strerror}",
            shown(Path(folder)),
            mend="check the path and who may read it",
        ) from None
    here = (*above, folder)
    for entry in found:
        if entry.name.startswith("."):
            continue
        if entry.name.endswith(".yaml"):
            yield prefix + entry.name, Path(entry.path)
        elif entry.is_dir():
            if entry.is_symlink() and any(os.path.samefile(entry.path, one) for one in here):
                what = "this link leads back to a folder above it"
                raise ColdspellError(what, shown(Path(entry.path)), "Take the link out.")
            yield from _walk(entry.path, f"{prefix}{entry.name}/", here)
        elif entry.name.endswith(".yml"):
            raise ColdspellError("records end in .yaml", shown(Path(entry.path)), "Rename the file.")
