"""A loaded library: its records, handed out one by one, and the bibliography they cite."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import msgspec

from coldspell.errors import ColdspellError
from coldspell.library.beside import BesideNames
from coldspell.library.built import Built, Decoded, Entry, Rest, merged, rest_of
from coldspell.records.model import Record
from coldspell.records.name import genus_of


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
    bibliography
        CSL data by id.
    left_out
        Files that hold no sound record: the fault of each, with its place, by the name of the record (the
        path where the name could not be read).
    """

    __slots__ = (
        "_decoder", "_known", "_parts", "_records", "_rest", "_whole", "bibliography", "digest", "index",
        "left_out",
    )  # fmt: skip

    def __init__(self, parts: Mapping[Path, Built]) -> None:
        whole = merged(tuple(parts.values()))
        self._parts = parts
        self._whole = whole
        self._records = whole.records
        self._decoder = msgspec.msgpack.Decoder(Record)
        self._known: dict[str, Record] = {}
        self._rest: Rest | None = None
        self.digest = whole.digest
        self.left_out: Mapping[str, ColdspellError] = {
            one.name or one.path: one.error(folder) for folder, part in parts.items() for one in part.left_out
        }
        self.index: Mapping[str, list[Entry]] = Decoded(whole.index, list[Entry])
        self.bibliography: Mapping[str, dict[str, Any]] = Decoded(whole.bibliography, dict[str, Any])

    @property
    def words(self) -> Mapping[str, list[str]]:
        """Common words that mean several plants, and the genera they mean."""
        return self._read_rest().words

    @property
    def beside(self) -> BesideNames:
        """What people write beside names."""
        return self._read_rest().beside

    @property
    def units(self) -> Mapping[str, list[str]]:
        """Records by what is handled (acorn, nut, …)."""
        return self._read_rest().units

    def _read_rest(self) -> Rest:
        if self._rest is None:
            self._rest = rest_of(self._whole)
        return self._rest

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

    def refuse_left_out(self, name: str) -> None:
        """Refuse a name whose record was left out: neither its genus nor one that it replaces may answer.

        Raises
        ------
        ColdspellError
            The fault for which it was left out.
        """
        wanted = name.strip().casefold()
        for one, fault in self.left_out.items():
            if one.casefold() == wanted:
                raise fault

    def genus(self, name: str) -> Record | None:
        """Return the genus record of a species (or of a genus) by its accepted name, if there is one."""
        genus = genus_of(name)
        if genus not in self._records:
            return None
        record = self.get(genus)
        return record if record.rank == "genus" else None

    def index_beginning(self, letters: str) -> tuple[str, ...]:
        """The folded names that begin with two letters."""
        return tuple(self._whole.index.beginning(letters))

    def members(self, genus: str) -> tuple[str, ...]:
        """The accepted names of the records of a genus, its own record among them."""
        plain = (one for one in self._records.beginning(genus) if one == genus or one[len(genus)] == " ")
        return (*plain, *self._records.beginning(f"×{genus} "))

    def file(self, name: str) -> Path:
        """Return the file that holds a record."""
        folder = [path for path, part in self._parts.items() if name in part.records][-1]
        return folder / self.get(name).path

    def __contains__(self, name: object) -> bool:
        return name in self._records

    def __len__(self) -> int:
        return len(self._records)
