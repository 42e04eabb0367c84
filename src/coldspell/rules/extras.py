"""Read the files beside the decisions: numbers of practice, and sentences of no rule or record."""

from __future__ import annotations

from collections.abc import Callable

from coldspell.rules.findings import Findings
from coldspell.rules.model import Cite, Number
from coldspell.rules.reader import Node
from coldspell.rules.shape import Map, check_name, number_of

Cites = Callable[[Map], tuple[Cite, ...]]


def read_practice(root: Node, known: dict[str, Number], cites: Cites, out: Findings) -> None:
    """Add the numbers of one file to those known; a name given twice is a mistake."""
    for item in Map(root, "a file of practice", ("practice",), (), out).items("practice"):
        entry = Map(item, "a number of practice", ("name", "value", "unit", "because"), ("cite",), out)
        name, value = entry.text("name"), entry.get("value")
        if not name or value is None or not check_name(name, "a number", entry.at("name"), out):
            continue
        nodes = (value,) if value.items is None else value.items
        read = (number_of(one, out) for one in nodes)
        numbers = tuple(int(n) if n == int(n) else n for n in read if n is not None)
        if name in known:
            first = known[name].place
            out.error(entry.at("name"), "twice", f"the number {name!r} stands twice", f"At {first}.")
        elif numbers:
            at, because = entry.at("name"), entry.text("because")
            known[name] = Number(name, numbers, entry.text("unit"), because, cites(entry), at)


def read_texts(root: Node, known: dict[str, str], out: Findings) -> None:
    """Add the sentences of one file to those known."""
    top = Map(root, "a file of texts", ("texts",), (), out)
    node = top.get("texts")
    if node is not None and node.entries is None:
        out.error(node.place, "shape", "'texts' must map each name to its text")
    for key, (place, value) in ((node.entries if node else None) or {}).items():
        if value.text is None:
            out.error(value.place, "shape", f"the text {key!r} must be one text, not a {value.kind}")
        elif key in known:
            out.error(place, "twice", f"the text {key!r} stands twice")
        else:
            known[key] = value.text
