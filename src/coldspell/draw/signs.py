"""How a white root, harmless fuzz, rot, a full and an empty seed look, at the proportions of one seed."""

from __future__ import annotations

import math
from collections.abc import Callable

from coldspell.draw.picture import WIDTH, Picture
from coldspell.draw.pieces import INK, SEED, label, lines
from coldspell.draw.svg import Node, node, path
from coldspell.texts import Texts
from coldspell.write.recipe import Recipe

SIGNS = ("root", "fuzz", "rot", "full", "empty")
LONG, MOST_HIGH, ACROSS, DOWN = 56.0, 21.0, 113.0, 108.0
"""Length and height of a seed, width and height of its place."""


def signs(recipe: Recipe, texts: Texts, width: float = WIDTH) -> Picture | None:
    """What may be seen at a look, in as few rows as the width allows; ``None`` where nothing is looked at."""
    if recipe.checks is None:
        return None
    length, thick, _ = recipe.lot.seed_mm
    rx = LONG / 2
    ry = max(rx / 2.2, min(MOST_HIGH, rx * thick / length))
    rx = min(rx, ry * length / thick)
    body: list[Node] = []
    across = min(len(SIGNS), int(width / ACROSS))
    cell, high = width / across, math.ceil(len(SIGNS) / across) * DOWN + 6
    for i, name in enumerate(SIGNS):
        x, y = cell * (i % across + 0.5), 46 + DOWN * (i // across)
        body += _DRAWN[name](x, y, rx, ry)
        told = lines(texts.say(f"draw_sign_{name}"), cell - 8)
        body += [label(line, x, y + 48 + j * 15, "middle") for j, line in enumerate(told)]
    says = "; ".join(texts.say(f"draw_sign_{name}") for name in SIGNS)
    return Picture("signs", texts.say("draw_signs"), f"{says}.", high, tuple(body), width)


def _body(x: float, y: float, rx: float, ry: float, fill: str = SEED) -> Node:
    return node("ellipse", cx=x, cy=y, rx=rx, ry=ry, fill=fill, stroke=INK, stroke_width=1.4)


def _root(x: float, y: float, rx: float, ry: float) -> list[Node]:
    """Firm seed, a white root from its end."""
    end = path("M", x + rx - 2, y + 1, "q", 9, 3, 9, 24)
    return [
        node("path", d=end, stroke=INK, stroke_width=8, fill="none", stroke_linecap="round"),
        node("path", d=end, stroke="#fff", stroke_width=5.4, fill="none", stroke_linecap="round"),
        _body(x, y, rx, ry),
    ]


def _fuzz(x: float, y: float, rx: float, ry: float) -> list[Node]:
    """Firm seed in outline, fine hairs all around it."""
    hairs = []
    for i in range(44):
        turn = 2 * math.pi * i / 44
        long = 7 + 4 * (i % 3)
        sx, sy = x + rx * math.cos(turn), y + ry * math.sin(turn)
        hairs.append(path("M", sx, sy, "q", 2, -3, long * math.cos(turn + 0.2), long * math.sin(turn + 0.2)))
    return [
        node("path", d=" ".join(hairs), stroke="#555", stroke_width=0.9, fill="none"),
        _body(x, y, rx, ry),
    ]


def _rot(x: float, y: float, rx: float, ry: float) -> list[Node]:
    """Sunken outline, black and wet, drops beneath."""
    outline = path(
        "M", x - rx, y, "Q", x - rx, y - ry, x - rx * 0.3, y - ry * 0.8,
        "Q", x, y - ry * 0.3, x + rx * 0.4, y - ry * 0.9, "Q", x + rx, y - ry * 0.8, x + rx, y + ry * 0.1,
        "Q", x + rx * 0.9, y + ry, x, y + ry * 0.9, "Q", x - rx, y + ry, x - rx, y, "Z",
    )  # fmt: skip
    drops = " ".join(
        path("M", x + dx, y + ry + 5, "q", 4, 6, 0, 8, "q", -4, -2, 0, -8, "Z") for dx in (-14, 3, 17)
    )
    return [
        node("path", d=outline, fill="#3a332c", stroke=INK, stroke_width=1.4),
        node("path", d=path("M", x - rx * 0.6, y, "q", 6, -6, 14, -3), stroke="#cfc8bd", fill="none"),
        node("path", d=drops, fill="#fff", stroke=INK, stroke_width=1),
    ]


def _full(x: float, y: float, rx: float, ry: float) -> list[Node]:
    """Cut through: pale all through within its shell."""
    return [_body(x, y, rx, ry), _body(x, y, rx * 0.86, ry * 0.8, "#fdf6e0")]


def _empty(x: float, y: float, rx: float, ry: float) -> list[Node]:
    """Cut through: a hollow with a shrunken rest."""
    rest = path(
        "M", x - rx * 0.4, y + ry * 0.35, "q", 5, -7, 12, -2, "q", 8, -4, 11, 3, "q", -10, 6, -23, -1, "Z"
    )
    return [
        _body(x, y, rx, ry),
        _body(x, y, rx * 0.86, ry * 0.8, "#fff"),
        node("path", d=rest, fill="#7a6a58", stroke=INK, stroke_width=1),
    ]


_DRAWN: dict[str, Callable[[float, float, float, float], list[Node]]] = {
    "root": _root,
    "fuzz": _fuzz,
    "rot": _rot,
    "full": _full,
    "empty": _empty,
}
