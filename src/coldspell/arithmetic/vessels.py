"""Boxes, tubs and bags: their inside measures, their litres, and how much of them may be filled."""

from __future__ import annotations

import math

from msgspec import Struct

from coldspell.errors import ColdspellError


class Packing(Struct, frozen=True):
    """Numbers of practice by which containers are filled; ``rules/practice.yaml`` holds them."""

    bag_share: float
    """Most of a bag that is filled [share]."""
    box_share: float
    """Most of the height of a box or tub that is filled [share]."""
    layer_mm: float
    """Thinnest layer of medium under, between and over seed [mm]."""
    layers_most_seeds: int
    """Most seeds that are laid in layers [count]."""
    mix_depth_mm: float
    """Deepest mixture of seed and medium [mm]."""


class Box(Struct, frozen=True):
    """A rectangular container, inside measures [mm]."""

    width_mm: float
    length_mm: float
    height_mm: float


class Tub(Struct, frozen=True):
    """A round container, inside measures [mm]."""

    diameter_mm: float
    height_mm: float


class Bag(Struct, frozen=True):
    """A flat bag as it lies empty [mm]."""

    width_mm: float
    length_mm: float


Container = Box | Tub | Bag


def bag_litres(width_mm: float, length_mm: float) -> float:
    """Litres in a flat bag blown up to a pillow.

    ``V = w**3 (h/(pi w) - 0.142 (1 - 10**(-h/w)))``, w the shorter side (A. C. Robin, Paper bag problem,
    Mathematics Today 40:104-107, 2004; read in a secondary copy).

    Parameters
    ----------
    width_mm, length_mm : float
        The bag as it lies flat and empty [mm].

    Raises
    ------
    ColdspellError
        When a measure is no number over 0.

    >>> round(bag_litres(270, 280), 1)
    4.0
    """
    short, long = sorted((_over_zero(width_mm, "bag width"), _over_zero(length_mm, "bag length")))
    unit_volume = long / (math.pi * short) - 0.142 * (1 - math.pow(10, -long / short))
    return math.pow(short, 3) * unit_volume / 1e6


def container_litres(container: Container) -> float:
    """Inside volume of a container [litres].

    Parameters
    ----------
    container : Box, Tub or Bag
        Container with its inside measures [mm].

    Raises
    ------
    ColdspellError
        When a measure is no number over 0.
    """
    if isinstance(container, Box):
        base = _over_zero(container.width_mm, "box width") * _over_zero(container.length_mm, "box length")
        return base * _over_zero(container.height_mm, "box height") / 1e6
    if isinstance(container, Tub):
        diameter = _over_zero(container.diameter_mm, "tub diameter")
        return math.pi / 4 * diameter**2 * _over_zero(container.height_mm, "tub height") / 1e6
    return bag_litres(container.width_mm, container.length_mm)


def usable_litres(container: Container, packing: Packing) -> float:
    """Litres that may be filled, which leaves room for air.

    Parameters
    ----------
    container : Box, Tub or Bag
        Container with its inside measures [mm].
    packing : Packing
        Shares of a bag, and of a box or tub, that are filled [share].

    Raises
    ------
    ColdspellError
        When a measure is no number over 0.
    """
    return container_litres(container) * (
        packing.bag_share if isinstance(container, Bag) else packing.box_share
    )


def _over_zero(value: float, name: str) -> float:
    if not (math.isfinite(value) and value > 0):
        raise ColdspellError(f"{name} must be over 0, not {value}", mend="give a number over 0")
    return value
