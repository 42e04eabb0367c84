"""Find the files of a library directory, read them, and say by one digest what they hold."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from hashlib import blake2b
from pathlib import Path

from coldspell.document import MAX_BYTES, read_bytes
from coldspell.errors import ColdspellError

BIBLIOGRAPHY = "bibliography.yaml"
WORDS = "common-words.yaml"
MAX_BIBLIOGRAPHY_BYTES = 4 * 1024 * 1024
NOT_RECORDS = frozenset({BIBLIOGRAPHY, WORDS})


@dataclass(frozen=True, slots=True)
class LibraryFile:
    """One file of a library: which library (counted from 0), where it is, and its bytes.

    ``shown`` is the path as messages print it.
    """

    library: int
    relative: str
    path: Path
    shown: str
    data: bytes


def shown(path: Path) -> str:
    """Return a path as messages print it: relative to the working directory where it lies below it."""
    text, here = str(path), os.path.join(os.getcwd(), "")
    return text[len(here) :].replace(os.sep, "/") if text.startswith(here) else text


def read_libraries(dirs: Sequence[Path]) -> list[LibraryFile]:
    """Read every YAML file of the library directories, in a stable order.

    Raises
    ------
    ColdspellError
        If a directory or file cannot be read, a link leads back to a folder above it, a file is too large
        or ends in ``.yml``.
    """
    return [
        read_file(path, relative, number)
        for number, directory in enumerate(dirs)
        for relative, path in walk(directory)
    ]


def read_file(path: Path, relative: str, library: int = 0) -> LibraryFile:
    """Read one file of a library; only the bibliography may be larger than a record."""
    name = shown(path)
    limit = MAX_BIBLIOGRAPHY_BYTES if relative == BIBLIOGRAPHY else MAX_BYTES
    return LibraryFile(library, relative, path, name, read_bytes(path, name, limit))


def walk(directory: Path) -> Iterator[tuple[str, Path]]:
    """Yield (path relative to the directory, path) of each YAML file below a directory, sorted."""
    if not directory.is_dir():
        raise ColdspellError(
            "there is no such library directory", shown(directory), "Name a directory that holds records."
        )
    yield from _walk(directory, "", ())


def _walk(folder: Path, prefix: str, above: tuple[tuple[int, int], ...]) -> Iterator[tuple[str, Path]]:
    try:
        status = folder.stat()
        entries = sorted(os.scandir(folder), key=lambda entry: entry.name)
    except OSError as error:
        raise ColdspellError(f"the folder cannot be read: {error.strerror}", shown(folder)) from None
    here = (status.st_dev, status.st_ino)
    if here in above:
        raise ColdspellError("this link leads back to a folder above it", shown(folder), "Take the link out.")
    for entry in entries:
        if entry.name.startswith("."):
            continue
        path = folder / entry.name
        if entry.name.endswith(".yaml"):
            yield prefix + entry.name, path
        elif entry.is_dir():
            yield from _walk(path, f"{prefix}{entry.name}/", (*above, here))
        elif entry.name.endswith(".yml"):
            raise ColdspellError("records end in .yaml", shown(path), "Rename the file.")


def digest(files: Iterable[LibraryFile]) -> str:
    """Return the digest of a library: the same files at the same relative paths give the same text."""
    whole = blake2b(digest_size=16)
    for file in files:
        whole.update(f"{file.library}\0{file.relative}\0{len(file.data)}\0".encode())
        whole.update(file.data)
    return whole.hexdigest()
