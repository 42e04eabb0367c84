"""Names of kinds without a record: which are taken for the name of a plant, and which are a slip of the pen.

The names are invented, or those of the library with a slip; how names are taken is our own choice.
"""

from __future__ import annotations

import pytest

from coldspell.library.library import Library
from coldspell.library.load import load_library, shipped_dirs
from coldspell.library.names import Missing, look_up
from coldspell.library.unrecorded import UNKNOWN, unrecorded


@pytest.fixture(scope="module")
def library() -> Library:
    return load_library(shipped_dirs())


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("unknown", UNKNOWN),
        ("Name unknown", UNKNOWN),
        ("Nosuchia planta", "Nosuchia planta"),
        ("Nosuchia planta Auct.", "Nosuchia planta"),
        ("Nosuchia courbaril", "Nosuchia courbaril"),
        ("Nosuchia sp.", "Nosuchia"),
        ("quercus novissima", "Quercus novissima"),
        ("Quercus × novissima", "Quercus novissima"),
        ("Quercus rubar Auct.", "Quercus rubar"),
    ],
)
def test_a_botanical_name_is_answered(library: Library, typed: str, name: str) -> None:
    found = unrecorded(library, typed)
    assert found is not None
    assert found.stand_in.name == name


@pytest.mark.parametrize(
    "typed",
    ["", "Xyzzy", "northen red oka", "Blue flugelberry", "Bunya pine", "Quercus rubar", "Qercus rubra",
     "nosuchia planta", "red", "Nosuchia", "12 seeds", "Quercus"],
)  # fmt: skip
def test_what_is_no_plant_name_or_a_slip_is_not(library: Library, typed: str) -> None:
    assert unrecorded(library, typed) is None


def test_no_other_genus_is_offered_for_its_epithet(library: Library) -> None:
    found = look_up(library, "Nosuchia rubra")
    assert isinstance(found, Missing)
    assert not [name for name in found.nearest if name.endswith(" rubra")]


def test_relatives_are_those_of_the_genus_by_name_or_synonym(library: Library) -> None:
    found = unrecorded(library, "Fagus nova")
    assert found is not None
    assert {record.name.split()[0] for record in found.relatives} == {"Fagus"}
    assert found.stand_in.family == "Fagaceae"
