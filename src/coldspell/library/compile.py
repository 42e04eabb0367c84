"""Compile the files of one library folder; records with a fault are left out, with its place."""

from __future__ import annotations

from hashlib import blake2b
from pathlib import Path
from typing import Any

import msgspec

from coldspell.errors import ColdspellError, Place
from coldspell.library.beside import BesideNames
from coldspell.library.built import Built, LeftOut, Rest, in_groups
from coldspell.library.files import BESIDE, BIBLIOGRAPHY, NOT_RECORDS, WORDS, LibraryFile, read_file, walk
from coldspell.library.fold import fold
from coldspell.library.index import index_of
from coldspell.library.published import faults
from coldspell.library.schema import Violation, shipped_check
from coldspell.records.shape import to_record_shape
from coldspell.yaml.document import Mapping, Node, Scalar, decode, parse, place, plain


def compile_library(folder: Path) -> Built:
    """Read, check by the schemas and compile every file of a library folder.

    A file of records with a fault is left out and named in the result: one slip stops no other answer.

    Raises
    ------
    ColdspellError
        At the first fault of the bibliography or the words, with its place and the number of further
        ones: without them many records would say something else.
    """
    whole = blake2b(digest_size=16)
    records: dict[str, dict[str, Any]] = {}
    owners: dict[str, LibraryFile] = {}
    sources: dict[str, Any] = {}
    words: dict[str, list[str]] = {}
    beside = BesideNames()
    left_out: list[LeftOut] = []
    for relative, path in walk(folder):
        file = _read(path, relative, left_out)
        whole.update(f"0\0{relative}\0{len(file.data)}\0".encode())
        whole.update(file.data)
        if relative == BIBLIOGRAPHY:
            root = _parsed(file)
            _refuse(faults(root, "csl-data"), file)
            sources = {item["id"]: item for item in plain(root)}
        elif relative == WORDS:
            root = _parsed(file)
            _refuse(faults(root, "common-words"), file)
            words = plain(root)
        elif relative == BESIDE:
            root = _parsed(file)
            _refuse(faults(root, "beside-names"), file)
            beside = _beside(plain(root))
        elif path.name not in NOT_RECORDS and file.data:
            _add(file, records, owners, left_out)
    ordered = {name: records[name] for name in sorted(records)}
    units: dict[str, list[str]] = {}
    for name, shaped in ordered.items():
        units.setdefault(shaped["unit"], []).append(name)
    return Built(
        whole.hexdigest(),
        in_groups(ordered),
        in_groups(index_of(ordered)),
        in_groups({key: sources[key] for key in sorted(sources)}),
        msgspec.msgpack.encode(Rest(units, words, beside)),
        tuple(left_out),
    )


def _beside(words: dict[str, Any]) -> BesideNames:
    """What is written beside names, folded, by word."""

    def by_word(groups: dict[str, list[str]]) -> dict[str, str]:
        return {fold(word): of for of, each in groups.items() for word in each}

    def plain_words(name: str) -> frozenset[str]:
        return frozenset(fold(word) or word for word in words.get(name, ()))

    return BesideNames(
        options=by_word(words.get("states", {})),
        no_seed=plain_words("no_seed"),
        small=plain_words("small"),
        units=by_word(words.get("units", {})),
        between=plain_words("between"),
        compounds={fold(ending): unit for ending, unit in words.get("compounds", {}).items()},
        fits={fold(word): tuple(kinds) for word, kinds in words.get("fits", {}).items()},
        joins=plain_words("joins"),
        authors=plain_words("authors"),
        unknown=plain_words("unknown"),
        any_species=plain_words("any_species"),
    )


def _read(path: Path, relative: str, left_out: list[LeftOut]) -> LibraryFile:
    """Read a file; one of records that cannot be read is left out and comes back empty."""
    try:
        return read_file(path, relative)
    except ColdspellError as error:
        if relative in NOT_RECORDS:
            raise
        left_out.append(_left_out(relative, error))
        return LibraryFile(relative, str(path), b"")


def _parsed(file: LibraryFile) -> Node:
    return parse(decode(file.data, file.shown), file.shown)


def _add(
    file: LibraryFile,
    records: dict[str, dict[str, Any]],
    owners: dict[str, LibraryFile],
    left_out: list[LeftOut],
) -> None:
    """Add the record of a file, or the fault for which it is left out."""
    name = ""
    try:
        root = _parsed(file)
        written = root.items.get("name") if isinstance(root, Mapping) else None
        name = str(written.value) if isinstance(written, Scalar) else ""
        found: list[Violation] = []
        shipped_check("record")(root, found)
        _refuse(found, file)
        _put(root, file, records, owners)
    except ColdspellError as error:
        left_out.append(_left_out(file.relative, error, name))


def _left_out(relative: str, error: ColdspellError, name: str = "") -> LeftOut:
    at = error.where if isinstance(error.where, Place) else Place("")
    return LeftOut(relative, at.line, at.column, error.what, error.mend, name)


def _put(
    root: Node, file: LibraryFile, records: dict[str, dict[str, Any]], owners: dict[str, LibraryFile]
) -> None:
    shaped = to_record_shape(plain(root))
    name = shaped["name"]
    if name in owners:
        other = owners[name].shown
        raise ColdspellError(
            f"the name '{name}' stands in two records", _name_place(root, file), f"The other is {other}."
        )
    records[name], owners[name] = {**shaped, "path": file.relative}, file


def _refuse(found: list[Violation], file: LibraryFile) -> None:
    if found:
        first, more = found[0], len(found) - 1
        further = f" ({more} more in this file: run 'coldspell species check')" if more else ""
        raise ColdspellError(first.what + further, place(first.node, file.shown), first.mend)


def _name_place(root: Node, file: LibraryFile) -> Place:
    assert isinstance(root, Mapping)
    return place(root.items["name"], file.shown)
