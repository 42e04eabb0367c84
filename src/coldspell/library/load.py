"""Load species libraries: read, check by the schema, compile, cache, and hand out records one by one."""

from __future__ import annotations

import contextlib
import os
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import msgspec

from coldspell import __version__, shipped
from coldspell.cachefile import content_key
from coldspell.errors import InternalFault
from coldspell.library.compiled import Compiled, Entry
from coldspell.library.files import digest, each_file, read_libraries
from coldspell.library.model import Record
from coldspell.pieces import Pieces, cached_pieces

_FORMAT = "library 4"  # of the compiled library; a change of it makes older entries unused


def shipped_dirs() -> tuple[Path, ...]:
    """Return the directories of the shipped library."""
    return (shipped.find("species"),)


class Library:
    """Species and genus records by name, and the bibliography they cite.

    ``digest`` is a text that changes whenever any file of the library does.
    """

    __slots__ = ("_compiled", "_decoder", "_dirs", "_known", "bibliography", "digest")

    def __init__(self, compiled: Compiled, dirs: Sequence[Path], digest: str) -> None:
        self._compiled = compiled
        self.digest = digest
        self._dirs = tuple(dirs)
        self._decoder = msgspec.json.Decoder(Record)
        self._known: dict[str, Record] = {}
        self.bibliography: Mapping[str, dict[str, Any]] = compiled.bibliography

    @property
    def names(self) -> tuple[str, ...]:
        """The accepted names of all records, sorted."""
        return tuple(self._compiled.records)

    @property
    def index(self) -> Mapping[str, list[Entry]]:
        """Folded names (see :mod:`coldspell.library.names`) and the records they lead to."""
        return self._compiled.index

    @property
    def words(self) -> Mapping[str, list[str]]:
        """Common words that mean several plants, and the genera they mean."""
        return self._compiled.words

    @property
    def units(self) -> Mapping[str, list[str]]:
        """Records by what is handled (acorn, nut, …)."""
        return self._compiled.units

    def get(self, name: str) -> Record:
        """Return the record with an accepted name.

        Raises
        ------
        KeyError
            If no record has that name (use :func:`coldspell.library.names.look_up` for anything else).
        """
        if name not in self._known:
            self._known[name] = self._decoder.decode(self._compiled.records[name])
        return self._known[name]

    def genus(self, name: str) -> Record | None:
        """Return the genus record of a species (or of a genus) by its accepted name, if there is one."""
        genus = name.removeprefix("×").strip().split(" ")[0]
        if genus not in self._compiled.records:
            return None
        record = self.get(genus)
        return record if record.rank == "genus" else None

    def file(self, name: str) -> Path:
        """Return the file that holds a record."""
        return self._dirs[self._compiled.libraries[name]] / self.get(name).path

    def __contains__(self, name: object) -> bool:
        return name in self._compiled.records

    def __len__(self) -> int:
        return len(self._compiled.records)


def load_library(dirs: Sequence[Path], *, cache: Path | None = None) -> Library:
    """Load library directories; a record of a later one replaces the record of that name as a whole.

    Parameters
    ----------
    dirs
        Library directories, in order. Files are read at every load; what they compile to is cached.
    cache
        Directory for the compiled library; the platform's cache directory by default. Where it cannot be
        written, the library is compiled in memory.

    Raises
    ------
    ColdspellError
        At the first fault of a file, with line and column.
    """
    whole = digest(each_file(dirs))  # not kept: a warm start needs nothing else of them
    key = content_key(__version__, _FORMAT, _made_by(), whole)
    return Library(Compiled(cached_pieces(key, "library", lambda: _compile(dirs, whole), cache)), dirs, whole)


def _made_by() -> str:
    """Return size and time of the code that compiles: in a checkout it changes while the version does not."""
    here = Path(__file__).parent
    names = ("compile.py", "compiled.py", "model.py", "names.py", "shape.py", "kinds.py", "terms.py")
    found = []
    for name in names:
        with contextlib.suppress(OSError):
            status = os.stat(here / name)
            found.append((status.st_size, status.st_mtime_ns))
    return repr(found)


def _compile(dirs: Sequence[Path], whole: str) -> Pieces:
    from coldspell.library.compile import compile_library

    files = read_libraries(dirs)
    if digest(files) != whole:
        raise InternalFault("the library was changed while it was being read", mend="Run the command again.")
    return compile_library(files)
