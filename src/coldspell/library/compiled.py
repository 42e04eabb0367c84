"""The compiled library as it is kept between runs: records stay undecoded until one is asked for."""

from __future__ import annotations

import msgspec


class Entry(msgspec.Struct, frozen=True, array_like=True):
    """A name that leads to a record: the name as printed, and what it is (name, synonym, common)."""

    record: str
    printed: str
    kind: str


class Compiled(msgspec.Struct, frozen=True):
    """A whole library; ``libraries`` says which library (from 0) a record came from."""

    records: dict[str, msgspec.Raw]
    libraries: dict[str, int]
    index: dict[str, list[Entry]]
    units: dict[str, list[str]]
    words: dict[str, list[str]]
    bibliography: dict[str, msgspec.Raw]
