"""What the plant database of the United States calls poisonous has a hazard on record, and the reverse.

Source: ratings of the PLANTS Database (tests/data/external/plant-toxicity.csv). It says of a plant that it
is poisonous to stock or people in some degree, not which part or how, and it calls lily-of-the-valley
harmless: it shows what records forgot, and proves nothing of what they say.
"""

from __future__ import annotations

from collections import Counter
from functools import cache

import pytest
from external import rows

from coldspell.library.load import Library, load_library, shipped_dirs
from coldspell.records.model import Hazard
from coldspell.records.name import genus_of

HARM = frozenset({"poison", "cyanide", "skin", "allergy"})
LEFT = {
    "Rubus idaeus": "rated slight as a species and none in its varieties; a fruit that is eaten everywhere",
    "Convallaria majalis": "rated none; deadly by poison centres, whose lists the record names",
    "Wisteria frutescens": "rated none; the record takes over what is known of the genus",
}
"""Where record and rating part, and why that stands."""


@cache
def _library() -> Library:
    return load_library(shipped_dirs())


def _hazards(name: str) -> tuple[Hazard, ...]:
    """The hazards of a record and those that it has from its genus."""
    genus = genus_of(name)
    own = _library().get(name).hazards
    return (*own, *(_library().get(genus).hazards if genus in _library() else ()))


def _forgotten(without: frozenset[str] = frozenset()) -> list[str]:
    rated = [row["name"] for row in rows("plant-toxicity.csv") if row["toxicity"] != "none"]
    harmless = [n for n in rated if n in without or not any(one.kind in HARM for one in _hazards(n))]
    return sorted(set(harmless) - set(LEFT))


def test_no_plant_that_is_rated_poisonous_is_without_a_hazard(capsys: pytest.CaptureFixture[str]) -> None:
    count = Counter(row["toxicity"] for row in rows("plant-toxicity.csv"))
    with capsys.disabled():
        print(f"\nratings of harm: {dict(count)}, {len(LEFT)} differ")
    assert count["slight"] + count["moderate"] + count["severe"] >= 90
    assert _forgotten() == []


def test_what_is_deadly_is_not_rated_harmless_but_where_told() -> None:
    harmless = {row["name"] for row in rows("plant-toxicity.csv") if row["toxicity"] == "none"}
    assert {name for name in harmless if any(one.deadly for one in _hazards(name))} <= set(LEFT)


def test_a_forgotten_hazard_is_seen() -> None:
    """Each rated record without its hazards would be named."""
    rated = {row["name"] for row in rows("plant-toxicity.csv") if row["toxicity"] in ("moderate", "severe")}
    assert set(_forgotten(frozenset(rated))) == rated - set(LEFT)


def test_the_table_names_records() -> None:
    assert all(row["name"] in _library() and row["symbol"] for row in rows("plant-toxicity.csv"))
