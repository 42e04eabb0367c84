"""What several pictures are put together from: labels, measures, seeds, medium, mesh, soil."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from coldspell.draw.svg import Node, node, path

INK, GREY = "#222", "#666"
SEED, MEDIUM, SOIL, PAPER, ROOT = "#a5734a", "#f1ebdd", "#d9c9ae", "#fbfbf7", "#fff"
FONT = "Libertinus Serif, Georgia, serif"
SIZE = 13.0
Point = tuple[float, float]
_R2 = (0.7548776662466927, 0.5698402909980532)
"""Steps of the R2 sequence: spreads any number of points evenly (M. Roberts 2018, from memory)."""


def label(text: str, x: float, y: float, anchor: str = "start", size: float = SIZE) -> Node:
    """A line of letters."""
    return node("text", text, x=x, y=y, font_family=FONT, font_size=size, fill=INK, text_anchor=anchor)


def haloed(text: str, x: float, y: float, anchor: str = "start", size: float = SIZE) -> Node:
    """A line of letters over lines of the ground, which stop at it."""
    under = node(
        "text", text, x=x, y=y, font_family=FONT, font_size=size, text_anchor=anchor,
        fill="#fff", stroke="#fff", stroke_width=4, stroke_linejoin="round", aria_hidden="true",
    )  # fmt: skip
    return node("g", under, label(text, x, y, anchor, size))


def wide(text: str, size: float = SIZE) -> float:
    """About how wide a line of letters is."""
    return len(text) * size * 0.5


def lines(text: str, width: float, size: float = SIZE) -> list[str]:
    """A text in lines that are about no wider than so much."""
    import textwrap

    return textwrap.wrap(text, max(8, int(width / (size * 0.5))), break_long_words=False) or [""]


def labels(text: str, x: float, y: float, width: float, size: float = SIZE) -> tuple[Node, ...]:
    """A text in lines below one another."""
    return tuple(label(one, x, y + i * (size + 2), size=size) for i, one in enumerate(lines(text, width)))


def across(x1: float, x2: float, y: float, text: str, *, under: float = 13) -> tuple[Node, ...]:
    """A measure from left to right, with its length under the line."""
    line = path("M", x1, y - 4, "V", y + 4, "M", x1, y, "H", x2, "M", x2, y - 4, "V", y + 4)
    return (
        node("path", d=line, stroke=GREY, stroke_width=1, fill="none"),
        label(text, (x1 + x2) / 2, y + under, "middle"),
    )


def upright(x: float, y1: float, y2: float, text: str) -> tuple[Node, ...]:
    """A measure from above to below, with its length to the right of the line."""
    line = path("M", x - 4, y1, "H", x + 4, "M", x, y1, "V", y2, "M", x - 4, y2, "H", x + 4)
    found = [node("path", d=line, stroke=GREY, stroke_width=1, fill="none")]
    told = text.split("\n")
    middle = (y1 + y2) / 2 + 4 - (len(told) - 1) * 7.5
    found += [label(one, x + 8, middle + i * 15) for i, one in enumerate(told)]
    return tuple(found)


def seed(x: float, y: float, wide_: float, high: float, fill: str = SEED) -> Node:
    """One seed in outline; never smaller than a dot that can be seen."""
    return node(
        "ellipse",
        cx=x,
        cy=y,
        rx=max(wide_ / 2, 0.9),
        ry=max(high / 2, 0.9),
        fill=fill,
        stroke=INK,
        stroke_width=0.8,
        data_is="seed",
    )


def root(x: float, y: float, length: float, high: float = 0) -> Node:
    """A white root that grows down from the side of a seed."""
    start = y + high / 2
    bend = path("M", x, start, "q", 3, length / 2, -1, length)
    return node(
        "g",
        node("path", d=bend, stroke=INK, stroke_width=5, fill="none", stroke_linecap="round"),
        node("path", d=bend, stroke=ROOT, stroke_width=3, fill="none", stroke_linecap="round"),
    )


def block(x: float, y: float, wide_: float, high: float, fill: str = MEDIUM) -> tuple[Node, ...]:
    """Medium or soil: a pale block with grains."""
    area = node("rect", x=x, y=y, width=wide_, height=high, fill=fill, data_is="block")
    count = int(min(260, wide_ * high / 70))
    dots = " ".join(
        f"M {x + 2 + px * (wide_ - 4):.1f} {y + 2 + py * (high - 4):.1f} h .01" for px, py in spread(count)
    )
    if not dots:
        return (area,)
    return area, node("path", d=dots, stroke="#8a7d68", stroke_width=1.3, stroke_linecap="round", fill="none")


def mesh(x1: float, x2: float, y: float, opening: float) -> Node:
    """Wire mesh in section: its wires as dots, so far apart as they are."""
    step = max(opening, 3.0)
    count = max(1, math.floor((x2 - x1) / step))
    dots = " ".join(path("M", x1 + i * (x2 - x1) / count, y, "h", 0.01) for i in range(count + 1))
    return node("path", d=dots, stroke=INK, stroke_width=2.4, stroke_linecap="round", data_is="mesh")


def mesh_down(x: float, y1: float, y2: float, opening: float) -> Node:
    """Wire mesh in section, upright."""
    step = max(opening, 3.0)
    count = max(1, math.floor((y2 - y1) / step))
    dots = " ".join(path("M", x, y1 + i * (y2 - y1) / count, "h", 0.01) for i in range(count + 1))
    return node("path", d=dots, stroke=INK, stroke_width=2.4, stroke_linecap="round", data_is="mesh")


def spread(count: int) -> Iterator[Point]:
    """So many points, evenly over a square of side one; the same each time."""
    for i in range(count):
        yield (0.5 + (i + 1) * _R2[0]) % 1, (0.5 + (i + 1) * _R2[1]) % 1


def row_of(points: Sequence[Point]) -> list[Point]:
    """The row with the most seeds that lies nearest the middle: what a cut along a row goes through."""
    rows: dict[float, list[Point]] = {}
    for x, y in points:
        rows.setdefault(round(y, 1), []).append((x, y))
    if not rows:
        return []
    middle = sum(rows) / len(rows)
    most = max(len(row) for row in rows.values())
    return min((row for row in rows.values() if len(row) == most), key=lambda row: abs(row[0][1] - middle))
