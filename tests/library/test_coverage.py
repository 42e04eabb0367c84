"""Coverage: of the plants that people raise from seed, how many have a record, and by whose word.

The plants are ``tests/data/raised-plants.csv``; how that list was made says ``raised-plants.md`` beside it.
A plant counts when a species record (not one of a genus) has its name or names it as a synonym. It counts as
what the first treatment rests on: ``read`` when any of its footnotes was read, else ``recalled``, else
``practice``.

The floors are what was reached on 2026-11-30; they may be raised, and are there so that no record is lost
unseen. ``pytest -s`` on this file prints the table.
"""

from __future__ import annotations

import csv
from collections import Counter
from pathlib import Path

import pytest

from coldspell.library.load import load_library, shipped_dirs
from coldspell.records.model import Record

PLANTS = Path(__file__).parents[1] / "data" / "raised-plants.csv"
BASES = ("read", "recalled", "practice", "none")
# The least number of plants with a record, and of those whose first treatment was read.
FLOORS = {"temperate": (700, 696), "warm": (150, 146)}


def _basis(record: Record) -> str:
    """Return the best basis that the first treatment of a record cites; ``none`` without a treatment."""
    if not record.treatments:
        return "none"
    said = {record.cites[note].basis for note in record.treatments[0].cite}
    return next((basis for basis in BASES if basis in said), "none")


@pytest.fixture(scope="module")
def plants() -> list[dict[str, str]]:
    with PLANTS.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.fixture(scope="module")
def bases() -> dict[str, str]:
    """Names and synonyms of all records below the genus, each with the basis of the first treatment."""
    library = load_library(shipped_dirs())
    records = [record for record in map(library.get, library.names) if record.rank != "genus"]
    found = {synonym: _basis(record) for record in records for synonym in record.synonyms}
    return found | {record.name: _basis(record) for record in records}


def test_the_list_is_sound(plants: list[dict[str, str]]) -> None:
    names = [plant["name"] for plant in plants]
    assert len(set(names)) == len(names)
    assert Counter(plant["climate"] for plant in plants) == {"temperate": 700, "warm": 150}
    assert all(plant["list"] and plant["group"] for plant in plants)


@pytest.mark.parametrize("climate", FLOORS)
def test_no_fewer_than_the_floor(plants: list[dict[str, str]], bases: dict[str, str], climate: str) -> None:
    wanted = [plant for plant in plants if plant["climate"] == climate]
    reached = Counter(bases.get(plant["name"], "none") for plant in wanted)
    known, read = len(wanted) - reached["none"], reached["read"]
    assert known >= FLOORS[climate][0], dict(reached)
    assert read >= FLOORS[climate][1], dict(reached)


def test_print_the_table(plants: list[dict[str, str]], bases: dict[str, str]) -> None:
    """Print the shares by group (shown by ``pytest -s``)."""
    groups: dict[str, Counter[str]] = {}
    for plant in plants:
        groups.setdefault(plant["group"], Counter())[bases.get(plant["name"], "none")] += 1
    print(f"\n{'group':18}{'plants':>7}" + "".join(f"{basis:>10}" for basis in BASES))
    for group, counts in groups.items():
        print(f"{group:18}{counts.total():7}" + "".join(f"{counts[basis]:10}" for basis in BASES))
    assert sum(counts.total() for counts in groups.values()) == len(plants)
