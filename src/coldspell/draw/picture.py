"""One picture: a heading and a sentence that stands for it, and its elements on a sheet of its own size."""

from __future__ import annotations

from msgspec import Struct

from coldspell.draw.svg import Node, node

WIDTH = 340.0
"""Width of a picture: that of a small phone, so that its letters are not made smaller there."""


class Picture(Struct, frozen=True):
    """A picture. ``says`` stands for it where it is not seen."""

    name: str
    title: str
    says: str
    height: float
    body: tuple[Node, ...]
    width: float = WIDTH

    def node(self, prefix: str = "") -> Node:
        """The whole as one element; a prefix keeps its ids apart from those of other lots on a page."""
        key = f"{prefix}{self.name}"
        return node(
            "svg",
            node("title", self.title, id=f"{key}-title"),
            node("desc", self.says, id=f"{key}-desc"),
            node("rect", width=self.width, height=self.height, fill="#fff"),
            *self.body,
            xmlns="http://www.w3.org/2000/svg",
            viewBox=f"0 0 {self.width:g} {round(self.height, 1):g}",
            width="100%",
            role="img",
            aria_labelledby=f"{key}-title {key}-desc",
        )

    def svg(self, prefix: str = "") -> str:
        """The whole as SVG text."""
        return self.node(prefix).text()
