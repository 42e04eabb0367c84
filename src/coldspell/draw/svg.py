"""SVG as values, then as text: attributes only, no style, so that a strict Content-Security-Policy holds."""

from __future__ import annotations

from msgspec import Struct

Inside = "Node | str"
_ESCAPED = str.maketrans({"&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;"})
_FORBIDDEN = {code: None for code in range(32) if code not in (9, 10, 13)}


class Node(Struct, frozen=True):
    """One element with its attributes and what stands in it."""

    tag: str
    attributes: tuple[tuple[str, str], ...]
    inside: tuple[Node | str, ...] = ()

    def text(self) -> str:
        """The element as SVG text."""
        told = "".join(f' {name}="{escaped(value)}"' for name, value in self.attributes)
        if not self.inside:
            return f"<{self.tag}{told}/>"
        inside = "".join(escaped(one) if isinstance(one, str) else one.text() for one in self.inside)
        return f"<{self.tag}{told}>{inside}</{self.tag}>"

    def all(self) -> list[Node]:
        """This element and every one within it."""
        found = [self]
        for one in self.inside:
            if isinstance(one, Node):
                found += one.all()
        return found

    def get(self, name: str) -> str:
        """The value of an attribute; empty where there is none."""
        return dict(self.attributes).get(name, "")


def node(tag: str, *inside: Node | str, **attributes: str | float | None) -> Node:
    """An element; ``stroke_width=2`` becomes ``stroke-width="2"``, what is ``None`` is left out."""
    told = ((name.replace("_", "-"), value) for name, value in attributes.items() if value is not None)
    return Node(tag, tuple((name, _said(value)) for name, value in told), inside)


def escaped(text: str) -> str:
    """Text as XML may hold it: signs of the markup escaped, control signs left out."""
    return text.translate(_FORBIDDEN).translate(_ESCAPED)


def path(*parts: str | float) -> str:
    """The ``d`` of a path: letters and numbers with blanks between."""
    return " ".join(_said(part) for part in parts)


def _said(value: str | float) -> str:
    if isinstance(value, str):
        return value
    shown = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if shown in ("-0", "") else shown
