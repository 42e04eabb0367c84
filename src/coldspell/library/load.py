"""Load species libraries, compiled once and kept or carried by the wheel; hand out records one by one."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import msgspec

from coldspell import kept, shipped
from coldspell.library.built import Built, Decoded, Entry, merged
from coldspell.library.files import walk
from coldspell.records.model import Record


def shipped_dirs() -> tuple[Path, ...]:
    """Return the directories of the shipped library."""
    return (shipped.find("species"),)


class Library:
    """Species and genus records by name, and the bibliography they cite.

    Attributes
    ----------
    digest
        A text that changes whenever any file of the library does.
    names
        The accepted names of all records, sorted.
    index
        Folded names (see :mod:`coldspell.library.names`) and the records they lead to.
    words
        Common words that mean several plants, and the genera they mean.
    units
        Records by what is handled (acorn, nut, …).
    bibliography
        CSL data by id.
    """

    __slots__ = (
        "_decoder", "_known", "_parts", "_records", "bibliography", "digest", "index", "units", "words",
    )  # fmt: skip

    def __init__(self, parts: Mapping[Path, Built]) -> None:
        whole = merged(tuple(parts.values()))
        self._parts = parts
        self._records = whole.records
        self._decoder = msgspec.msgpack.Decoder(Record)
        self._known: dict[str, Record] = {}
        self.digest = whole.digest
        self.index: Mapping[str, list[Entry]] = Decoded(whole.index, list[Entry])
        self.words: Mapping[str, list[str]] = whole.words
        self.units: Mapping[str, list[str]] = whole.units
        self.bibliography: Mapping[str, dict[str, Any]] = Decoded(whole.bibliography, dict[str, Any])

    @property
    def names(self) -> tuple[str, ...]:
        """The accepted names of all records, sorted."""
        return tuple(self._records)

    def get(self, name: str) -> Record:
        """Return the record with an accepted name.

        Raises
        ------
        KeyError
            If no record has that name (use :func:`coldspell.library.names.look_up` for anything else).
        """
        if name not in self._known:
            self._known[name] = self._decoder.decode(self._records[name])
        return self._known[name]

    def genus(self, name: str) -> Record | None:
        """Return the genus record of a species (or of a genus) by its accepted name, if there is one."""
        genus = name.removeprefix("×").strip().split(" ")[0]
        if genus not in self._records:
            return None
        record = self.get(genus)
        return record if record.rank == "genus" else None

    def file(self, name: str) -> Path:
        """Return the file that holds a record."""
        folder = [path for path, part in self._parts.items() if name in part.records][-1]
        return folder / self.get(name).path

    def __contains__(self, name: object) -> bool:
        return name in self._records

    def __len__(self) -> int:
        return len(self._records)


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
        At the first fault of a file, with line and column.
    """
    return Library({folder: _built(folder, cache) for folder in dirs})


def _built(folder: Path, cache: Path | None) -> Built:
    ready = kept.carried("species", Built) if folder in shipped_dirs() else None
    if ready is not None:
        return ready
    files = (path for _, path in walk(folder))
    code = kept.own_code("", "library", "library/schemas", "records", "schema", "yaml")
    return kept.kept("library", (folder,), (*code, *files), lambda: _compile(folder), Built, cache)


def _compile(folder: Path) -> Built:
    from coldspell.library.compile import compile_library

    return compile_library(folder)
