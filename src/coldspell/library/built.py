"""A compiled library: what the cache keeps for each folder and what the wheel carries of the shipped one."""

# Without postponed annotations: msgspec evaluates those of each class anew at every start.

from collections.abc import Iterator, Mapping, Sequence
from typing import Any, Generic, TypeVar

import msgspec

T = TypeVar("T")
_KINDS = ("name", "synonym", "common")  # the strongest first


class Entry(msgspec.Struct, frozen=True, array_like=True):
    """A name that leads to a record: the name as printed, and what it is (name, synonym, common)."""

    record: str
    printed: str
    kind: str


class Built(msgspec.Struct, frozen=True, array_like=True):
    """One library folder; records, sources and index entries are decoded when they are asked for."""

    digest: str
    """Changes whenever any file does; the same for the same files wherever the folder lies."""
    records: dict[str, msgspec.Raw]
    """By accepted name, sorted: a :class:`~coldspell.records.model.Record` each."""
    index: dict[str, msgspec.Raw]
    """By folded name, sorted: a list of :class:`Entry` each."""
    bibliography: dict[str, msgspec.Raw]
    """By id: a map of CSL data each."""
    units: dict[str, list[str]]
    """Records by what is handled (acorn, nut, …)."""
    words: dict[str, list[str]]
    """Common words that mean several plants, and the genera they mean."""


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
    index: dict[str, list[Entry]] = {}
    for number, part in enumerate(parts):
        bibliography |= part.bibliography
        words |= part.words
        for unit, names in part.units.items():
            units.setdefault(unit, []).extend(name for name in names if owner[name] == number)
        for folded, entries in Decoded[list[Entry]](part.index, list[Entry]).items():
            index.setdefault(folded, []).extend(one for one in entries if owner[one.record] == number)
    return Built(
        blake2b("".join(part.digest for part in parts).encode(), digest_size=16).hexdigest(),
        {name: parts[owner[name]].records[name] for name in sorted(owner)},
        {folded: _raw(sorted(index[folded], key=_rank)) for folded in sorted(index) if index[folded]},
        dict(sorted(bibliography.items())),
        {unit: sorted(names) for unit, names in units.items() if names},
        words,
    )


def _rank(entry: Entry) -> tuple[int, str]:
    return _KINDS.index(entry.kind), entry.record


def _raw(value: Any) -> msgspec.Raw:
    return msgspec.Raw(msgspec.msgpack.encode(value))
