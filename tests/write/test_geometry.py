"""The block in a container, measured again by hand: what a drawing shows must be what the amounts say."""

from __future__ import annotations

import math
from datetime import date

import pytest

from coldspell import recipe

TODAY = date(2026, 11, 30)


def test_layers_lie_as_the_arithmetic_has_them() -> None:
    found = recipe("northern red oak", today=TODAY, seeds=20, moisture="fresh", container="300x200x200")
    layout, medium = found.layout, found.medium
    assert layout is not None
    assert medium is not None
    assert (medium.packs, layout.shape) == ("layers", "box")
    length, width, thickness = found.lot.seed_mm
    assert length >= width >= thickness
    assert layout.pitch_mm == pytest.approx(width + (layout.gap_mm or 0))
    assert sorted(layout.footprint_mm) == [200, 300]
    assert layout.layers is not None
    assert layout.depth_mm == pytest.approx(layout.layers * thickness + (layout.layers + 1) * 25, abs=0.1)


@pytest.mark.parametrize(
    ("name", "seeds", "packs"), [("apple", 15, "rolled"), ("paper birch", 500, "surface")]
)
def test_a_form_says_how_it_packs_in_closed_words(name: str, seeds: int, packs: str) -> None:
    found = recipe(name, today=TODAY, seeds=seeds, moisture="dried")
    assert found.medium is not None
    assert found.layout is not None
    assert found.medium.packs == packs
    assert found.layout.shape == {"rolled": "roll", "surface": "tray"}[packs]
    assert found.layout.per_container == math.ceil(seeds / (found.medium.containers or 1))


def test_the_block_of_a_mixture_holds_its_medium_and_seed() -> None:
    """One to three volumes of medium to one of seed (common practice)."""
    found = recipe("black walnut", today=TODAY, seeds=400, moisture="fresh", container="600x400x400")
    layout, medium = found.layout, found.medium
    assert layout is not None
    assert medium is not None
    assert layout.depth_mm is not None
    assert medium.litres is not None
    assert medium.containers is not None
    block = math.prod(layout.footprint_mm) * layout.depth_mm / 1e6 * medium.containers
    seed_litres = block - medium.litres
    assert 0.98 < medium.litres / seed_litres < 3.1
    assert layout.depth_mm < layout.dimensions_mm[2]


def test_pot_and_mesh_are_there_where_the_words_name_them() -> None:
    """Pots 200-360 mm deep, mesh 6-13 mm: rules/practice.yaml, marked common practice."""
    acorn = recipe("northern red oak", today=TODAY, seeds=20, moisture="fresh").sowing
    assert acorn is not None
    assert acorn.into == "deep_pot"
    assert acorn.pot_depth_mm is not None
    assert "20–36 cm" in acorn.says
    assert acorn.pot_depth_mm[::2] == (200, 360)
    assert acorn.mesh_mm is not None
    assert "6–13 mm" in acorn.says
    apple = recipe("apple", today=TODAY, seeds=20).sowing
    assert apple is not None
    assert (apple.into, apple.pot_depth_mm, apple.mesh_mm) == ("pot", None, None)


@pytest.mark.parametrize("seeds", [1, 3, 30, 3000])
@pytest.mark.parametrize("name", ["white spruce", "paper birch", "balsam fir", "black walnut"])
def test_no_filling_is_thinner_than_a_seed(name: str, seeds: int) -> None:
    found = recipe(name, today=TODAY, seeds=seeds, moisture="dried")
    layout = found.layout
    assert layout is not None
    if layout.depth_mm is not None:
        assert layout.depth_mm >= round(found.lot.seed_mm[2], 1) > 0
        assert min(layout.footprint_mm) > found.lot.seed_mm[1]
