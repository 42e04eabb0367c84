"""Find the files of a library directory, read them, and say by one digest what they hold."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Sequence
from hashlib import blake2b
from pathlib import Path
from typing import NamedTuple

from coldspell.errors import ColdspellError
from coldspell.filebytes import MAX_BYTES, read_bytes, read_regular

BIBLIOGRAPHY = "bibliography.yaml"
WORDS = "common-words.yaml"
POISONOUS = "poisonous.yaml"
MAX_BIBLIOGRAPHY_BYTES = 4 * 1024 * 1024
NOT_RECORDS = frozenset({BIBLIOGRAPHY, WORDS, POISONOUS})


class LibraryFile(NamedTuple):
    """One file of a library: which library (counted from 0), where it is, and its bytes.

    ``path`` and ``shown`` are made when they are asked for: at a warm start nobody asks, and there are many.
    """

    library: int
    relative: str
    where: str
    data: bytes

    @property
    def path(self) -> Path:
        """The path of the file."""
        return Path(self.where)

    @property
    def shown(self) -> str:
        """The path as messages print it."""
        return shown(self.path)


def shown(path: Path) -> str:
    """Return a path as messages print it: relative to the working directory where it lies below it."""
    text, here = str(path), os.path.join(os.getcwd(), "")
    return text[len(here) :].replace(os.sep, "/") if text.startswith(here) else text


def read_libraries(dirs: Sequence[Path]) -> list[LibraryFile]:
    """Read every YAML file of the library directories, in a stable order; see :func:`each_file`."""
    return list(each_file(dirs))


def each_file(dirs: Sequence[Path]) -> Iterator[LibraryFile]:
    """Read the YAML files of the library directories one by one, in a stable order.

    Raises
    ------
    ColdspellError
        If a directory or file cannot be read, a link leads back to a folder above it, a file is too large
        or ends in ``.yml``.
    """
    for number, directory in enumerate(dirs):
        for relative, entry in entries(directory):
            yield read_file(entry.path, relative, number, plain=entry.is_file())


def read_file(path: Path | str, relative: str, library: int = 0, *, plain: bool = False) -> LibraryFile:
    """Read one file of a library; only the bibliography may be larger than a record.

    ``plain`` says that it is known to be a regular file, which saves asking again.
    """
    limit = MAX_BIBLIOGRAPHY_BYTES if relative == BIBLIOGRAPHY else MAX_BYTES
    data = read_regular(str(path), limit) if plain else None
    if data is None:
        data = read_bytes(Path(path), shown(Path(path)), limit)
    return LibraryFile(library, relative, str(path), data)


def walk(directory: Path) -> Iterator[tuple[str, Path]]:
    """Yield (path relative to the directory, path) of each YAML file below a directory, sorted."""
    for relative, entry in entries(directory):
        yield relative, Path(entry.path)


def entries(directory: Path) -> Iterator[tuple[str, os.DirEntry[str]]]:
    """Yield (path relative to the directory, entry) of each YAML file below a directory, sorted."""
    if not directory.is_dir():
        raise ColdspellError(
            "there is no such library directory", shown(directory), "Name a directory that holds records."
        )
    return _walk(str(directory), "", ())


def _walk(folder: str, prefix: str, above: tuple[str, ...]) -> Iterator[tuple[str, os.DirEntry[str]]]:
    try:
        found = sorted(os.scandir(folder), key=lambda entry: entry.name)
    except OSError as error:
        raise ColdspellError(f"the folder cannot be read: {error.strerror}", shown(Path(folder))) from None
    here = (*above, folder)
    for entry in found:
        if entry.name.startswith("."):
            continue
        if entry.name.endswith(".yaml"):
            yield prefix + entry.name, entry
        elif entry.is_dir():
            if entry.is_symlink() and any(os.path.samefile(entry.path, one) for one in here):
                what = "this link leads back to a folder above it"
                raise ColdspellError(what, shown(Path(entry.path)), "Take the link out.")
            yield from _walk(entry.path, f"{prefix}{entry.name}/", here)
        elif entry.name.endswith(".yml"):
            raise ColdspellError("records end in .yaml", shown(Path(entry.path)), "Rename the file.")


def digest(files: Iterable[LibraryFile]) -> str:
    """Return the digest of a library: the same files at the same relative paths give the same text."""
    whole = blake2b(digest_size=16)
    for file in files:
        whole.update(f"{file.library}\0{file.relative}\0{len(file.data)}\0".encode())
        whole.update(file.data)
    return whole.hexdigest()
