"""A pit in the ground, cut across: its filling of seed and sand, the mesh around it, the soil."""

from __future__ import annotations

import math

from coldspell.draw.lies import Lies
from coldspell.draw.packed import MOST_SEEDS, apart, seeds_cut, side_says
from coldspell.draw.picture import WIDTH, Picture
from coldspell.draw.pieces import INK, SOIL, across, block, label, labels, mesh, mesh_down, seed, upright
from coldspell.draw.svg import Node, node, path

LEFT, LEVEL, MOST = 38.0, 56.0, 168.0
WIRE = 4.0
"""Between the wires of a mesh that nobody gave a width [units]."""


def pit(lies: Lies) -> Picture:
    """A cut across the pit, to scale."""
    layout = lies.layout
    wide_mm, long_mm = layout.footprint_mm
    deep_mm, fill_mm = layout.dimensions_mm[-1], layout.depth_mm or 0
    scale = min(MOST / wide_mm, 190 / deep_mm)
    width, deep, filled = (side * scale for side in (wide_mm, deep_mm, fill_mm))
    floor, right = LEVEL + deep, LEFT + width
    inside, each = _seeds(lies, long_mm, floor - filled, scale)
    body = [
        label(side_says(lies, seeds_cut(lies, long_mm)), 6, 18),
        *block(LEFT - 28, LEVEL, width + 56, deep + 22, SOIL),
        node("rect", x=LEFT, y=LEVEL, width=width, height=deep, fill="#fff"),
        *block(LEFT, LEVEL + 6, width, deep - filled - 6, "#e3d3a4"),
        *block(LEFT, floor - filled, width, filled),
        *inside,
        node("path", d=path("M", LEFT, LEVEL, "V", floor, "H", right, "V", LEVEL), stroke=INK, fill="none"),
        mesh(LEFT, right, floor - filled - 3, WIRE),
        mesh(LEFT, right, floor + 3, WIRE),
        *(mesh_down(x, floor - filled - 3, floor + 3, WIRE) for x in (LEFT - 3, right + 3)),
        *labels(lies.say("draw_straw"), right + 34, LEVEL + 16, WIDTH - right - 36),
        *upright(right + 34, floor - filled, floor, lies.length(fill_mm)),
        *across(LEFT, right, floor + 34, lies.length(wide_mm), under=15),
    ]
    if each > 1:
        body.append(label(lies.say("draw_dots", seeds=each), LEFT, floor + 66))
    return Picture(
        name="packed",
        title=lies.title,
        says=lies.say(
            "draw_says_pit",
            title=lies.title,
            width=lies.length(wide_mm),
            length=lies.length(long_mm),
            depth=lies.length(deep_mm),
            filled=lies.length(fill_mm),
            material=lies.medium.material_says,
        ),
        height=floor + (74 if each > 1 else 56),
        body=tuple(body),
    )


def _seeds(lies: Lies, long_mm: float, top: float, scale: float) -> tuple[list[Node], int]:
    """The seeds that the cut goes through, spread through the filling."""
    count = seeds_cut(lies, long_mm)
    each = math.ceil(count / MOST_SEEDS)
    length, _, thickness = (side * scale for side in lies.seed_mm)
    width, high = lies.layout.footprint_mm[0] * scale, (lies.layout.depth_mm or 0) * scale
    places = apart(count // each, width, high, length, thickness)
    return [seed(LEFT + x, top + y, length, thickness) for x, y in places], each
