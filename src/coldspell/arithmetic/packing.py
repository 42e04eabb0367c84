"""How many seeds fit a layer at a pitch, and where each lies: square or hexagonal, in a box or a tub.

Every seed owns a cell as wide as the pitch, so that half a gap stays to the wall and a whole gap to the
neighbour. Points are millimetres from a corner of the rectangle, or from the middle of the circle.
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import Literal

from msgspec import Struct

from coldspell.errors import ColdspellError

Point = tuple[float, float]
Arrangement = Literal["square", "hexagonal"]
MOST_POINTS = 1_000_000
_SLACK = 1e-9
_OFFSETS: tuple[Point, ...] = ((0, 0), (1 / 2, 0), (1 / 2, 1 / 3), (1 / 2, 1 / 2), (1 / 4, 1 / 4), (0, 1 / 2))


class Pattern(Struct, frozen=True):
    """Seeds of one layer: ``points_mm`` is the middle (x, y) of each [mm]."""

    kind: Arrangement
    pitch_mm: float
    points_mm: tuple[Point, ...]

    @property
    def count(self) -> int:
        """Seeds in the layer."""
        return len(self.points_mm)


def pitch_mm(seed_width_mm: float, gap_mm: float = 25.0) -> float:
    """Distance from middle to middle [mm]: seed width plus the gap from edge to edge.

    The gap of 25 mm is common practice, no source: rot does not reach the neighbour.

    Parameters
    ----------
    seed_width_mm : float
        Width of a seed [mm].
    gap_mm : float
        Edge to edge [mm].

    Raises
    ------
    ColdspellError
        When the width is not over 0, or the gap under 0.

    >>> pitch_mm(20)
    45.0
    """
    return float(_positive(seed_width_mm, "seed width") + _not_negative(gap_mm, "gap"))


def rectangle_pattern_shape(
    width_mm: float, length_mm: float, pitch: float, kind: str = "best"
) -> tuple[Arrangement, bool, int, int]:
    """Which arrangement holds most: kind, whether its rows run along the length, number of rows, seeds.

    Parameters
    ----------
    width_mm, length_mm : float
        Inside of the box [mm].
    pitch : float
        Middle to middle [mm].
    kind : str
        ``square``, ``hexagonal`` or ``best`` [name].

    Raises
    ------
    ColdspellError
        When a measure is not over 0, or the kind is unknown.
    """
    _positive(width_mm, "width"), _positive(length_mm, "length"), _positive(pitch, "pitch")
    _check_kind(kind)
    shapes: list[tuple[Arrangement, bool, int, int]] = []
    if kind in ("square", "best"):
        rows = _whole(length_mm / pitch)
        shapes.append(("square", False, rows, rows * _whole(width_mm / pitch)))
    if kind in ("hexagonal", "best"):
        for turned, (along, across) in ((False, (width_mm, length_mm)), (True, (length_mm, width_mm))):
            rows = 0 if across < pitch - _SLACK else 1 + _whole((across - pitch) / (pitch * math.sqrt(3) / 2))
            full, shifted = _whole(along / pitch), _whole(along / pitch - 0.5)
            shapes.append(("hexagonal", turned, rows, (rows + 1) // 2 * full + rows // 2 * shifted))
    return max(shapes, key=lambda shape: shape[3])


@lru_cache(maxsize=64)
def rectangle_pattern(width_mm: float, length_mm: float, pitch: float, kind: str = "best") -> Pattern:
    """Seeds that fit a layer in a rectangular box, row by row from the corner, centred.

    Square: ``floor(W/p) floor(L/p)``. Hexagonal: rows ``p sqrt(3)/2`` apart, every other row shifted by
    half a pitch, tried along both sides. ``best`` takes the larger (square when equal).

    Parameters
    ----------
    width_mm, length_mm : float
        Inside of the box [mm].
    pitch : float
        Middle to middle [mm].
    kind : str
        ``square``, ``hexagonal`` or ``best`` [name].

    Raises
    ------
    ColdspellError
        When a measure is not over 0, the kind is unknown, or over a million seeds would fit.

    >>> rectangle_pattern(210, 210, 45).count, rectangle_pattern(210, 210, 45, "square").count
    (20, 16)

    >>> pattern = rectangle_pattern(100, 50, 45)
    >>> pattern.kind, pattern.points_mm
    ('square', ((27.5, 25.0), (72.5, 25.0)))
    """
    chosen, turned, rows, count = rectangle_pattern_shape(width_mm, length_mm, pitch, kind)
    if count > MOST_POINTS:
        raise ColdspellError(f"{count} seeds are too many to place one by one", mend="count them by volume")
    along, across = (length_mm, width_mm) if turned else (width_mm, length_mm)
    step = pitch * math.sqrt(3) / 2 if chosen == "hexagonal" else pitch
    points = []
    for row in range(rows):
        shift = 0.5 if chosen == "hexagonal" and row % 2 else 0.0
        for i in range(_whole(along / pitch - shift)):
            points.append(((i + 0.5 + shift) * pitch, pitch / 2 + row * step))
    if not points:
        return Pattern(chosen, pitch, ())
    dx = (along - max(x for x, _ in points) - pitch / 2) / 2
    dy = (across - max(y for _, y in points) - pitch / 2) / 2
    moved = [(x + dx, y + dy) for x, y in points]
    return Pattern(chosen, pitch, tuple((y, x) if turned else (x, y) for x, y in moved))


def circle_pattern(diameter_mm: float, pitch: float, kind: str = "best") -> Pattern:
    """Seeds that fit a layer in a round tub: the best of a few positions of a square or hexagonal grid.

    The positions put a seed, the middle of an edge, of a triangle or of a square in the centre. This is a
    grid, not the densest packing known: it never promises more than fits.

    Parameters
    ----------
    diameter_mm : float
        Inside of the tub [mm].
    pitch : float
        Middle to middle [mm].
    kind : str
        ``square``, ``hexagonal`` or ``best`` [name].

    Raises
    ------
    ColdspellError
        When a measure is not over 0, the kind is unknown, or over a million seeds would fit.

    >>> circle_pattern(135, 45).count            # one in the middle, six around
    7
    """
    _positive(diameter_mm, "diameter"), _positive(pitch, "pitch")
    _check_kind(kind)
    radius = diameter_mm / 2 - pitch / 2
    if radius < -_SLACK:
        return Pattern("square", pitch, ())
    if math.pi * (radius / pitch + 1) ** 2 > MOST_POINTS:
        raise ColdspellError("too many seeds to place one by one", mend="count them by volume")
    best = Pattern("square", pitch, ())
    each: Arrangement
    for each in ("square", "hexagonal"):
        if kind in (each, "best"):
            for offset in _OFFSETS:
                found = _grid_in_circle(radius, pitch, each, offset)
                if len(found) > best.count:
                    best = Pattern(each, pitch, found)
    return best


def _grid_in_circle(radius: float, pitch: float, kind: str, offset: Point) -> tuple[Point, ...]:
    height = math.sqrt(3) / 2 if kind == "hexagonal" else 1.0
    reach = math.ceil(radius / pitch) + 2
    rows = math.ceil(radius / (pitch * height)) + 2
    points = []
    for row in range(-rows, rows + 1):
        shift = row / 2 - row // 2 if kind == "hexagonal" else 0.0
        y = (row + offset[1]) * height * pitch
        for i in range(-reach, reach + 1):
            x = (i + shift + offset[0]) * pitch
            if math.hypot(x, y) <= radius + _SLACK * pitch:
                points.append((x, y))
    return tuple(points)


def _whole(cells: float) -> int:
    """Whole cells, forgiving the last bit: 135 mm hold three of 45 mm."""
    return max(0, math.floor(cells + _SLACK))


def _check_kind(kind: str) -> None:
    if kind not in ("square", "hexagonal", "best"):
        raise ColdspellError(f"unknown pattern {kind!r}", mend="use square, hexagonal or best")


def _positive(value: float, name: str) -> float:
    if not (math.isfinite(value) and value > 0):
        raise ColdspellError(f"{name} must be over 0, not {value}", mend="give a number over 0")
    return value


def _not_negative(value: float, name: str) -> float:
    if not (math.isfinite(value) and value >= 0):
        raise ColdspellError(f"{name} must not be under 0, not {value}", mend="give 0 or a number over it")
    return value
