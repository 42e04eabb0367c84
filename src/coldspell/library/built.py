"""A compiled library: what the cache keeps for each folder and what the wheel carries of the shipped one."""

# Without postponed annotations: msgspec evaluates those of each class anew at every start.

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any, Generic, TypeVar

import msgspec

from coldspell.errors import ColdspellError, Place
from coldspell.library.beside import BesideNames

T = TypeVar("T")
_LETTERS = 2
_KINDS = ("name", "synonym", "common")  # the strongest first


class Entry(msgspec.Struct, frozen=True, array_like=True):
    """A name that leads to a record: the name as printed, and what it is (name, synonym, common).

    A common name has its language, and may be the first that the record gives in it.
    """

    record: str
    printed: str
    kind: str
    language: str = ""
    first: bool = False


Groups = dict[str, memoryview]
"""Maps of names to values, encoded, by the first two letters of the names. Views of bytes, not ``Raw``: a
reader steps over them at once without a copy, and walks through all that a raw value holds."""


class LeftOut(msgspec.Struct, frozen=True, array_like=True):
    """A file of records that was left out, and why; the path is relative to the library."""

    path: str
    line: int
    column: int
    what: str
    mend: str
    name: str = ""
    """The name of the record, where it could be read."""

    def error(self, folder: Path) -> ColdspellError:
        """The fault, with its place as messages print it."""
        from coldspell.library.files import shown  # most records are sound

        return ColdspellError(self.what, Place(shown(folder / self.path), self.line, self.column), self.mend)


class Built(msgspec.Struct, frozen=True, array_like=True):
    """One library folder. Maps of many names are kept in groups, decoded when a name is asked for."""

    digest: str
    """Changes whenever any file does; the same for the same files wherever the folder lies."""
    record_groups: Groups
    index_groups: Groups
    source_groups: Groups
    rest: bytes
    """A :class:`Rest`, encoded."""
    left_out: tuple["LeftOut", ...] = ()
    """Files that hold no sound record."""

    @property
    def records(self) -> "Grouped":
        """By accepted name, sorted: a :class:`~coldspell.records.model.Record` each."""
        return Grouped(self.record_groups)

    @property
    def index(self) -> "Grouped":
        """By folded name, sorted: a list of :class:`Entry` each."""
        return Grouped(self.index_groups)

    @property
    def bibliography(self) -> Mapping[str, msgspec.Raw]:
        """By id: a map of CSL data each."""
        return Grouped(self.source_groups)


class Rest(msgspec.Struct, frozen=True, array_like=True):
    """What is wanted only for names that are not found at once."""

    units: dict[str, list[str]]
    """Records by what is handled (acorn, nut, …)."""
    words: dict[str, list[str]]
    """Common words that mean several plants, and the genera they mean; genera of one species."""
    beside: BesideNames = BesideNames()
    """What people write beside names."""


def rest_of(built: Built) -> Rest:
    """The units and words of a library."""
    return msgspec.msgpack.decode(built.rest, type=Rest)


def in_groups(values: Mapping[str, Any]) -> Groups:
    """Encode a map of many names by groups; values that are encoded already stay as they are."""
    groups: dict[str, dict[str, Any]] = {}
    for name, value in values.items():
        groups.setdefault(name[:_LETTERS], {})[name] = value
    return {letters: memoryview(msgspec.msgpack.encode(group)) for letters, group in groups.items()}


class Grouped(Mapping[str, msgspec.Raw]):
    """A map in groups, of which only those are decoded that are asked for."""

    __slots__ = ("_groups", "_known")

    def __init__(self, groups: Groups) -> None:
        self._groups = groups
        self._known: dict[str, dict[str, msgspec.Raw]] = {}

    def _group(self, letters: str) -> dict[str, msgspec.Raw]:
        if letters not in self._known:
            raw = self._groups.get(letters)
            found = {} if raw is None else msgspec.msgpack.decode(raw, type=dict[str, msgspec.Raw])
            self._known[letters] = found
        return self._known[letters]

    def __getitem__(self, key: str) -> msgspec.Raw:
        return self._group(key[:_LETTERS])[key]

    def __contains__(self, key: object) -> bool:
        return isinstance(key, str) and key in self._group(key[:_LETTERS])

    def beginning(self, prefix: str) -> Iterator[str]:
        """Yield the names that begin with a prefix of two letters or more."""
        yield from (name for name in self._group(prefix[:_LETTERS]) if name.startswith(prefix))

    def __iter__(self) -> Iterator[str]:
        for letters in self._groups:
            yield from self._group(letters)

    def __len__(self) -> int:
        return sum(len(self._group(letters)) for letters in self._groups)


class Decoded(Mapping[str, T], Generic[T]):
    """Values by name, each decoded when it is asked for."""

    __slots__ = ("_decoder", "_raw")

    def __init__(self, raw: Mapping[str, msgspec.Raw], kind: Any) -> None:
        self._raw = raw
        self._decoder: msgspec.msgpack.Decoder[T] = msgspec.msgpack.Decoder(kind)

    def __getitem__(self, key: str) -> T:
        return self._decoder.decode(self._raw[key])

    def __contains__(self, key: object) -> bool:
        return key in self._raw

    def __iter__(self) -> Iterator[str]:
        return iter(self._raw)

    def __len__(self) -> int:
        return len(self._raw)


def merged(parts: Sequence[Built]) -> Built:
    """Return several libraries as one: a record of a later one replaces the whole record of that name."""
    if len(parts) == 1:
        return parts[0]
    from hashlib import blake2b

    owner = {name: number for number, part in enumerate(parts) for name in part.records}
    bibliography: dict[str, msgspec.Raw] = {}
    words: dict[str, list[str]] = {}
    units: dict[str, list[str]] = {}
    beside = BesideNames()
    index: dict[str, list[Entry]] = {}
    for number, part in enumerate(parts):
        bibliography |= part.bibliography
        rest = rest_of(part)
        words |= rest.words
        beside = beside.with_more(rest.beside)
        for unit, names in rest.units.items():
            units.setdefault(unit, []).extend(name for name in names if owner[name] == number)
        for folded, entries in Decoded[list[Entry]](part.index, list[Entry]).items():
            index.setdefault(folded, []).extend(one for one in entries if owner[one.record] == number)
    sorted_units = {unit: sorted(names) for unit, names in units.items() if names}
    return Built(
        blake2b("".join(part.digest for part in parts).encode(), digest_size=16).hexdigest(),
        in_groups({name: parts[owner[name]].records[name] for name in sorted(owner)}),
        in_groups({folded: sorted(index[folded], key=_rank) for folded in sorted(index) if index[folded]}),
        in_groups(dict(sorted(bibliography.items()))),
        msgspec.msgpack.encode(Rest(sorted_units, words, beside)),
    )


def _rank(entry: Entry) -> tuple[int, str]:
    return _KINDS.index(entry.kind), entry.record
