"""A large entry of the cache in pieces: only those asked for are read, each held against its own checksum.

An entry is lines of JSON: a table of the pieces, then the pieces. As in :mod:`coldspell.cachefile` the key is
a hash of everything the content depends on, so an entry is never stale, only unused.
"""

from __future__ import annotations

import os
import zlib
from collections.abc import Callable, Iterator, Mapping
from functools import cache
from pathlib import Path

import msgspec

from coldspell.cachefile import cache_dir, entry_path, write_entry

Pieces = Mapping[str, Mapping[str, bytes]]
"""By group and name, each JSON."""
_Table = dict[str, dict[str, tuple[int, int, int]]]  # offset, length, checksum
_Read = Callable[[int, int], bytes]  # offset, length
_HEAD = 18  # checksum and length of the table, in hexadecimal


def cached_pieces(key: str, name: str, build: Callable[[], Pieces], folder: Path | None = None) -> Pieces:
    """The pieces kept under the key, or those that `build` makes (and that are kept from now on).

    Parameters
    ----------
    key, name, folder
        As those of :func:`coldspell.cachefile.cached`.
    build
        Makes all pieces. It is asked again, later, if one turns out to be damaged when it is read.
    """
    folder = folder or cache_dir()
    path = entry_path(folder, key, name) if folder else None
    anew = cache(lambda: _build(build, path))
    return (_open(path, anew) if path else None) or anew()


def _build(build: Callable[[], Pieces], path: Path | None) -> Pieces:
    made = build()
    if path:
        write_entry(path, _joined(made))
    return made


def _joined(pieces: Pieces) -> bytes:
    lines: list[bytes] = []
    table: _Table = {}
    offset = 0
    for group, members in pieces.items():
        table[group] = {}
        for name, piece in members.items():
            table[group][name] = (offset, len(piece), zlib.crc32(piece))
            lines += (piece, b"\n")
            offset += len(piece) + 1
    head = msgspec.json.encode(table) + b"\n"
    return b"".join((b"%08x %08x\n" % (zlib.crc32(head), len(head)), head, *lines))


class _Group(Mapping[str, bytes]):
    """One group of pieces in a file."""

    __slots__ = ("_anew", "_name", "_read", "_table")

    def __init__(
        self, name: str, table: Mapping[str, tuple[int, int, int]], read: _Read, anew: Callable[[], Pieces]
    ) -> None:
        self._name, self._table, self._read, self._anew = name, table, read, anew

    def __getitem__(self, name: str) -> bytes:
        offset, length, mark = self._table[name]
        try:
            piece = self._read(offset, length)
        except OSError:
            piece = b""
        return piece if zlib.crc32(piece) == mark else self._anew()[self._name][name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._table)

    def __len__(self) -> int:
        return len(self._table)


class _Handle:
    """A file held open: what another process puts in its place, or clears away, does not touch it."""

    __slots__ = ("_number",)

    def __init__(self, number: int) -> None:
        self._number = number

    def read(self, offset: int, length: int) -> bytes:
        """The bytes at an offset; threads do not disturb each other."""
        return os.pread(self._number, length, offset)

    def __del__(self) -> None:
        os.close(self._number)


def _open(path: Path, anew: Callable[[], Pieces]) -> Pieces | None:
    """The pieces of an entry; ``None`` where it is missing, cut off or damaged in its table."""
    try:
        read = _reader(path)
        head = read(0, _HEAD)
        mark, length = int(head[:8], 16), int(head[9:17], 16)
        lines = read(_HEAD, length)
        if len(lines) != length or zlib.crc32(lines) != mark:
            return None
        table = msgspec.json.decode(lines, type=_Table)
    except (OSError, ValueError, msgspec.MsgspecError):
        return None
    start = _HEAD + length

    def piece(offset: int, size: int) -> bytes:
        return read(start + offset, size)

    return {group: _Group(group, members, piece, anew) for group, members in table.items()}


def _reader(path: Path) -> _Read:
    if not hasattr(os, "pread"):  # Windows, where an open file could not be replaced either
        data = path.read_bytes()
        return lambda offset, length: data[offset : offset + length]
    return _Handle(os.open(path, os.O_RDONLY)).read
