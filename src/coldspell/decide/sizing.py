"""How large a lot is: seeds to start, litres of them in bulk, sheets of towel, trays."""

from __future__ import annotations

import math
from functools import lru_cache
from typing import TYPE_CHECKING

from msgspec import Struct

from coldspell.arithmetic.containers import Bag, Box, Container, Filling, fill, seeds_per_litre
from coldspell.arithmetic.water import towels
from coldspell.decide.knowledge import Knowledge
from coldspell.decide.names.fields import BulkFields
from coldspell.decide.practice import Practice
from coldspell.errors import ColdspellError
from coldspell.lot.lot import Lot
from coldspell.records.model import SeedSize

if TYPE_CHECKING:
    from coldspell.decide.names.closed import YesNo
    from coldspell.decide.names.facts import SizeFacts


class SeedMeasure(Struct, frozen=True):
    """One seed as it lies on its side [mm]; ``from_record`` is false for a size-class guess."""

    length_mm: float
    width_mm: float
    thickness_mm: float
    from_record: bool


class LotSize(Struct, frozen=True):
    """The seeds that are laid in medium, one of them, and all of them in bulk [litres]."""

    seeds: int
    seed: SeedMeasure
    seed_litres: float


def lot_size(
    knowledge: Knowledge, lot: Lot, start: int | None, bulk: BulkFields, practice: Practice
) -> LotSize:
    """How large a lot is when only so many are started as the plants wanted take.

    Where part of it has rooted only the others are counted: what has rooted is potted.

    Litres come from the weight, where it is known, and the weight of a litre: the record's, else that of the
    rules for its class. Without a weight they come from the size of one seed.
    """
    seeds = lot.seeds if start is None else min(start, lot.seeds)
    if lot.rooted < lot.seeds:
        seeds = max(1, seeds - lot.rooted)
    seed = seed_measure(knowledge, lot, practice)
    kilograms = _kilograms(knowledge, lot, seeds)
    if kilograms is None or lot.shell == "kernel":
        sides = seed.length_mm * seed.width_mm * seed.thickness_mm
        return LotSize(seeds, seed, seeds / seeds_per_litre(sides ** (1 / 3)))
    own = knowledge.value("bulk")
    known = own.grams_per_litre.middle if own and own.grams_per_litre else bulk.grams_per_litre
    return LotSize(seeds, seed, 1000 * kilograms / known)


def _kilograms(knowledge: Knowledge, lot: Lot, seeds: int) -> float | None:
    """Weight of so many seeds: a share of the weight that was said, else by seeds per kilogram."""
    if lot.kilograms is not None:
        return lot.kilograms * seeds / lot.seeds
    per_kg = knowledge.value("seeds_per_kg")
    return None if per_kg is None else seeds / per_kg.value.middle


def size_facts(size: LotSize, lot: Lot, practice: Practice) -> SizeFacts:
    """What the rules ask of the size of a lot."""
    return {
        "started": float(size.seeds),
        "seed_litres": min(size.seed_litres, 1e9),
        "sheets": float(towels(size.seeds, size.seed.width_mm, practice.sheet).sheets),
        "trays": float(math.ceil(tray_litres(size.seeds, practice) / practice.tray_litres)),
        "volume_lot": _volume_lot(size, lot, practice),
    }


def tray_litres(seeds: int, practice: Practice) -> float:
    """Medium under seed that is sown thinly over trays [litres]."""
    return seeds * practice.tray_seed_mm2 * practice.tray_depth_mm / 1e6


def _volume_lot(size: LotSize, lot: Lot, practice: Practice) -> YesNo:
    """More than a few dozen, or more than one container takes in layers."""
    return "yes" if size.seeds > layered_most(size.seed, lot, practice) else "no"


def layered_most(seed: SeedMeasure, lot: Lot, practice: Practice) -> int:
    """How many seeds are laid one by one: a few dozen at most, and no more than lie in one container.

    A common bag is left partly free, so that the first lot that is mixed goes into one bag too.
    """
    own, most = bool(lot.container_mm or lot.bag_mm), int(practice.volume_lot_seeds)
    capacity = _capacity(most, seed, container_of(lot, practice), None if own else 1, practice)
    if not capacity:
        return 0
    return min(most, capacity if own else max(1, int(capacity * practice.layers_share)))


@lru_cache(maxsize=4096)
def _capacity(
    seeds: int, seed: SeedMeasure, container: Container, layers_max: int | None, practice: Practice
) -> int:
    """How many seeds lie in a container into which up to so many are laid; none where not one does."""
    try:
        return filled(seeds, seed, container, layers_max, practice).capacity
    except ColdspellError:  # not one lies in it with medium all around
        return 0


@lru_cache(maxsize=4096)
def filled(
    seeds: int, seed: SeedMeasure, container: Container, layers_max: int | None, practice: Practice
) -> Filling:
    """How seeds of one size lie in containers; many lots of a kind have the same.

    Raises
    ------
    ColdspellError
        Not one seed lies in the container with medium all around.
    """
    return fill(
        seeds,
        seed.width_mm,
        container,
        practice.packing,
        seed_thickness_mm=seed.thickness_mm,
        seed_length_mm=seed.length_mm,
        gap_mm=practice.gap_mm,
        layers_max=layers_max,
    )


def container_of(lot: Lot, practice: Practice) -> Container:
    """The container that the grower named, else a common bag."""
    if lot.container_mm:
        length, width, height = lot.container_mm
        return Box(width, length, height)
    return Bag(*map(float, lot.bag_mm or practice.bag_mm))


def seed_measure(knowledge: Knowledge, lot: Lot, practice: Practice) -> SeedMeasure:
    """Measures of one seed: the record's, else a typical width of its size class (marked)."""
    kernel = lot.shell == "kernel"
    return knowledge.once(("seed", practice, kernel), lambda: _seed_measure(knowledge, kernel, practice))


def _seed_measure(knowledge: Knowledge, kernel: bool, practice: Practice) -> SeedMeasure:
    size: SeedSize | None = knowledge.value("seed_mm")
    scale = practice.kernel_share if kernel else 1.0
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
