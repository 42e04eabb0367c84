"""Which records a search finds, and in what order."""

from __future__ import annotations

from pathlib import Path

import pytest

from coldspell.library.load import Library, load_library
from coldspell.library.search import Wanted, genus_of, ripe_in, search

RECORD = """name: {name}
family: {family}
rank: {rank}
plant: {plant}
unit: seed
common_names: {{en: [{common}]}}
harvest: {{months: [{first}, {last}], cite: usual}}
treatments: [{{name: sow, steps: [{{do: sow}}], cite: usual}}]
cites: {{usual: {{basis: practice}}}}
"""
KINDS = (
    ("Exemplum", "Exemplaceae", "genus", "shrub", "example bush", 9, 10),
    ("Exemplum album", "Exemplaceae", "species", "shrub", "white example", 9, 10),
    ("Exemplum nigrum", "Exemplaceae", "species", "shrub", "black example", 11, 2),
    ("Fictia alba", "Fictiaceae", "species", "conifer", "white fiction", 3, 5),
    ("× Mixtum rarum", "Fictiaceae", "hybrid", "conifer", "rare mixture", 6, 6),
)


@pytest.fixture(scope="module")
def library(tmp_path_factory: pytest.TempPathFactory) -> Library:
    folder = tmp_path_factory.mktemp("species")
    keys = ("name", "family", "rank", "plant", "common", "first", "last")
    for number, kind in enumerate(KINDS):
        text = RECORD.format(**dict(zip(keys, kind, strict=True)))
        (folder / f"kind-{number}.yaml").write_text(text, encoding="utf-8")
    return load_library([Path(folder)])


def found(library: Library, text: str = "", limit: int = 9, **wanted: object) -> list[str]:
    return [hit.record.name for hit in search(library, text, Wanted(**wanted), limit)]  # type: ignore[arg-type]


def test_without_a_text_all_that_are_wanted_by_name(library: Library) -> None:
    assert found(library) == sorted(library.names)
    assert found(library, limit=2) == sorted(library.names)[:2]
    assert found(library, plant="conifer") == [n for n in sorted(library.names) if "Ex" not in n]
    assert found(library, family="exemplaceae", month=1) == ["Exemplum nigrum"]
    assert found(library, genus="MIXTUM") == ["× Mixtum rarum"]


def test_the_name_itself_comes_first_then_what_begins_with_it_then_what_holds_it(library: Library) -> None:
    hits = search(library, "Exemplum", Wanted(), 9)
    assert hits[0].record.name == "Exemplum"
    assert hits[0].score == 100
    assert {hit.record.name for hit in hits[1:]} == {"Exemplum album", "Exemplum nigrum"}
    assert all(90 < hit.score < 100 for hit in hits[1:])
    assert found(library, "fiction") == ["Fictia alba"]
    assert found(library, "white") == ["Exemplum album", "Fictia alba"]


def test_a_misspelt_name_is_found_and_scores_less(library: Library) -> None:
    (hit, *_) = search(library, "Exemplum nigrun", Wanted(), 9)
    assert (hit.record.name, hit.name) == ("Exemplum nigrum", "Exemplum nigrum")
    assert 72 <= hit.score <= 92
    assert found(library, "quite something else") == []


def test_a_common_name_leads_to_its_record_and_is_said(library: Library) -> None:
    (hit, *_) = search(library, "black examples", Wanted(), 9)
    assert (hit.record.name, hit.name, hit.score) == ("Exemplum nigrum", "black example", 100)
    assert found(library, "white", plant="conifer") == ["Fictia alba"]


@pytest.mark.parametrize(
    ("month", "ripe"), [(10, False), (11, True), (12, True), (1, True), (2, True), (3, False)]
)
def test_months_run_over_the_end_of_the_year(library: Library, month: int, ripe: bool) -> None:
    assert ripe_in(library.get("Exemplum nigrum"), month) is ripe


def test_the_genus_of_a_hybrid_genus(library: Library) -> None:
    assert genus_of(library.get("× Mixtum rarum").name) == "Mixtum"
