"""Compile the files of a library into what the cache keeps; stop at the first fault, with its place."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import msgspec

from coldspell.document import Mapping, Node, decode, parse, place, plain
from coldspell.errors import ColdspellError, Place
from coldspell.library.compiled import Entry
from coldspell.library.files import BIBLIOGRAPHY, NOT_RECORDS, WORDS, LibraryFile
from coldspell.library.names import index_of
from coldspell.library.schema import Violation, shipped_check
from coldspell.library.shape import to_record_shape
from coldspell.pieces import Pieces

_encode = msgspec.json.encode


def read_valid(file: LibraryFile, schema: str) -> Node:
    """Return the root node of a file that is valid by a shipped schema.

    Raises
    ------
    ColdspellError
        At the first fault, with its place and the number of further ones.
    """
    root = parse(decode(file.data, file.shown), file.shown)
    report: list[Violation] = []
    shipped_check(schema)(root, report)
    if report:
        first, more = report[0], len(report) - 1
        further = f" ({more} more in this file: run 'coldspell species check')" if more else ""
        raise ColdspellError(first.what + further, place(first.node, file.shown), first.mend)
    return root


def compile_library(files: Sequence[LibraryFile]) -> Pieces:
    """Compile library files (into what :class:`~coldspell.library.compiled.Compiled` reads).

    A record of a later library replaces the one of an earlier.
    """
    records: dict[str, dict[str, Any]] = {}
    owners: dict[str, LibraryFile] = {}
    for file in files:
        if file.relative.rsplit("/")[-1] in NOT_RECORDS:
            continue
        root = read_valid(file, "record")
        shaped = to_record_shape(plain(root))
        name = shaped["name"]
        owner = owners.get(name)
        if owner and owner.library == file.library:
            where = _name_place(root, file)
            raise ColdspellError(
                f"the name '{name}' stands in two records", where, f"The other is {owner.shown}."
            )
        shaped["path"] = file.relative
        records[name], owners[name] = shaped, file
    ordered = {name: records[name] for name in sorted(records)}
    units: dict[str, list[str]] = {}
    for name, shaped in ordered.items():
        units.setdefault(shaped["unit"], []).append(name)
    by_letter: dict[str, dict[str, list[Entry]]] = {}
    for folded, entries in index_of(ordered).items():
        by_letter.setdefault(folded[:1], {})[folded] = entries
    whole = {
        "libraries": {name: owners[name].library for name in ordered},
        "units": units,
        "words": _words(files),
    }
    return {
        "whole": {name: _encode(value) for name, value in whole.items()},
        "index": {letter: _encode(names) for letter, names in by_letter.items()},
        "records": {name: _encode(shaped) for name, shaped in ordered.items()},
        "bibliography": _bibliography(files),
    }


def _name_place(root: Node, file: LibraryFile) -> Place:
    assert isinstance(root, Mapping)
    return place(root.items["name"], file.shown)


def _each(files: Sequence[LibraryFile], name: str, use: Callable[[LibraryFile], None]) -> None:
    for file in files:
        if file.relative == name:
            use(file)


def _bibliography(files: Sequence[LibraryFile]) -> dict[str, bytes]:
    items: dict[str, bytes] = {}

    def add(file: LibraryFile) -> None:
        for item in plain(read_valid(file, "csl-data")):
            items[item["id"]] = _encode(item)

    _each(files, BIBLIOGRAPHY, add)
    return dict(sorted(items.items()))


def _words(files: Sequence[LibraryFile]) -> dict[str, list[str]]:
    words: dict[str, list[str]] = {}
    _each(files, WORDS, lambda file: words.update(plain(read_valid(file, "common-words"))))
    return words
