"""Names: however they are typed, one plant, several, or the nearest; never a silent first match."""

from __future__ import annotations

from pathlib import Path

import pytest

from coldspell.library.load import Library, load_library, shipped_dirs
from coldspell.library.names import Found, Missing, Several, fold, look_up, singular


@pytest.fixture(scope="module")
def shipped() -> Library:
    return load_library(shipped_dirs())


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("Quercus alba", "Quercus alba"), ("QUERCUS ALBA", "Quercus alba"),
        ("  quercus   alba ", "Quercus alba"),
        ("Quercus alba L.", "Quercus alba"), ("white oak", "Quercus alba"), ("White Oaks", "Quercus alba"),
        ("white-oak", "Quercus alba"), ("white oak acorns", "Quercus alba"), ("Q. alba", "Quercus alba"),
        ("Malus × domestica", "Malus × domestica"), ("Malus x domestica", "Malus × domestica"),
        ("Malus domestica", "Malus × domestica"), ("apple seeds", "Malus × domestica"),
        ("apples", "Malus × domestica"),
        ("butternut", "Juglans cinerea"), ("peach pits", "Prunus persica"), ("peaches", "Prunus persica"),
        ("Padus serotina", "Prunus serotina"),
        ("Quercus", "Quercus"), ("quercus", "Quercus"), ("oaks", "Quercus"), ("acorn", "Quercus"),
        ("hickories", "Carya"), ("maple keys", "Acer"), ("Acer", "Acer"),
    ],
)  # fmt: skip
def test_one_plant(shipped: Library, typed: str, name: str) -> None:
    found = look_up(shipped, typed)
    assert isinstance(found, Found), found
    assert found.record.name == name
    assert found.matched_as


@pytest.mark.parametrize(
    ("typed", "genera"),
    [
        ("cedar", {"Cedrus", "Thuja", "Juniperus"}), ("cedars", {"Cedrus", "Thuja"}),
        ("chestnut", {"Castanea", "Aesculus"}), ("chestnuts", {"Castanea", "Aesculus"}),
        ("sycamore", {"Acer", "Platanus"}), ("cypress", {"Cupressus", "Taxodium"}),
        ("locust", {"Robinia", "Gleditsia"}),
    ],
)  # fmt: skip
def test_a_word_of_several_plants(shipped: Library, typed: str, genera: set[str]) -> None:
    found = look_up(shipped, typed)
    assert isinstance(found, Several), found
    assert genera <= {record.name.split()[0] for record in found.records}


@pytest.mark.parametrize(
    ("typed", "near"),
    [("Quercus albo", "Quercus alba"), ("walnt", "walnut"), ("Prunus serotin", "Prunus serotina")],
)
def test_a_near_miss_offers_the_name(shipped: Library, typed: str, near: str) -> None:
    found = look_up(shipped, typed)
    assert isinstance(found, Missing), found
    assert any(near.casefold() in name.casefold() for name in found.nearest)


def test_a_word_names_the_plants_without_a_record_too(shipped: Library) -> None:
    """Hemlock is a conifer, and a deadly herb of another genus (common knowledge, no source)."""
    found = look_up(shipped, "hemlock")
    assert isinstance(found, Several)
    assert [r.name for r in found.records] == ["Tsuga"]
    assert found.unrecorded == ("Conium",)


@pytest.mark.parametrize("typed", ["", "   ", "×", "?!", "zzzzqqq", "x" * 5000])
def test_nothing_like_it(shipped: Library, typed: str) -> None:
    assert look_up(shipped, typed) == Missing(())


def test_every_record_is_found_by_each_of_its_names(shipped: Library) -> None:
    for name in shipped.names:
        record = shipped.get(name)
        found = look_up(shipped, name)
        assert isinstance(found, Found)
        assert found.record is record
        commons = [common for names in record.common_names.values() for common in names]
        for other in (*record.synonyms, *commons):
            answer = look_up(shipped, other)
            assert not isinstance(answer, Missing), (name, other)
            if isinstance(answer, Found) and other not in commons:
                assert answer.record is record, (name, other)


def test_no_name_of_one_plant_hides_another(shipped: Library) -> None:
    """A common name that two records carry gives both."""
    owners: dict[str, set[str]] = {}
    for name in shipped.names:
        for names in shipped.get(name).common_names.values():
            for common in names:
                owners.setdefault(fold(common), set()).add(name)
    shared = {common: names for common, names in owners.items() if len(names) > 1}
    for common, names in shared.items():
        found = look_up(shipped, common)
        if isinstance(found, Found):  # the genus by its own name, or the species a genus shares it with
            assert {name.split()[0] for name in names} == {found.record.name.split()[0]}, (common, names)
            assert found.record.name == common.capitalize() or len(names) == 2, (common, names)
        else:
            assert isinstance(found, Several)
            assert names <= {record.name for record in found.records} or common in shipped.words


def test_two_plants_of_one_common_name(tmp_path: Path) -> None:
    for name in ("Exemplum unum", "Aliud alterum"):
        (tmp_path / f"{name.lower().replace(' ', '-')}.yaml").write_text(
            f"name: {name}\nfamily: Exemplaceae\nrank: species\nplant: shrub\nunit: seed\n"
            "common_names: {en: [sister plant], de: [Schwesterstrauch]}\n"
        )
    library = load_library([tmp_path], cache=tmp_path / ".cache")
    assert isinstance(look_up(library, "sister plants"), Several)
    assert isinstance(look_up(library, "SCHWESTERSTRAUCH"), Several)
    assert isinstance(look_up(library, "E. unum"), Found)


@pytest.mark.parametrize(
    ("plural", "word"),
    [
        ("cherries", "cherry"), ("peaches", "peach"), ("ashes", "ash"), ("oaks", "oak"),
        ("cypress", "cypress"),
        ("crocus", "crocus"), ("boxes", "box"), ("iris", "iris"), ("larches", "larch"),
    ],
)  # fmt: skip
def test_plurals(plural: str, word: str) -> None:
    assert singular(plural) == word


def test_folding() -> None:
    assert fold("Crataégus  ×  lavallei 'Carrierei'") == "crataegus lavallei carrierei"
    assert fold("Cornus sericea ssp. occidentalis") == fold("Cornus sericea subsp. occidentalis")
