"""Read a file of works: CSL-JSON by itself, BibTeX with the library that is made for it."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any, NamedTuple

from coldspell.bibliography.csl import as_csl
from coldspell.errors import ColdspellError, Place

MAX_BYTES = 4 * 1024 * 1024
"""As large as a bibliography may be."""


class Work(NamedTuple):
    """One work: its CSL data, what of it was left out, and the line where it begins (0: not known)."""

    item: dict[str, Any]
    left_out: tuple[str, ...]
    line: int


def read_works(data: bytes, file: str, form: str) -> list[Work]:
    """Return the works of a file, in its order.

    Parameters
    ----------
    file
        Name to print in errors.
    form
        ``csl`` or ``bibtex``.

    Raises
    ------
    ColdspellError
        It is too large, not UTF-8, not of that form, or holds no work.
    """
    if len(data) > MAX_BYTES:
        raise ColdspellError(f"the file is larger than {MAX_BYTES >> 20} MB", file, "Give it in parts.")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise ColdspellError("this is not UTF-8", Place(file, line), "Export it as UTF-8.") from None
    if form == "bibtex":
        from coldspell.bibliography.bibtex import works

        found = [Work(*as_csl(item), line) for item, line in works(text, file)]
    else:
        found = [Work(*as_csl(item), 0) for item in _items(text, file)]
    if not found:
        raise ColdspellError("there is no work in the file", file, "Export at least one, with its title.")
    return found


def form_of(path: Path) -> str:
    """The form that a file has by its suffix.

    >>> form_of(Path("seeds.bib")), form_of(Path("export.JSON"))
    ('bibtex', 'csl')
    """
    forms = {".bib": "bibtex", ".bibtex": "bibtex", ".json": "csl", ".csljson": "csl"}
    form = forms.get(path.suffix.lower())
    if form is None:
        what = (
            f"a file ending in '{path.suffix}' is not known here" if path.suffix else "the form is not said"
        )
        raise ColdspellError(what, str(path), "Name a .bib or .json file, or give --format bibtex or csl.")
    return form


def _items(text: str, file: str) -> list[dict[str, Any]]:
    try:
        root = json.loads(text)
    except json.JSONDecodeError as error:
        at = Place(file, error.lineno, error.colno)
        raise ColdspellError(f"this is not JSON: {error.msg}", at, "Export as CSL-JSON.") from None
    except RecursionError:
        raise ColdspellError("the lists go too deep", file, "Export as CSL-JSON.") from None
    items = root.get("items", [root]) if isinstance(root, dict) else root
    if not isinstance(items, list) or not all(isinstance(one, dict) for one in items):
        raise ColdspellError("this is not CSL-JSON: a list of works", file, "Export as CSL-JSON.")
    return items
