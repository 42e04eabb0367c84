"""The compiled library as it is kept between runs: nothing is decoded before it is asked for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cached_property
from typing import Any, Generic, TypeVar

import msgspec

from coldspell.pieces import Pieces

T = TypeVar("T")


class Entry(msgspec.Struct, frozen=True, array_like=True):
    """A name that leads to a record: the name as printed, and what it is (name, synonym, common)."""

    record: str
    printed: str
    kind: str


class Decoded(Mapping[str, T], Generic[T]):
    """JSON values by name, each decoded when it is asked for."""

    __slots__ = ("_decoder", "_raw")

    def __init__(self, raw: Mapping[str, bytes], decoder: msgspec.json.Decoder[T]) -> None:
        self._raw, self._decoder = raw, decoder

    def __getitem__(self, key: str) -> T:
        return self._decoder.decode(self._raw[key])

    def __contains__(self, key: object) -> bool:
        return key in self._raw

    def __iter__(self) -> Iterator[str]:
        return iter(self._raw)

    def __len__(self) -> int:
        return len(self._raw)


class Index(Mapping[str, list[Entry]]):
    """Records by folded name; only the names that begin with the letter asked for are decoded."""

    __slots__ = ("_by_letter", "_known")

    def __init__(self, by_letter: Mapping[str, bytes]) -> None:
        self._by_letter = by_letter
        self._known: dict[str, dict[str, list[Entry]]] = {}

    def _names(self, letter: str) -> dict[str, list[Entry]]:
        if letter not in self._known:
            piece = self._by_letter.get(letter, b"{}")
            self._known[letter] = msgspec.json.decode(piece, type=dict[str, list[Entry]])
        return self._known[letter]

    def __getitem__(self, key: str) -> list[Entry]:
        return self._names(key[:1])[key]

    def __iter__(self) -> Iterator[str]:
        for letter in self._by_letter:
            yield from self._names(letter)

    def __len__(self) -> int:
        return sum(len(self._names(letter)) for letter in self._by_letter)


class Compiled:
    """A whole library in pieces; see :func:`coldspell.library.compile.compile_library`."""

    def __init__(self, pieces: Pieces) -> None:
        self.records = pieces["records"]
        self.bibliography: Decoded[dict[str, Any]] = Decoded(
            pieces["bibliography"], msgspec.json.Decoder(dict[str, Any])
        )
        self.index = Index(pieces["index"])
        self._whole = pieces["whole"]

    @cached_property
    def libraries(self) -> dict[str, int]:
        """Which library (from 0) a record came from."""
        return msgspec.json.decode(self._whole["libraries"], type=dict[str, int])

    @cached_property
    def units(self) -> dict[str, list[str]]:
        """Records by what is handled."""
        return msgspec.json.decode(self._whole["units"], type=dict[str, list[str]])

    @cached_property
    def words(self) -> dict[str, list[str]]:
        """Genera by common word."""
        return msgspec.json.decode(self._whole["words"], type=dict[str, list[str]])
