"""Thirty recipes as printed, each read as a grower would. COLDSPELL_GOLDEN=write makes them anew."""

from __future__ import annotations

import os
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pages
import pytest

from coldspell.records.model import Record
from coldspell.write.recipe import Recipe

FOLDER = Path(__file__).parent.parent / "golden"
NAMES = """
Juglans nigra, Juglans regia, Juglans cinerea, Carya illinoinensis, Carya ovata, Carya cordiformis,
Castanea dentata, Castanea mollissima, Castanea sativa, Corylus avellana, Corylus americana,
Quercus rubra, Quercus velutina, Quercus palustris, Quercus alba, Quercus macrocarpa, Quercus robur,
Fagus grandifolia, Fagus sylvatica, Aesculus hippocastanum, Malus × domestica, Pyrus communis,
Cydonia oblonga, Prunus persica, Prunus armeniaca, Prunus domestica, Prunus avium, Prunus serotina,
Diospyros virginiana, Asimina triloba
"""
SPECIES = [" ".join(n.split()) for n in NAMES.split(",")]


@pytest.mark.parametrize("name", SPECIES)
def test_recipe_as_printed(name: str, ask: Callable[..., Recipe]) -> None:
    recipe = ask(
        name, seeds=30, moisture="fresh", collected="2026-10-20", sow="2027-04-20", today=date(2026, 10, 21)
    )
    page = pages.short(recipe, 80)
    path = FOLDER / f"{name.lower().replace(' × ', '-x-').replace(' ', '-')}.txt"
    if os.environ.get("COLDSPELL_GOLDEN") == "write":
        path.parent.mkdir(exist_ok=True)
        path.write_text(page, encoding="utf-8")
    assert page == path.read_text(encoding="utf-8")


def test_thirty_records_are_complete(library: object) -> None:
    """Each has size, treatment, harvest, offspring, counts and sowing, and storage or dormancy."""
    for name in SPECIES:
        record: Record = library.get(name)  # type: ignore[attr-defined]
        for topic in (
            "size",
            "treatments",
            "harvest",
            "offspring",
            "seed_mm",
            "sowing",
        ):
            assert getattr(record, topic), f"{name}: {topic}"
        assert record.storage or record.dormancy, name
