"""The index for the search: every name of every record, folded as the program folds what is typed."""

from __future__ import annotations

import json
from collections.abc import Iterable
from pathlib import PurePosixPath

from msgspec import Struct

from coldspell.library.fold import fold, spellings
from coldspell.records.model import Record
from coldspell.web.shelf import common


class Plant(Struct, frozen=True):
    """One record in the index: botanical and common name, its page, and all its names folded."""

    name: str
    common: str
    file: str
    names: tuple[str, ...]


def page_of(record: Record) -> str:
    """The file of a record's page."""
    return f"{PurePosixPath(record.path).stem}.html"


def plant(record: Record) -> Plant:
    """A record as the search knows it."""
    called = (name for names in record.common_names.values() for name in names)
    folded = [fold(record.name), *map(fold, record.synonyms), *(s for one in called for s in spellings(one))]
    return Plant(record.name, common(record), page_of(record), tuple(dict.fromkeys(folded)))


def script(plants: Iterable[Plant]) -> str:
    """The index as a script file, since a page that is opened as a file may read no other kind.

    Each row is name, common name, page, and the names behind bars.
    """
    rows = [[one.name, one.common, one.file, "|".join(one.names)] for one in plants]
    text = ",\n".join(json.dumps(row, ensure_ascii=False, separators=(",", ":")) for row in rows)
    return f"window.coldspellPlants = [\n{text}\n];\n"
