"""Seed on a sheet of towel, laid along the fold, and the sheet rolled up in its bag."""

from __future__ import annotations

from coldspell.draw.lies import Lies
from coldspell.draw.picture import Picture
from coldspell.draw.pieces import GREY, INK, PAPER, across, label, seed
from coldspell.draw.svg import Node, node, path
from coldspell.draw.vessel import dashed
from coldspell.write.units import number

LEFT, TOP, SIDE = 20.0, 30.0, 212.0
ROLL_MM = 36.0
"""Thickness of a loose roll (our choice); its length is half a sheet."""


def on_first_sheet(lies: Lies) -> int:
    """Seeds along the fold of the first sheet."""
    return min(lies.layout.per_layer or lies.each, lies.each)


def towel(lies: Lies) -> Picture:
    """A sheet laid open with its seeds along the fold, then folded, rolled and bagged; to scale."""
    say, (across_mm, down_mm) = lies.say, lies.layout.footprint_mm
    scale = SIDE / across_mm
    high = down_mm * scale
    fold = TOP + high / 2
    count = on_first_sheet(lies)
    body = [
        label(say("draw_towel_laid"), 6, 18),
        node("rect", x=LEFT, y=TOP, width=SIDE, height=high, fill=PAPER, stroke=INK, stroke_width=1.2),
        node(
            "path", d=path("M", LEFT - 6, fold + 9, "H", LEFT + SIDE + 6), stroke=GREY, stroke_dasharray="5 4"
        ),
        *_seeds(lies, count, fold, scale),
        label(say("draw_fold"), LEFT + SIDE + 10, fold + 13),
        *_arrow(LEFT + SIDE * 0.5, TOP + high - 24, fold + 30),
        *across(LEFT, LEFT + SIDE, TOP + high + 12, lies.length(across_mm), under=15),
    ]
    top = TOP + high + 68
    body += [label(say("draw_towel_rolled"), 6, top - 18), *_roll(top, across_mm / 2 * scale, scale)]
    title = _title(lies)
    return Picture(
        name="packed",
        title=title,
        says=say("draw_says_towel", title=title, seeds=lies.counted(count), side=lies.length(across_mm)),
        height=top + ROLL_MM * scale + 30,
        body=tuple(body),
    )


def _title(lies: Lies) -> str:
    sheets = lies.medium.sheets or 1
    key = "draw_towel" if sheets == 1 else "draw_towels"
    return lies.say(key, sheets=number(sheets), seeds=lies.counted(on_first_sheet(lies)))


def _seeds(lies: Lies, count: int, fold: float, scale: float) -> list[Node]:
    """One row along the fold, evenly over the sheet, none touching another."""
    length, width, _ = lies.seed_mm
    step = lies.layout.footprint_mm[0] / count
    return [
        node("g", seed(LEFT + (i + 0.5) * step * scale, fold, width * scale, length * scale), data_is="laid")
        for i in range(count)
    ]


def _arrow(x: float, low: float, high: float) -> tuple[Node, ...]:
    """The lower half goes up over the seeds."""
    line = path("M", x, low, "C", x + 26, low, x + 26, high, x + 4, high)
    head = path("M", x + 11, high - 5, "L", x + 3, high, "L", x + 11, high + 5)
    return tuple(node("path", d=d, stroke=GREY, stroke_width=1.6, fill="none") for d in (line, head))


def _roll(top: float, long: float, scale: float) -> list[Node]:
    """The roll with its wound end, in a bag that is not pressed flat."""
    high, x = ROLL_MM * scale, LEFT + 24
    middle, radius = top + high / 2, high / 2
    turns = path(
        "M", x, middle, "a", 3, 3, 0, 0, 1, 6, 0, "a", 6, 6, 0, 0, 1, -12, 0,
        "a", 9, 9, 0, 0, 1, 18, 0, "a", 12, 12, 0, 0, 1, -23, 2,
    )  # fmt: skip
    return [
        dashed(LEFT + 2, top - 10, long + 78, high + 20),
        node(
            "path",
            d=path(
                "M", x, top, "H", x + long, "A", radius * 0.6, radius, 0, 0, 1, x + long, top + high, "H", x
            ),
            fill=PAPER,
            stroke=INK,
            stroke_width=1.2,
        ),
        node(
            "ellipse",
            cx=x,
            cy=middle,
            rx=radius * 0.6 + 2,
            ry=radius,
            fill=PAPER,
            stroke=INK,
            stroke_width=1.2,
        ),
        node("path", d=turns, fill="none", stroke=INK, stroke_width=1),
    ]
