"""Seed in its medium to scale: in layers, mixed, in a net, or alone, in a bag, a box or a tub."""

from __future__ import annotations

import math

from coldspell.arithmetic.containers import seeds_per_litre
from coldspell.arithmetic.packing import Point
from coldspell.draw.lies import Lies
from coldspell.draw.picture import WIDTH, Picture
from coldspell.draw.pieces import (
    GREY,
    INK,
    across,
    block,
    label,
    row_of,
    seed,
    upright,
    wide,
)
from coldspell.draw.svg import Node, node, path
from coldspell.draw.vessel import Frame, around, headroom
from coldspell.write.recipe_work import Layout
from coldspell.write.units import number

LEFT, MOST_SCALE = 20.0, 2.2
MOST_SEEDS = 600
"""Most seeds drawn one by one; of more each stands for several, and the picture says so."""


def layers_of(layout: Layout) -> tuple[int, ...]:
    """Seeds in each layer of the fullest container, bottom layer first."""
    layers, seeds = layout.layers or 0, layout.per_container or 0
    return tuple(seeds // layers + (i < seeds % layers) for i in range(layers)) if layers else ()


def in_rows(layout: Layout) -> tuple[list[Point], float, float]:
    """The seeds of a full layer and the sides of the block, turned so that rows run from left to right."""
    points = list(layout.points_mm[: layout.per_layer])
    wide_mm, long_mm = layout.footprint_mm
    pitch = layout.pitch_mm or 0
    beside = any(
        abs(y - other_y) < 0.1 and abs(abs(x - other_x) - pitch) < 0.2
        for i, (x, y) in enumerate(points)
        for other_x, other_y in points[i + 1 :]
    )
    if beside or len({round(x, 1) for x, _ in points}) == len(points):
        return points, wide_mm, long_mm
    return [(y, x) for x, y in points], long_mm, wide_mm


def layered(lies: Lies) -> Picture:
    """Layers in section, and one layer from above, in one scale."""
    layout = lies.layout
    points, wide_mm, long_mm = in_rows(layout)
    beside = max(wide(lies.length(250)) + 64, 92)
    scale = min(MOST_SCALE, (WIDTH - LEFT - beside) / wide_mm, 220 / long_mm)
    depth = layout.depth_mm or 0
    height_mm = layout.dimensions_mm[-1] if layout.shape in ("box", "tub") else None
    air = headroom(layout.shape, depth, height_mm, scale)
    frame = Frame(LEFT, 32 + air + depth * scale, wide_mm * scale, depth * scale, scale)
    height = lies.length(height_mm) if height_mm else ""
    body = [
        label(lies.say("draw_side"), 6, 18),
        *block(frame.left, frame.top, frame.width, frame.height),
        *_cut(lies, points, frame),
        *around(layout.shape, frame, air, lies.say("draw_air"), height),
        *_layer_measures(lies, frame, height),
        *across(frame.left, frame.right, frame.floor + 14, lies.length(wide_mm), under=15),
    ]
    top = frame.floor + 62
    body.append(label(lies.say("draw_above"), 6, top - 8))
    plan = Frame(LEFT, top + long_mm * scale, wide_mm * scale, long_mm * scale, scale)
    body += _plan(lies, points, plan)
    body += _plan_measures(lies, points, plan, long_mm)
    return Picture(
        name="packed",
        title=lies.title,
        says=_says_layers(lies),
        height=plan.floor + 30,
        body=tuple(body),
    )


def _cut(lies: Lies, points: list[Point], frame: Frame) -> list[Node]:
    """The seeds that a cut along a row goes through, in each layer."""
    _, width, thickness = lies.seed_mm
    found = []
    for count, level in zip(layers_of(lies.layout), lies.layout.levels_mm, strict=False):
        row = row_of(points[:count])
        found += [
            seed(
                frame.left + x * frame.scale,
                frame.floor - level * frame.scale,
                width * frame.scale,
                thickness * frame.scale,
            )
            for x, _ in row
        ]
    return found


def _plan(lies: Lies, points: list[Point], frame: Frame) -> list[Node]:
    """Every seed of a full layer from above."""
    length, width, _ = lies.seed_mm
    found: list[Node] = [*block(frame.left, frame.top, frame.width, frame.height)]
    found.append(
        node(
            "rect",
            x=frame.left,
            y=frame.top,
            width=frame.width,
            height=frame.height,
            fill="none",
            stroke=GREY,
            stroke_width=1,
        )
    )
    for x, y in points:
        found.append(
            node(
                "g",
                seed(
                    frame.left + x * frame.scale,
                    frame.top + y * frame.scale,
                    width * frame.scale,
                    length * frame.scale,
                ),
                data_is="laid",
            )
        )
    return found


def _layer_measures(lies: Lies, frame: Frame, height: str) -> list[Node]:
    """How thick the medium is under the lowest layer and over the uppermost; a box has its height."""
    layout = lies.layout
    if not layout.levels_mm or height:
        return []
    medium = layout.levels_mm[0] - lies.seed_mm[2] / 2
    x, low = frame.right + 44, frame.floor - medium * frame.scale
    found = list(upright(x, low, frame.floor, lies.length(medium)))
    if frame.height > 3 * (frame.floor - low):
        found += upright(x, frame.top, frame.top + medium * frame.scale, lies.length(medium))
    return found


def _plan_measures(lies: Lies, points: list[Point], frame: Frame, long_mm: float) -> list[Node]:
    """The other side of the block, and the gap between two seeds of the lowest row that has two."""
    found = list(upright(frame.right + 12, frame.top, frame.floor, lies.length(long_mm)))
    rows: dict[float, list[float]] = {}
    for x, y in points:
        rows.setdefault(y, []).append(x)
    pairs = [y for y, row in rows.items() if len(row) > 1]
    if not pairs or not lies.layout.gap_mm:
        return found
    y = max(pairs)
    first, second = sorted(rows[y])[:2]
    half, line_y = lies.seed_mm[1] / 2, frame.top + y * frame.scale
    start, end = frame.left + (first + half) * frame.scale, frame.left + (second - half) * frame.scale
    gap = path("M", start, line_y, "H", end)
    lead = path("M", (start + end) / 2, line_y, "V", frame.floor + 8)
    return [
        *found,
        node("path", d=gap, stroke=INK, stroke_width=2, data_is="gap"),
        node("path", d=lead, stroke=INK, stroke_width=0.8, fill="none"),
        label(lies.say("draw_gap", gap=lies.length(lies.layout.gap_mm)), LEFT, frame.floor + 21),
    ]


def mixed(lies: Lies) -> Picture:
    """Seed mixed through its medium, in a net within it, or alone, in section."""
    layout, medium = lies.layout, lies.medium
    wide_mm, long_mm = max(layout.footprint_mm), min(layout.footprint_mm)
    depth = layout.depth_mm or 0
    height_mm = layout.dimensions_mm[-1] if layout.shape in ("box", "tub") else None
    beside = max(wide(lies.length(250)) + 64, 92)
    scale = min(MOST_SCALE, (WIDTH - LEFT - beside) / wide_mm, 220 / (height_mm or depth))
    air = headroom(layout.shape, depth, height_mm, scale)
    frame = Frame(LEFT, 32 + air + depth * scale, wide_mm * scale, depth * scale, scale)
    height = lies.length(height_mm) if height_mm else ""
    fill = "#fff" if medium.packs == "loose" else None
    ground = block(frame.left, frame.top, frame.width, frame.height, *([fill] if fill else []))
    cut, each, inside = _netted(lies, frame) if medium.packs == "netted" else _scattered(lies, long_mm, frame)
    body = [
        label(side_says(lies, cut), 6, 18),
        *(ground[:1] if fill else ground),
        *inside,
        *around(layout.shape, frame, air, lies.say("draw_air"), height),
        *across(frame.left, frame.right, frame.floor + 14, lies.length(wide_mm), under=15),
    ]
    if not height:
        body += upright(frame.right + 44, frame.top, frame.floor, lies.length(depth))
    if each > 1:
        body.append(label(lies.say("draw_dots", seeds=each), LEFT, frame.floor + 48))
    return Picture(
        name="packed",
        title=lies.title,
        says=_says_mixed(lies),
        height=frame.floor + (56 if each > 1 else 38),
        body=tuple(body),
    )


def seeds_cut(lies: Lies, long_mm: float) -> int:
    """Seeds that a cut through a mixture goes through: their part of its depth that one seed takes up.

    A plane meets a body of height ``h`` in a block of depth ``L`` with probability ``h / L``: of ``N`` seeds
    ``N h / L`` are cut (Delesse and later stereology, from memory).
    """
    return max(1, round(lies.each * min(1.0, lies.seed_mm[1] / long_mm)))


def side_says(lies: Lies, cut: int) -> str:
    """What stands over a cut: how many of the seeds it meets, since the others lie before and behind it."""
    told = lies.say("draw_side_cut", cut=number(cut), seeds=lies.counted(lies.each))
    return told if cut < lies.each and wide(told) < WIDTH - 6 else lies.say("draw_side")


def _scattered(lies: Lies, long_mm: float, frame: Frame) -> tuple[int, int, list[Node]]:
    """How many seeds a cut meets, how many each drawn one stands for, and those, spread evenly over it."""
    count = seeds_cut(lies, long_mm)
    each = math.ceil(count / MOST_SEEDS)
    length, _, thickness = (side * frame.scale for side in lies.seed_mm)
    places = apart(count // each, frame.width, frame.height, length, thickness)
    return count, each, [seed(frame.left + x, frame.top + y, length, thickness) for x, y in places]


def apart(count: int, wide_: float, high: float, length: float, thickness: float) -> list[Point]:
    """So many places in a block, in rows shifted by half a place, so that seeds lie side by side."""
    most = max(1, int(high / max(thickness, 1)))
    rows = min(most, max(1, round(math.sqrt(count * high / wide_ * length / max(thickness, 1)))))
    found = []
    for row in range(rows):
        here = count // rows + (row < count % rows)
        step = wide_ / max(here, 1) if rows == 1 else (wide_ - length) / max(here - 0.5, 1)
        start = step / 2 if rows == 1 else length / 2 + step / 2 * (row % 2)
        y = min(max((row + 0.5) * high / rows, thickness / 2), high - thickness / 2)
        found += [(start + i * step, y) for i in range(here)]
    return found


def _netted(lies: Lies, frame: Frame) -> tuple[int, int, list[Node]]:
    """The same of a flat net in the middle of the medium, as large as its seeds take it."""
    length, width, thickness = lies.seed_mm
    wide_mm, long_mm = max(lies.layout.footprint_mm), min(lies.layout.footprint_mm)
    seeds = lies.each
    volume = seeds / seeds_per_litre((length * width * thickness) ** (1 / 3)) * 1e6
    base = wide_mm * long_mm
    area = min(0.8 * base, max(seeds * length * width / 0.8, volume / (1.2 * thickness)))
    high_mm, share = max(1.2 * thickness, volume / area), math.sqrt(area / base)
    wide_, high = max(wide_mm * share, length) * frame.scale, high_mm * frame.scale
    x, y = (frame.left + frame.right) / 2 - wide_ / 2, frame.floor - frame.height / 2 - high / 2
    cut = max(1, round(seeds * min(1.0, width / (long_mm * share))))
    each = math.ceil(cut / MOST_SEEDS)
    net = node(
        "rect",
        x=x - 2,
        y=y - 2,
        width=wide_ + 4,
        height=high + 4,
        rx=4,
        fill="#fff",
        stroke=INK,
        stroke_width=1.2,
        stroke_dasharray="2 2",
        data_is="net",
    )
    places = apart(cut // each, wide_, high, length * frame.scale, thickness * frame.scale)
    inside = [seed(x + px, y + py, length * frame.scale, thickness * frame.scale) for px, py in places]
    return cut, each, [net, *inside]


def _says_layers(lies: Lies) -> str:
    layout = lies.layout
    return lies.texts.count(
        "draw_says_layers",
        len(layers_of(layout)),
        title=lies.title,
        counts=", ".join(number(count) for count in layers_of(layout)),
        layers=len(layers_of(layout)),
        gap=lies.length(layout.gap_mm or 0),
        width=lies.length(layout.footprint_mm[0]),
        length=lies.length(layout.footprint_mm[1]),
        depth=lies.length(layout.depth_mm or 0),
        material=lies.medium.material_says,
    )


def _says_mixed(lies: Lies) -> str:
    layout = lies.layout
    return lies.say(
        "draw_says_mixed",
        title=lies.title,
        says=lies.medium.says,
        width=lies.length(layout.footprint_mm[0]),
        length=lies.length(layout.footprint_mm[1]),
        depth=lies.length(layout.depth_mm or 0),
        material=lies.medium.material_says,
    )
