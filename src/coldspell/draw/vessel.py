"""Bag, box and tub in section, each around a block of what lies in it."""

from __future__ import annotations

from msgspec import Struct

from coldspell.draw.pieces import GREY, INK, label, upright
from coldspell.draw.svg import Node, node, path


class Frame(Struct, frozen=True):
    """Where the block stands on the sheet: left, floor, width and height of it, and units to a millimetre."""

    left: float
    floor: float
    width: float
    height: float
    scale: float

    @property
    def right(self) -> float:
        """Right end of the block."""
        return self.left + self.width

    @property
    def top(self) -> float:
        """Upper end of the block."""
        return self.floor - self.height


BAG_AIR = 0.4
"""Room for air over the block in a bag, as a part of its height; how much air there is nobody measures."""


def headroom(shape: str, depth_mm: float, height_mm: float | None, scale: float) -> float:
    """Units of room between the block and the lid, or the film."""
    if shape in ("box", "tub") and height_mm:
        return max(0.0, height_mm - depth_mm) * scale
    return min(max(16.0, depth_mm * scale * BAG_AIR), 44.0)


def around(shape: str, frame: Frame, air: float, air_text: str, height_text: str = "") -> tuple[Node, ...]:
    """The container around a block; a box has its headroom measured, a bag only named."""
    if shape == "bag":
        return _bag(frame, air, air_text)
    return _box(frame, air, air_text, height_text)


def _bag(frame: Frame, air: float, air_text: str) -> tuple[Node, ...]:
    left, right, floor, top = frame.left, frame.right, frame.floor, frame.top - air
    middle, neck = floor - (frame.height + air) * 0.5, right + 26
    film = path(
        "M", left, floor, "Q", left - 12, middle, left + 6, top + 2,
        "Q", (left + right) / 2, top - 4, right - 2, top + 4,
        "Q", right + 10, middle - 8, neck, middle - 3,
        "L", neck + 12, middle - 11, "L", neck + 12, middle + 11, "L", neck, middle + 3,
        "Q", right + 10, middle + 8, right, floor, "Z",
    )  # fmt: skip
    return (
        node("path", d=film, fill="none", stroke=INK, stroke_width=1.6, stroke_linejoin="round"),
        node("rect", x=neck - 3, y=middle - 6, width=4, height=12, fill=INK),
        label(air_text, (left + right) / 2, frame.top - air / 2 + 5, "middle", 12),
    )


def _box(frame: Frame, air: float, air_text: str, height_text: str) -> tuple[Node, ...]:
    left, right, floor, top = frame.left - 2, frame.right + 2, frame.floor + 2, frame.top - air
    walls = path("M", left, top, "V", floor, "H", right, "V", top)
    lid = path("M", left - 5, top, "H", right + 5)
    found = [
        node("path", d=walls, fill="none", stroke=INK, stroke_width=2),
        node("path", d=lid, fill="none", stroke=INK, stroke_width=4, stroke_dasharray="14 3"),
    ]
    if air >= 13:
        found.append(label(air_text, (left + right) / 2, frame.top - air / 2 + 5, "middle", 12))
    if height_text:
        found += upright(right + 12, top, floor, height_text)
    return tuple(found)


def dashed(x: float, y: float, wide: float, high: float) -> Node:
    """A loose bag around a tray or a roll."""
    return node(
        "rect",
        x=x,
        y=y,
        width=wide,
        height=high,
        rx=12,
        fill="none",
        stroke=GREY,
        stroke_width=1.4,
        stroke_dasharray="6 3",
    )
