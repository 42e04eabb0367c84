"""Read a lot from a YAML or JSON file; every mistake with its line."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from coldspell.errors import ColdspellError, Place
from coldspell.lot.read import check_fact
from coldspell.lot.table import FACTS

_MOST_BYTES = 64 * 1024


def read_lot_file(path: Path) -> dict[str, Any]:
    """The facts of a lot file under their names.

    Raises
    ------
    ColdspellError
        The file cannot be read, is not a map of plain values, names a fact twice or one that no lot has.
    """
    return _json(path) if path.suffix.lower() == ".json" else _yaml(path)


def _json(path: Path) -> dict[str, Any]:
    from coldspell.yaml import document

    try:
        text = document.read_bytes(path, str(path), _MOST_BYTES).decode("utf-8-sig")
    except UnicodeDecodeError as error:
        what = f"byte {error.start + 1} is not UTF-8"
        raise ColdspellError(what, Place(str(path)), "save the file as UTF-8") from None
    try:
        found = json.loads(text, object_pairs_hook=_once)
    except json.JSONDecodeError as error:
        raise ColdspellError(
            error.msg, Place(str(path), error.lineno, error.colno), "mend the JSON"
        ) from None
    except (RecursionError, ValueError) as error:
        raise ColdspellError(
            str(error) or "too deeply nested", Place(str(path)), mend="mend the JSON"
        ) from None
    if not isinstance(found, dict):
        raise ColdspellError("a lot is a map of facts", Place(str(path)), 'for example {"seeds": 40}')
    for key, value in found.items():
        if value is None:
            continue
        try:
            check_fact(key, value)
        except ColdspellError as error:
            raise ColdspellError(error.what, Place(str(path)), error.mend) from None
    return found


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for key, value in pairs:
        if key in found:
            raise ValueError(f"{key} is given twice")
        found[key] = value
    return found


def _yaml(path: Path) -> dict[str, Any]:
    from coldspell.yaml import document

    name = str(path)
    root = document.parse(document.decode(document.read_bytes(path, name, _MOST_BYTES), name), name)
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
