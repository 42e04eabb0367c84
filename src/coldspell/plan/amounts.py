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
from coldspell.arithmetic.water import WATER_ML_PER_LITRE, towels, water_ml
from coldspell.decide.knowledge import Knowledge
from coldspell.decide.names.fields import MediumFields
from coldspell.decide.practice import Practice
from coldspell.lot.lot import Lot
from coldspell.records.model import SeedSize


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


def seed_measure(knowledge: Knowledge, lot: Lot, practice: Practice) -> SeedMeasure:
    """Measures of one seed: the record's, else a typical width of its size class (marked)."""
    size: SeedSize | None = knowledge.value("seed_mm")
    scale = practice.kernel_share if lot.shell == "kernel" else 1.0
    if size is None:
        width = scale * _usual_width(knowledge.value("size"), practice)
        return SeedMeasure(width, width, width, False)
    known = [scale * q.middle for q in (size.length, size.width, size.thickness) if q is not None]
    length = scale * size.length.middle if size.length else max(known)
    width = scale * size.width.middle if size.width else (length if len(known) == 1 else min(known))
    thickness = scale * size.thickness.middle if size.thickness else width
    return SeedMeasure(max(length, width), width, thickness, True)


def _usual_width(size: str | None, practice: Practice) -> float:
    return {
        "fine": practice.width_fine_mm,
        "small": practice.width_small_mm,
        "medium": practice.width_medium_mm,
        "large": practice.width_large_mm,
    }.get(size or "", practice.width_unknown_mm)


def amounts(
    medium: MediumFields,
    material: str,
    seed: SeedMeasure,
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
        return _rolled(lot, seed, practice)
    if medium.packs == "layers":
        return _layered(material, seed, lot, practice, layers_max)
    container = _container(lot, practice)
    seed_litres = lot.seeds / seeds_per_litre((seed.length_mm * seed.width_mm * seed.thickness_mm) ** (1 / 3))
    needed = _medium_litres(medium, seed_litres, lot.seeds, practice)
    whole = seed_litres + (needed or 0)
    holds = usable_litres(container)
    count = None if medium.packs == "surface" else math.ceil(whole / holds)
    space = practice.tray_litres if count is None else count * container_litres(container)
    return Amounts(needed, _water(material, needed), count, container, space_litres=space)


def _rolled(lot: Lot, seed: SeedMeasure, practice: Practice) -> Amounts:
    sheets = towels(lot.seeds, seed.width_mm)
    space = sheets.rolls * practice.roll_litres
    return Amounts(
        None, sheets.water_ml, sheets.rolls, None, sheets.sheets, sheets.seeds_per_sheet, space_litres=space
    )


def _layered(
    material: str, seed: SeedMeasure, lot: Lot, practice: Practice, layers_max: int | None
) -> Amounts:
    container = _container(lot, practice)
    filling = _filled(lot, seed, container, layers_max, practice)
    if filling.containers > practice.many_bags and not lot.bag_mm and not lot.container_mm:
        container = Box(*map(float, practice.bulk_box_mm))
        filling = _filled(lot, seed, container, layers_max, practice)
    litres = max(filling.medium_litres, practice.least_litres)
    space = filling.containers * container_litres(container)
    water = _water(material, litres)
    return Amounts(litres, water, filling.containers, container, filling=filling, space_litres=space)


def _filled(
    lot: Lot, seed: SeedMeasure, container: Container, layers_max: int | None, practice: Practice
) -> Filling:
    return fill(
        lot.seeds,
        seed.width_mm,
        container,
        seed_thickness_mm=seed.thickness_mm,
        seed_length_mm=seed.length_mm,
        gap_mm=practice.gap_mm,
        layers_max=layers_max,
    )


def _medium_litres(medium: MediumFields, seed_litres: float, seeds: int, practice: Practice) -> float | None:
    """Litres of medium for seed that is not laid in layers; ``None`` for seed that lies alone."""
    if medium.packs == "loose":
        return None
    if medium.packs == "surface":
        needed = seeds * practice.tray_seed_mm2 * practice.tray_depth_mm / 1e6
        return max(practice.least_litres, needed)
    least = practice.netted_least_litres if medium.packs == "netted" else practice.least_litres
    return max(least, seed_litres * medium.medium_per_seed)


def _water(material: str, litres: float | None) -> tuple[float, float] | None:
    if litres is None or material not in WATER_ML_PER_LITRE:
        return None
    return water_ml(material, litres)


def _container(lot: Lot, practice: Practice) -> Container:
    if lot.container_mm:
        length, width, height = lot.container_mm
        return Box(width, length, height)
    return Bag(*map(float, lot.bag_mm or practice.bag_mm))
