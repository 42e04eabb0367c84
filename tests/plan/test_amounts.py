"""Litres, water, containers and towels by each way of packing; volumes are counted again here by hand."""

from __future__ import annotations

import math
from typing import Any

import pytest

from coldspell.arithmetic.containers import Bag, Box, Tub, seeds_per_litre
from coldspell.decide.names.fields import MediumFields
from coldspell.decide.practice import Practice
from coldspell.decide.sizing import LotSize, SeedMeasure, seed_measure
from coldspell.errors import ColdspellError
from coldspell.lot.lot import Lot
from coldspell.lot.read import make_lot
from coldspell.plan.amounts import amounts

PIP = SeedMeasure(8, 5, 3, True)
NUT = SeedMeasure(25, 20, 20, True)


def form(packs: Any, per_seed: float = 0, *, holder: Any = "bag", after_layers: Any = "no") -> MediumFields:
    return MediumFields(packs, per_seed, first_look_days=14, holder=holder, after_layers=after_layers)


def size(seeds: int, seed: SeedMeasure) -> LotSize:
    sides = seed.length_mm * seed.width_mm * seed.thickness_mm
    return LotSize(seeds, seed, seeds / seeds_per_litre(sides ** (1 / 3)))


def lot(**said: Any) -> Lot:
    return make_lot(said)


def test_layers_hold_every_seed_with_medium_between(practice: Practice) -> None:
    found = amounts(
        form("layers"), "vermiculite", size(30, NUT), lot(seeds=30, container="300x200x150"), practice
    )
    assert found.container == Box(200, 300, 150)
    filling = found.filling
    assert filling.layers * filling.per_layer * found.containers >= 30
    assert filling.pitch_mm >= NUT.width_mm + practice.gap_mm
    # medium: what the layers fill, less the seeds themselves, at most the box
    box_litres = 0.3 * 0.2 * 0.15 * 1000
    assert practice.least_litres <= found.litres <= box_litres * found.containers
    assert found.space_litres == pytest.approx(box_litres * found.containers)
    assert found.sheets is None


def test_one_layer_only_takes_more_containers(practice: Practice) -> None:
    said = {"seeds": 60, "container": "300x200x200"}
    many = amounts(form("layers"), "vermiculite", size(60, NUT), lot(**said), practice)
    single = amounts(form("layers"), "vermiculite", size(60, NUT), lot(**said), practice, layers_max=1)
    assert single.filling.layers == 1 < many.filling.layers
    assert single.containers > many.containers


def test_a_nut_that_does_not_fit_is_refused(practice: Practice) -> None:
    with pytest.raises(ColdspellError, match="no seed of this size fits"):
        amounts(form("layers"), "vermiculite", size(3, NUT), lot(seeds=3, container="300x200x20"), practice)


def test_of_more_than_a_few_bags_a_bucket_and_then_a_box_is_taken(practice: Practice) -> None:
    mixed = form("mixed", 3, holder="tub", after_layers="yes")
    few = amounts(mixed, "vermiculite", size(50, NUT), lot(seeds=50), practice)
    assert few.container == Bag(*map(float, practice.bag_mm))
    more = amounts(mixed, "vermiculite", size(300, NUT), lot(seeds=300), practice)
    assert more.container == Tub(*map(float, practice.bucket_mm))
    many = amounts(mixed, "vermiculite", size(5000, NUT), lot(seeds=5000), practice)
    assert many.container == Box(*map(float, practice.bulk_box_mm))
    own = amounts(mixed, "vermiculite", size(5000, NUT), lot(seeds=5000, bag="270x280"), practice)
    assert isinstance(own.container, Bag)  # the grower's own bags, however many


def test_a_pit_takes_ground_and_no_room_in_the_cold(practice: Practice) -> None:
    found = amounts(form("mixed", 3, holder="pit"), "sand", size(10_000, NUT), lot(seeds=10_000), practice)
    assert (found.containers, found.container, found.space_litres) == (None, None, None)
    # a litre over a square metre is a millimetre: seed and three parts of sand, 300 mm deep
    seed_litres = size(10_000, NUT).seed_litres
    assert found.pit_m2 == pytest.approx(4 * seed_litres / practice.pit_fill_mm)


def test_a_roll_has_one_row_of_pips_on_each_sheet(practice: Practice) -> None:
    found = amounts(form("rolled"), "paper", size(100, PIP), lot(seeds=100), practice)
    # one row along the fold of a sheet 23 cm wide, a seed width apart: 23 pips of 5 mm
    assert (found.sheets, found.seeds_per_sheet) == (math.ceil(100 / 23), 23)
    assert found.litres is None
    assert found.space_litres == found.containers * practice.roll_litres


@pytest.mark.parametrize(("packs", "least"), [("netted", "netted_least_litres"), ("mixed", "least_litres")])
def test_mixed_medium_is_a_multiple_of_the_seed(packs: str, least: str, practice: Practice) -> None:
    few = amounts(form(packs, 3), "sand", size(10, PIP), lot(seeds=10), practice)
    assert few.litres == getattr(practice, least)
    many = amounts(form(packs, 3), "sand", size(100_000, PIP), lot(seeds=100_000), practice)
    # 8 by 5 by 3 mm fill somewhat more than a half of the room that their boxes would take
    solid = 100_000 * 8 * 5 * 3 / 1e6
    assert 3 * solid * 0.8 < many.litres < 3 * solid * 1.6
    assert many.containers == math.ceil(many.containers)
    assert many.water_ml[0] < many.water_ml[1]


def test_loose_seed_takes_no_medium_and_no_water(practice: Practice) -> None:
    found = amounts(form("loose"), "nothing", size(2000, PIP), lot(seeds=2000), practice)
    assert (found.litres, found.water_ml) == (None, None)
    assert found.containers == 1


def test_a_tray_is_sown_thinly(practice: Practice) -> None:
    dust = SeedMeasure(0.5, 0.5, 0.5, True)
    found = amounts(form("surface"), "peat", size(1000, dust), lot(seeds=1000), practice)
    assert found.litres == 1000 * practice.tray_seed_mm2 * practice.tray_depth_mm / 1e6 == 1.0
    assert found.containers == math.ceil(1.0 / practice.tray_litres)


def test_measures_of_a_seed(planned, practice: Practice) -> None:  # type: ignore[no-untyped-def]
    acorn = planned("northern red oak", seeds=9).seed
    assert acorn.from_record
    assert acorn.length_mm >= acorn.width_mm
    whole, kernel = planned("peach", seeds=9).seed, planned("peach", seeds=9, shell="kernel").seed
    assert kernel.width_mm == pytest.approx(practice.kernel_share * whole.width_mm)
    knowledge = planned("Heracleum sphondylium", seeds=9).decisions.knowledge
    guessed = seed_measure(knowledge, lot(seeds=9), practice)
    assert not guessed.from_record
    assert guessed.width_mm == guessed.length_mm
