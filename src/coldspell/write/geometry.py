"""What a drawing of one container needs: its shape, the block of seed and medium in it, one seed."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from msgspec import Struct

from coldspell.arithmetic.containers import Bag, Box, Tub, block_mm
from coldspell.decide.names.fields import MediumFields
from coldspell.decide.practice import Practice
from coldspell.decide.sizing import LotSize
from coldspell.plan.amounts import Amounts

if TYPE_CHECKING:
    from coldspell.write.recipe_kinds import Shape
else:
    Shape = str


PIT_WIDE_MM = 1000.0


class Block(Struct, frozen=True):
    """What lies in one container: seeds in the fullest, base and height of the block [mm]."""

    shape: Shape
    per_container: int
    base_mm: tuple[float, ...]
    depth_mm: float | None
    sides_mm: tuple[float, ...]


def block(amount: Amounts, medium: MediumFields, size: LotSize, practice: Practice) -> Block:
    """The block in one container of a lot that lies moist."""
    shape, sides = _container(amount, medium, practice)
    containers = amount.containers or 1
    each, filling = math.ceil(size.seeds / containers), amount.filling
    if filling is not None:
        return Block(shape, filling.per_container, filling.footprint_mm, filling.depth_mm, sides)
    if shape == "roll":
        return Block(shape, each, sides, None, sides)
    if amount.pit_m2 is not None:
        return _pit(amount.pit_m2, each, practice)
    if shape == "tray":
        depth = practice.tray_depth_mm
        side = math.sqrt((amount.litres or practice.tray_litres) * 1e6 / containers / depth)
        return Block(shape, each, (side, side), depth, sides)
    if amount.container is None:
        return Block(shape, each, (), None, sides)
    seed_litres = size.seed_litres / containers
    base, depth = block_mm(amount.container, seed_litres + (amount.litres or 0) / containers)
    if medium.packs == "netted" and shape == "bag":
        base, depth = _folded(base, depth, seed_litres, practice)
    return Block(shape, each, *_heaped(base, depth, size), sides)


def _heaped(base: tuple[float, float], depth: float, size: LotSize) -> tuple[tuple[float, float], float]:
    """The same heaped up where it would lie thinner than one seed; no narrower than two seeds are long."""
    thick = size.seed.thickness_mm
    if depth >= thick:
        return base, depth
    whole, least = base[0] * base[1] * depth, 2 * size.seed.length_mm
    share = math.sqrt(whole / thick / (base[0] * base[1]))
    return (max(base[0] * share, least), max(base[1] * share, least)), thick


def _pit(area_m2: float, seeds: int, practice: Practice) -> Block:
    """The filling of a pit, a metre wide where it is large enough (our choice), and the pit around it."""
    wide = min(PIT_WIDE_MM, math.sqrt(area_m2) * 1000)
    base = (wide, area_m2 * 1e6 / wide)
    return Block("pit", seeds, base, practice.pit_fill_mm, (*base, sum(practice.pit_depth_mm) / 2))


def _folded(
    base: tuple[float, float], depth: float, seed_litres: float, practice: Practice
) -> tuple[tuple[float, float], float]:
    """The bag folded until the medium is as thick as practice wants it under and over a flat net of seed."""
    whole, medium = base[0] * base[1] * depth, 2 * practice.layer_mm[0]
    area = (whole - seed_litres * 1e6 / practice.netted_base_share) / medium
    if area <= 0 or area >= base[0] * base[1]:
        return base, depth
    share = math.sqrt(area / (base[0] * base[1]))
    return (base[0] * share, base[1] * share), whole / area


def _container(
    amount: Amounts, medium: MediumFields, practice: Practice
) -> tuple[Shape, tuple[float, ...]]:
    """What the container is, and its inside measures."""
    if medium.packs == "rolled":
        return "roll", practice.sheet.side_mm
    if medium.packs == "surface":
        return "tray", ()
    if amount.pit_m2 is not None:
        return "pit", ()
    match amount.container:
        case Box(width_mm=width, length_mm=length, height_mm=height):
            return "box", (length, width, height)
        case Tub(diameter_mm=across, height_mm=height):
            return "tub", (across, height)
        case Bag(width_mm=width, length_mm=length):
            return "bag", (width, length)
    return "none", ()
