"""Read a lot from a YAML or JSON file; every mistake with its line."""

from __future__ import annotations

import json
import re
import sys
from contextlib import nullcontext
from pathlib import Path
from typing import Any

from coldspell.errors import ColdspellError, Place
from coldspell.lot.read import check_fact
from coldspell.lot.table import FACTS

_MOST_BYTES = 64 * 1024


def read_lot_file(path: Path) -> dict[str, Any]:
    """The facts of a lot file under their names; ``-`` is what is piped in, YAML or JSON.

    Raises
    ------
    ColdspellError
        The file cannot be read, is not a map of plain values, names a fact twice or one that no lot has.
    """
    name, data = str(path), _bytes(path)
    piped = name == "-" or not path.suffix
    if path.suffix.lower() == ".json" or (piped and re.match(rb"\s*\{\s*[\"}]", data)):
        return _json(data, name)
    return _yaml(data, name)


def _bytes(path: Path) -> bytes:
    """What a file holds, or what is piped in: as ``-``, or as the shell names it (``<(command)``)."""
    from coldspell.yaml import document

    if str(path) != "-" and not path.is_fifo():
        return document.read_bytes(path, str(path), _MOST_BYTES)
    if str(path) == "-" and sys.stdin is None:
        raise ColdspellError("standard input is closed", mend="pipe a lot in, or name its file")
    with nullcontext(sys.stdin.buffer) if str(path) == "-" else path.open("rb") as stream:
        data = stream.read(_MOST_BYTES + 1)
    if len(data) > _MOST_BYTES:
        raise ColdspellError(f"a lot is larger than {_MOST_BYTES // 1024} KB", mend="for many lots: --lots")
    return data


def _json(data: bytes, name: str) -> dict[str, Any]:
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        what = f"byte {error.start + 1} is not UTF-8"
        raise ColdspellError(what, Place(name), "save the file as UTF-8") from None
    try:
        found = json.loads(text, object_pairs_hook=_once)
    except json.JSONDecodeError as error:
        raise ColdspellError(error.msg, Place(name, error.lineno, error.colno), "mend the JSON") from None
    except RecursionError:
        raise ColdspellError("too deeply nested", Place(name), "a lot is a map of facts") from None
    except ValueError as error:
        raise ColdspellError(str(error), Place(name), mend="mend the JSON") from None
    if not isinstance(found, dict):
        raise ColdspellError("a lot is a map of facts", Place(name), 'for example {"seeds": 40}')
    for key, value in found.items():
        if value is None:
            continue
        try:
            check_fact(key, value)
        except ColdspellError as error:
            raise ColdspellError(error.what, Place(name), error.mend) from None
    return found


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for key, value in pairs:
        if key in found:
            raise ValueError(f"{key} is given twice")
        found[key] = value
    return found


def _yaml(data: bytes, name: str) -> dict[str, Any]:
    from coldspell.yaml import document

    root = document.parse(document.decode(data, name), name)
    if not isinstance(root, document.Mapping):
        raise ColdspellError("a lot is a map of facts", document.place(root, name), "for example  seeds: 40")
    found = {}
    for key, node in root.items.items():
        found[key] = document.plain(node)
        if found[key] is None:
            continue
        try:
            check_fact(key, found[key])
        except ColdspellError as error:
            at = root.keys[key] if key not in FACTS else node
            raise ColdspellError(error.what, document.place(at, name), error.mend) from None
    return found
