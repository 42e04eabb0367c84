"""How much medium and water, how many containers or towels, and how the seeds lie in them."""

from __future__ import annotations

import math

from msgspec import Struct

from coldspell.arithmetic.containers import (
    Bag,
    Box,
    Container,
    Filling,
    container_litres,
    fill,
    seeds_per_litre,
    usable_litres,
)
from coldspell.arithmetic.water import WATER_ML_PER_LITRE, sand_mix_litres, towels, water_ml
from coldspell.library.model import Quantity, SeedSize
from coldspell.recipe import practice
from coldspell.recipe.lot import Lot
from coldspell.recipe.topics import Knowledge

DEFAULT_BAG_MM = (270.0, 280.0)
"""A common plastic bag, when the grower names no container."""
MANY_BAGS = 12
"""Above so many bags a lot is reckoned in lined boxes."""
BULK_BOX = Box(400.0, 600.0, 200.0)
"""A lined, lidded box, width × length × height; common practice fills to 30 cm at most."""
KERNEL_SHARE = 0.7
"""Width of a bare kernel as a share of its shell (our choice)."""
TRAY_MM2_PER_SEED = 25.0
TRAY_DEPTH_MM = 40.0
TRAY_LITRES = 2.0
"""A small seed tray in its bag (our choice)."""
POUCH_MEDIUM_PER_SEED = 3.0
LEAST_LITRES = 0.25
ROLL_LITRES = 0.4
"""A roll of up to four sheets in its bag (our choice)."""


class SeedMeasure(Struct, frozen=True):
    """One seed as it lies on its side [mm]; ``from_record`` is false for a size-class guess."""

    length_mm: float
    width_mm: float
    thickness_mm: float
    from_record: bool


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


def seed_measure(knowledge: Knowledge, lot: Lot) -> SeedMeasure:
    """Measures of one seed: the record's, else a typical width of its size class (marked)."""
    size: SeedSize | None = knowledge.value("seed_mm")
    scale = KERNEL_SHARE if lot.shell == "kernel" else 1.0
    if size is None:
        width = scale * practice.WIDTH_MM[knowledge.value("size") or "unknown"]
        return SeedMeasure(width, width, width, False)
    known = [scale * _typical(q) for q in (size.length, size.width, size.thickness) if q is not None]
    length = scale * _typical(size.length) if size.length else max(known)
    width = scale * _typical(size.width) if size.width else (length if len(known) == 1 else min(known))
    thickness = scale * _typical(size.thickness) if size.thickness else width
    return SeedMeasure(max(length, width), width, thickness, True)


def _typical(quantity: Quantity) -> float:
    return quantity.usual if quantity.usual is not None else (quantity.low + quantity.high) / 2


def amounts(
    form: str, material: str, seed: SeedMeasure, lot: Lot, *, layers_max: int | None = None
) -> Amounts:
    """What a lot takes in one form of medium, in at most so many layers to a container.

    Raises
    ------
    ColdspellError
        When the container the grower named does not hold a single seed.
    """
    if form == "towel_roll":
        sheets = towels(lot.seeds, seed.width_mm)
        space = sheets.rolls * ROLL_LITRES
        return Amounts(
            None,
            sheets.water_ml,
            sheets.rolls,
            None,
            sheets.sheets,
            sheets.seeds_per_sheet,
            space_litres=space,
        )
    container = _container(lot)
    if form == "bag":
        filling = _filled(lot, seed, container, layers_max)
        if filling.containers > MANY_BAGS and not lot.bag_mm and not lot.container_mm:
            container = BULK_BOX
            filling = _filled(lot, seed, container, layers_max)
        litres = max(filling.medium_litres, LEAST_LITRES)
        space = filling.containers * container_litres(container)
        water = _water(material, litres)
        return Amounts(litres, water, filling.containers, container, filling=filling, space_litres=space)
    seed_litres = lot.seeds / seeds_per_litre((seed.length_mm * seed.width_mm * seed.thickness_mm) ** (1 / 3))
    needed = _medium_litres(form, seed_litres, lot.seeds)
    whole = seed_litres + (needed or 0)
    holds = usable_litres(container)
    count = None if form == "tray" else math.ceil(whole / holds)
    space = TRAY_LITRES if count is None else count * container_litres(container)
    return Amounts(needed, _water(material, needed), count, container, space_litres=space)


def _filled(lot: Lot, seed: SeedMeasure, container: Container, layers_max: int | None) -> Filling:
    return fill(
        lot.seeds,
        seed.width_mm,
        container,
        seed_thickness_mm=seed.thickness_mm,
        seed_length_mm=seed.length_mm,
        gap_mm=practice.GAP_MM,
        layers_max=layers_max,
    )


def _medium_litres(form: str, seed_litres: float, seeds: int) -> float | None:
    if form == "naked":
        return None
    if form == "tray":
        return max(LEAST_LITRES, seeds * TRAY_MM2_PER_SEED * TRAY_DEPTH_MM / 1e6)
    if form == "sand_mix":
        return max(LEAST_LITRES, sand_mix_litres(seed_litres))
    return max(2 * LEAST_LITRES, seed_litres * POUCH_MEDIUM_PER_SEED)


def _water(material: str, litres: float | None) -> tuple[float, float] | None:
    kind = "vermiculite" if material == "buy_vermiculite" else material
    if litres is None or kind not in WATER_ML_PER_LITRE:
        return None
    return water_ml(kind, litres)


def _container(lot: Lot) -> Container:
    if lot.container_mm:
        length, width, height = lot.container_mm
        return Box(width, length, height)
    return Bag(*(lot.bag_mm or DEFAULT_BAG_MM))
