"""How much medium and water, how many containers or towels, and how the seeds lie in them.

For one kind and one way of packing no amount falls as the lot grows, and none leaps: containers come in
sizes of which each holds at most about twice the one before.
"""

from __future__ import annotations

import math
from functools import lru_cache

from msgspec import Struct

from coldspell.arithmetic.containers import (
    Bag,
    Box,
    Container,
    Filling,
    Tub,
    container_litres,
    usable_litres,
)
from coldspell.arithmetic.water import WATER_ML_PER_LITRE, towels, water_ml
from coldspell.decide.names.fields import MediumFields
from coldspell.decide.practice import Practice
from coldspell.decide.sizing import LotSize, SeedMeasure, container_of, filled, layered_most, tray_litres
from coldspell.errors import ColdspellError
from coldspell.lot.lot import Lot


class Amounts(Struct, frozen=True):
    """What one lot takes. Litres of medium and millilitres of water (low, high) are for all containers."""

    litres: float | None = None
    water_ml: tuple[float, float] | None = None
    containers: int | None = None
    container: Container | None = None
    sheets: int | None = None
    seeds_per_sheet: int | None = None
    filling: Filling | None = None
    space_litres: float | None = None
    """Room that the containers take in a refrigerator, closed with air."""
    pit_m2: float | None = None
    """Ground that a pit takes, where it goes into one."""


def amounts(
    medium: MediumFields,
    material: str,
    size: LotSize,
    lot: Lot,
    practice: Practice,
    *,
    layers_max: int | None = None,
) -> Amounts:
    """What a lot takes in one form of medium, in at most so many layers to a container.

    Raises
    ------
    ColdspellError
        When the container the grower named does not hold a single seed.
    """
    if medium.packs == "rolled":
        return _rolled(size, practice)
    if medium.packs == "surface":
        return _on_trays(material, size, practice)
    if medium.packs == "layers":
        return _layered(material, size, lot, practice, layers_max)
    litres = None if medium.packs == "loose" else _medium_litres(medium, size, lot, practice)
    whole = size.seed_litres + (litres or 0)
    if medium.holder == "jar":  # as much water again and twice as seed
        whole = 3 * size.seed_litres
    water = _water(material, litres)
    if medium.holder == "pit":
        area = whole / 1000 / (practice.pit_fill_mm / 1000)
        return Amounts(litres, water, pit_m2=area)
    container, count = _holding(whole, size.seed_litres / size.seeds, medium, lot, practice)
    return Amounts(litres, water, count, container, space_litres=count * container_litres(container))


def _rolled(size: LotSize, practice: Practice) -> Amounts:
    sheets = towels(size.seeds, size.seed.width_mm, practice.sheet)
    space = sheets.rolls * practice.roll_litres
    return Amounts(
        None, sheets.water_ml, sheets.rolls, None, sheets.sheets, sheets.seeds_per_sheet, space_litres=space
    )


def _on_trays(material: str, size: LotSize, practice: Practice) -> Amounts:
    """Seed sown thinly over as many trays as that takes."""
    litres = max(practice.least_litres, tray_litres(size.seeds, practice))
    trays = math.ceil(litres / practice.tray_litres)
    return Amounts(litres, _water(material, litres), trays, space_litres=trays * practice.tray_litres)


def _layered(material: str, size: LotSize, lot: Lot, practice: Practice, layers_max: int | None) -> Amounts:
    container = container_of(lot, practice)
    filling = filled(size.seeds, size.seed, container, layers_max, practice)
    litres = max(
        practice.least_litres, _layers_litres(size.seeds, size.seed, container, layers_max, practice)
    )
    space = filling.containers * container_litres(container)
    water = _water(material, litres)
    return Amounts(litres, water, filling.containers, container, filling=filling, space_litres=space)


@lru_cache(maxsize=4096)
def _layers_litres(
    seeds: int, seed: SeedMeasure, container: Container, layers_max: int | None, practice: Practice
) -> float:
    """Medium for seeds in layers; no less than for fewer, though a second layer takes less room."""
    fillings = (filled(n, seed, container, layers_max, practice) for n in range(1, seeds + 1))
    return max(f.medium_litres for f in fillings)


def _medium_litres(medium: MediumFields, size: LotSize, lot: Lot, practice: Practice) -> float:
    """Litres of medium for seed that is mixed with it; never less than the last that were laid in layers."""
    least = practice.netted_least_litres if medium.packs == "netted" else practice.least_litres
    laid = layered_most(size.seed, lot, practice) if medium.after_layers == "yes" else 0
    if laid:
        own = bool(lot.container_mm or lot.bag_mm)
        container = container_of(lot, practice)
        least = max(least, _layers_litres(laid, size.seed, container, None if own else 1, practice))
    return max(least, size.seed_litres * medium.medium_per_seed)


def _holding(
    whole: float, seed_litres: float, medium: MediumFields, lot: Lot, practice: Practice
) -> tuple[Container, int]:
    """The smallest of the usual containers that holds it, and how many; the grower's own, if named."""
    if lot.container_mm or lot.bag_mm:
        own = container_of(lot, practice)
        if usable_litres(own, practice.packing) < seed_litres:
            raise ColdspellError("no seed of this size fits the container", mend="take a larger one")
        return own, math.ceil(whole / usable_litres(own, practice.packing))
    for container, most in _usual(medium, practice):
        count = math.ceil(whole / usable_litres(container, practice.packing) - 1e-9)
        if count <= most:
            return container, max(1, count)
    raise AssertionError("the last of the usual containers holds any lot")


def _usual(medium: MediumFields, practice: Practice) -> tuple[tuple[Container, float], ...]:
    """The usual containers, and how many of one size are taken before the next."""
    small, middle = Bag(*practice.bag_small_mm), Bag(*practice.bag_middle_mm)
    bag = Bag(*practice.bag_mm)
    bags: tuple[tuple[Container, float], ...] = ((bag, practice.many_bags),)
    if medium.after_layers == "no":
        bags = ((small, 1), (middle, 1), *bags)
    bucket, box = Tub(*practice.bucket_mm), Box(*practice.bulk_box_mm)
    if medium.holder == "jar":
        return ((Tub(*practice.jar_mm), 2), (bucket, math.inf))
    return (*bags, (bucket, 2), (box, math.inf))


def _water(material: str, litres: float | None) -> tuple[float, float] | None:
    if litres is None or material not in WATER_ML_PER_LITRE:
        return None
    return water_ml(material, litres)
