"""Seed on the surface of a tray: in section, and from above."""

from __future__ import annotations

import math

from coldspell.draw.lies import Lies
from coldspell.draw.picture import WIDTH, Picture
from coldspell.draw.pieces import INK, across, block, label, seed, spread, upright, wide
from coldspell.draw.svg import Node, node, path
from coldspell.draw.vessel import dashed

LEFT, MOST_SCALE, MOST_SEEDS = 26.0, 1.6, 800


def tray(lies: Lies) -> Picture:
    """A tray in section and from above, in one scale."""
    say, layout = lies.say, lies.layout
    depth, (wide_mm, long_mm) = layout.depth_mm or 0, layout.footprint_mm
    beside = max(wide(lies.length(40)) + 36, 80)
    scale = min(MOST_SCALE, (WIDTH - LEFT - beside) / wide_mm, 200 / long_mm)
    width, high = wide_mm * scale, depth * scale
    surface = 52.0
    seeds = lies.each
    each = math.ceil(seeds / MOST_SEEDS)
    top = surface + high + 66
    body = [
        label(say("draw_side"), 6, 18),
        dashed(LEFT - 16, surface - 26, width + 32, high + 36),
        *block(LEFT, surface, width, high),
        node(
            "path",
            d=path("M", LEFT - 2, surface - 8, "V", surface + high + 2, "h", width + 4, "V", surface - 8),
            fill="none",
            stroke=INK,
            stroke_width=2,
        ),
        *_on_surface(lies, seeds, surface, scale),
        *upright(LEFT + width + 24, surface, surface + high, lies.length(depth)),
        *across(LEFT, LEFT + width, surface + high + 20, lies.length(wide_mm), under=15),
        label(say("draw_tray_above"), 6, top - 8),
        *block(LEFT, top, width, long_mm * scale),
        *_from_above(lies, seeds // each, top, scale),
        *upright(LEFT + width + 24, top, top + long_mm * scale, lies.length(long_mm)),
    ]
    low = top + long_mm * scale + 20
    if each > 1:
        body.append(label(say("draw_dots", seeds=each), LEFT, low))
    return Picture(
        name="packed",
        title=lies.title,
        says=say(
            "draw_says_tray",
            title=lies.title,
            width=lies.length(wide_mm),
            length=lies.length(long_mm),
            depth=lies.length(depth),
        ),
        height=low + (8 if each > 1 else -8),
        body=tuple(body),
    )


def _on_surface(lies: Lies, seeds: int, surface: float, scale: float) -> list[Node]:
    """The seeds along one line of the surface."""
    count = max(1, min(60, round(math.sqrt(seeds))))
    length, _, thickness = (side * scale for side in lies.seed_mm)
    step = lies.layout.footprint_mm[0] * scale / count
    return [
        seed(LEFT + (i + 0.5) * step, surface - max(thickness, 1.8) / 2, length, thickness)
        for i in range(count)
    ]


def _from_above(lies: Lies, count: int, top: float, scale: float) -> list[Node]:
    """So many seeds, thinly and evenly."""
    length, width, _ = (side * scale for side in lies.seed_mm)
    wide_, long_ = (side * scale for side in lies.layout.footprint_mm)
    return [
        node(
            "g",
            seed(LEFT + 3 + px * (wide_ - 6), top + 3 + py * (long_ - 6), length, width),
            data_is="laid",
        )
        for px, py in spread(count)
    ]
