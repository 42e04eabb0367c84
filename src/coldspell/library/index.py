"""Index every whole name of every record, with what kind of name it is."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from coldspell.library.built import Entry
from coldspell.library.fold import fold, spellings


def index_of(records: Mapping[str, dict[str, Any]]) -> dict[str, list[Entry]]:
    """Return every folded name (common names in the singular) with the records that carry it.

    A record that carries a name twice has it once: as its strongest kind, and as a first name where it is
    the first of some language.
    """
    index: dict[str, list[Entry]] = {}

    def add(key: str, entry: Entry) -> None:
        entries = index.setdefault(key, [])
        same = [other for other in entries if other.record == entry.record]
        if not any(other.kind != "common" or other.language == entry.language for other in same):
            entries.append(entry)

    for name in records:
        add(fold(name), Entry(name, name, "name"))
    for name, record in records.items():
        for synonym in record.get("synonyms", ()):
            add(fold(synonym), Entry(name, synonym, "synonym"))
    for name, record in records.items():
        for language, commons in record.get("common_names", {}).items():
            for place, common in enumerate(commons):
                for key in spellings(common):
                    add(key, Entry(name, common, "common", language, place == 0))
    return dict(sorted(index.items()))
