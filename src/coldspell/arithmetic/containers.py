"""Layers of medium and seed in a box, a tub or a bag: how many containers, how many litres, where each lies.

A few dozen nuts are laid out one by one, with medium under, between and over each layer; more are mixed
with medium by volume. Both the area (pitch) and the volume (room in the container) must allow it. Amounts
marked common practice have no source.
"""

from __future__ import annotations

import math

from msgspec import Struct

from coldspell.arithmetic.packing import Pattern, circle_pattern, pitch_mm, rectangle_pattern
from coldspell.arithmetic.vessels import (
    Bag,
    Box,
    Container,
    Packing,
    Tub,
    container_litres,
    usable_litres,
)
from coldspell.errors import ColdspellError

__all__ = [
    "Bag",
    "Box",
    "Container",
    "Filling",
    "Packing",
    "Tub",
    "block_mm",
    "container_litres",
    "fill",
    "seeds_per_litre",
    "usable_litres",
]

NUTS_PER_LITRE = 1.15e6
"""Seeds a litre times the cube of their diameter in mm: balls fill six tenths of it (within 15 %)."""


class Filling(Struct, frozen=True):
    """How seed and medium lie in each container, and what is needed in all.

    ``method`` is ``layers`` or ``volume``. ``pattern`` is the layer (empty when by volume), ``levels_mm`` the
    height of the middle of each layer above the floor, ``footprint_mm`` and ``depth_mm`` the filled block.
    Seeds are spread evenly over the containers; ``capacity`` is what one would hold. ``medium_litres``,
    ``seed_litres`` (by volume: with the gaps between seeds) and ``filled_litres`` are for all. Measures are
    [mm], volumes [litres], the rest counts.
    """

    method: str
    seeds: int
    containers: int
    capacity: int
    layers: int
    per_layer: int
    pitch_mm: float
    medium_mm: float
    footprint_mm: tuple[float, float]
    depth_mm: float
    medium_litres: float
    seed_litres: float
    filled_litres: float
    container_litres: float
    levels_mm: tuple[float, ...]
    pattern: Pattern | None

    @property
    def per_container(self) -> int:
        """Seeds in the fullest container."""
        return math.ceil(self.seeds / self.containers)

    def layer_counts(self, container: int = 0) -> tuple[int, ...]:
        """Seeds in each layer of a container (0 is the first), bottom layer first.

        Parameters
        ----------
        container : int
            Which container [count from 0].

        Raises
        ------
        Nothing is raised.
        """
        least, more = divmod(self.seeds, self.containers)
        here = least + (container < more)
        return tuple(here // self.layers + (i < here % self.layers) for i in range(self.layers))


def seeds_per_litre(diameter_mm: float) -> float:
    """Roundish seeds in a litre: 1.15e6 / d**3 (common practice, within 15 %).

    Parameters
    ----------
    diameter_mm : float
        Diameter of a roundish seed [mm].

    Raises
    ------
    ColdspellError
        When the diameter is no number over 0.

    >>> [round(seeds_per_litre(d)) for d in (20, 25, 35)]        # printed 140, 73 (74), 27
    [144, 74, 27]
    """
    return NUTS_PER_LITRE / _over_zero(diameter_mm, "seed diameter") ** 3


def mean_diameter_mm(length_mm: float, width_mm: float, thickness_mm: float | None = None) -> float:
    """Diameter of the ball of the same volume as an ellipsoid: the cube root of the three measures [mm].

    Parameters
    ----------
    length_mm, width_mm : float
        Measures of a seed [mm].
    thickness_mm : float, optional
        Third measure [mm]; default: the width.

    Raises
    ------
    ColdspellError
        When a measure is no number over 0.

    >>> mean_diameter_mm(40, 20, 10)
    20.0
    """
    third = width_mm if thickness_mm is None else thickness_mm
    for value in (length_mm, width_mm, third):
        _over_zero(value, "seed measure")
    return round(math.pow(length_mm * width_mm * third, 1 / 3), 9)


def fill(
    seeds: int,
    seed_width_mm: float,
    container: Container,
    packing: Packing,
    *,
    seed_thickness_mm: float | None = None,
    seed_length_mm: float | None = None,
    gap_mm: float = 25.0,
    medium_mm: float | None = None,
    kind: str = "best",
    medium_per_seed: float = 2.0,
    layers_max: int | None = None,
) -> Filling:
    """Lay out (or mix) seeds in as many containers of one size as are needed.

    Parameters
    ----------
    seeds : int
        Seeds to lay out, at least one [count].
    seed_width_mm, seed_thickness_mm, seed_length_mm : float
        Seed lying on its side [mm]; thickness and length count as the width when not known.
        The pitch takes the larger of width and length only through ``gap_mm``: trade practice spaces by
        width.
    container : Box, Tub or Bag
        Inside measures [mm].
    packing : Packing
        How full a container may be [0 to 1], and how many seeds are laid in layers [count]; of more, seed is
        mixed by volume.
    gap_mm, medium_mm : float
        Edge to edge between seeds; thickness of each layer of medium, by default the thinnest [mm].
    kind : str
        ``square``, ``hexagonal`` or ``best`` [name].
    medium_per_seed : float
        Medium to one of seed when mixed (1 to 3: common practice) [volume ratio].
    layers_max : int, optional
        At most so many layers in one container [count].

    Raises
    ------
    ColdspellError
        When not even one seed fits, or a measure is not a number over zero.
    """
    if seeds < 1:
        raise ColdspellError(f"there must be at least one seed, not {seeds}", mend="give the number of seeds")
    thickness = _over_zero(seed_thickness_mm or seed_width_mm, "seed thickness")
    diameter = mean_diameter_mm(seed_length_mm or seed_width_mm, seed_width_mm, thickness)
    pitch = pitch_mm(seed_width_mm, gap_mm)
    if seeds > packing.layers_most_seeds:
        return _mixed(seeds, diameter, pitch, container, packing, medium_per_seed)
    medium = _over_zero(packing.layer_mm if medium_mm is None else medium_mm, "layer of medium")
    return _layered(seeds, diameter, thickness, pitch, medium, kind, container, packing, layers_max or seeds)


def _layered(
    seeds: int,
    diameter: float,
    thickness: float,
    pitch: float,
    medium: float,
    kind: str,
    container: Container,
    packing: Packing,
    layers_max: int,
) -> Filling:
    """Fewest containers, then least medium, over every number of layers that fits."""
    best: Filling | None = None
    for layers in range(1, min(seeds, layers_max) + 1):
        depth = layers * thickness + (layers + 1) * medium
        area = _footprint(container, depth, packing)
        if area is None:
            break
        pattern = _pattern(container, area, pitch, kind)
        if not pattern.count:
            continue
        found = _lay(seeds, diameter, thickness, medium, container, area, pattern, layers)
        if best is None or (found.containers, found.medium_litres) < (best.containers, best.medium_litres):
            best = found
    if best is None:
        raise ColdspellError(
            f"no seed of this size fits the container with {medium:g} mm of medium around it",
            mend=f"take one that holds a block {pitch:g} × {pitch:g} × {thickness + 2 * medium:g} mm",
        )
    return best


def _lay(
    seeds: int,
    diameter: float,
    thickness: float,
    medium: float,
    container: Container,
    area: tuple[float, float],
    pattern: Pattern,
    layers: int,
) -> Filling:
    """Spread the seeds evenly over the containers and over no more layers than they need."""
    capacity = layers * pattern.count
    containers = math.ceil(seeds / capacity)
    each = math.ceil(seeds / containers)
    layers = math.ceil(each / pattern.count)
    depth = layers * thickness + (layers + 1) * medium
    if isinstance(container, Bag):
        pattern, area = _trim(pattern, math.ceil(each / layers), area)
    flat = math.pi / 4 * area[0] ** 2 if isinstance(container, Tub) else area[0] * area[1]
    litres = containers * flat * depth / 1e6
    seed_litres = seeds * math.pi / 6 * diameter**3 / 1e6
    return Filling(
        method="layers",
        seeds=seeds,
        containers=containers,
        capacity=capacity,
        layers=layers,
        per_layer=math.ceil(each / layers),
        pitch_mm=pattern.pitch_mm,
        medium_mm=medium,
        footprint_mm=area,
        depth_mm=depth,
        medium_litres=max(0.0, litres - seed_litres),
        seed_litres=seed_litres,
        filled_litres=litres,
        container_litres=container_litres(container),
        levels_mm=tuple(medium + thickness / 2 + i * (medium + thickness) for i in range(layers)),
        pattern=pattern,
    )


def _trim(pattern: Pattern, wanted: int, area: tuple[float, float]) -> tuple[Pattern, tuple[float, float]]:
    """Only as much of a bag is filled as the seeds of a layer need: cut the pattern after its last seed."""
    points = sorted(pattern.points_mm, key=lambda point: (point[1], point[0]))[:wanted]
    low = min(y for _, y in points) - pattern.pitch_mm / 2
    length = max(y for _, y in points) + pattern.pitch_mm / 2 - low
    moved = tuple((x, y - low) for x, y in points)
    return Pattern(pattern.kind, pattern.pitch_mm, moved), (area[0], length)


def _footprint(container: Container, depth: float, packing: Packing) -> tuple[float, float] | None:
    """Base of the filled block [mm] at a depth, or None when the depth does not fit.

    A block w x l x t goes into a flat bag W x L when w + t <= W and l + t <= L: the girth of the block both
    ways is the girth of the bag. The bag is then cut short so that it is no fuller than it may be, and is not
    stacked higher than half its shorter side, so that it lies steadily (our choice).
    """
    whole = container_litres(container)
    if isinstance(container, Bag):
        if depth > min(container.width_mm, container.length_mm) / 2:
            return None
        width, length = container.width_mm - depth, container.length_mm - depth
        return width, min(length, whole * packing.bag_share * 1e6 / (width * depth))
    if depth > container.height_mm * packing.box_share + 1e-9:
        return None
    if isinstance(container, Box):
        return container.width_mm, container.length_mm
    return container.diameter_mm, container.diameter_mm


def _pattern(container: Container, area: tuple[float, float], pitch: float, kind: str) -> Pattern:
    if isinstance(container, Tub):
        return circle_pattern(area[0], pitch, kind)
    return rectangle_pattern(area[0], area[1], pitch, kind)


def _mixed(
    seeds: int,
    diameter: float,
    pitch: float,
    container: Container,
    packing: Packing,
    medium_per_seed: float,
) -> Filling:
    """Seed and medium by volume; that medium sinks between the seeds is not counted on."""
    seed_litres = seeds / seeds_per_litre(diameter)
    medium_litres = seed_litres * _over_zero(medium_per_seed, "medium per seed")
    usable = usable_litres(container, packing)
    if not isinstance(container, Bag):
        usable *= min(1.0, packing.mix_depth_mm / (container.height_mm * packing.box_share))
    capacity = math.floor(usable / (seed_litres + medium_litres) * seeds)
    if capacity < 1:
        raise ColdspellError("not one seed fits the container with its medium", mend="take a larger one")
    containers = math.ceil(seeds / capacity)
    area, depth = block_mm(container, (seed_litres + medium_litres) / containers)
    return Filling(
        method="volume",
        seeds=seeds,
        containers=containers,
        capacity=capacity,
        layers=0,
        per_layer=0,
        pitch_mm=pitch,
        medium_mm=0.0,
        footprint_mm=area,
        depth_mm=depth,
        medium_litres=medium_litres,
        seed_litres=seed_litres,
        filled_litres=seed_litres + medium_litres,
        container_litres=container_litres(container),
        levels_mm=(),
        pattern=None,
    )


def block_mm(container: Container, litres: float) -> tuple[tuple[float, float], float]:
    """Base (two sides) and height of what lies in a container, spread level over all of its floor [mm].

    Parameters
    ----------
    container : Box, Tub or Bag
        Container with its inside measures [mm].
    litres : float
        What lies in it [litres].

    Raises
    ------
    ColdspellError
        When the litres are no number over 0.

    >>> block_mm(Box(200, 300, 200), 6)
    ((200, 300), 100.0)
    """
    _over_zero(litres, "litres")
    if isinstance(container, Tub):
        across = container.diameter_mm
        return (across, across), litres * 1e6 / (math.pi / 4 * across**2)
    width, length = container.width_mm, container.length_mm
    if isinstance(container, Box):
        return (width, length), litres * 1e6 / (width * length)
    low, high = 0.0, min(width, length) / 2  # a block of this volume in the bag, see _footprint
    for _ in range(60):
        middle = (low + high) / 2
        if (width - middle) * (length - middle) * middle < litres * 1e6:
            low = middle
        else:
            high = middle
    return (width - low, length - low), low


def _over_zero(value: float, name: str) -> float:
    if not (math.isfinite(value) and value > 0):
        raise ColdspellError(f"{name} must be over 0, not {value}", mend="give a number over 0")
    return value
