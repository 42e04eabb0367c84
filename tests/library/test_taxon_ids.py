"""Keys of the GBIF backbone against the open list they were taken from, tests/data/external/gbif-keys.csv.

A key is certain where name, author, rank and family are those of an accepted name of the list. Nothing else
gives one: a record whose author is written otherwise has none.
"""

from __future__ import annotations

import csv
import re
from collections import Counter
from pathlib import Path

import pytest

from coldspell.library.load import load_library, shipped_dirs
from coldspell.records.model import Record

LIST = Path(__file__).parents[1] / "data" / "external" / "gbif-keys.csv"


def listed() -> dict[str, dict[str, str]]:
    with LIST.open(encoding="utf-8") as file:
        rows = list(csv.DictReader(line for line in file if not line.startswith("#")))
    times = Counter(row["name"] for row in rows)
    return {row["name"]: row for row in rows if times[row["name"]] == 1}


def key_of(record: Record, known: dict[str, dict[str, str]]) -> int | None:
    """The key that the list gives for certain."""
    row = known.get(re.sub("× ?", "", record.name))
    if row is None or record.author is None or record.rank == "genus" or row["family"] != record.family:
        return None
    return int(row["key"]) if _plain(row["author"]) == _plain(record.author) else None


def _plain(author: str) -> str:
    return re.sub(r"[\s.]", "", author).lower()


def test_keys_are_those_of_the_list_and_none_is_missing() -> None:
    library, known = load_library(shipped_dirs()), listed()
    records = [library.get(name) for name in library.names]
    has = {one.name: one.taxon.gbif for one in records if one.taxon}
    assert has == {one.name: key for one in records if (key := key_of(one, known))}
    assert len(has) >= 485
    assert len(set(has.values())) == len(has)


def test_no_id_of_another_list_is_told() -> None:
    """No open list with ids of World Flora Online was to be had: none may stand there from memory."""
    library = load_library(shipped_dirs())
    assert [name for name in library.names if (taxon := library.get(name).taxon) and taxon.wfo] == []


@pytest.mark.parametrize(
    "change", [{"author": "Mill."}, {"family": "Rosaceae"}, {"author": None}, {"name": "Quercus roburoides"}]
)
def test_what_is_not_certain_gets_no_key(change: dict[str, str | None]) -> None:
    import msgspec

    record = load_library(shipped_dirs()).get("Quercus rubra")
    assert key_of(record, listed()) is not None
    assert key_of(msgspec.structs.replace(record, **change), listed()) is None
