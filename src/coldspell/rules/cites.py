"""Read who says so: common practice, an id of the bibliography, or a map with place and basis."""

from __future__ import annotations

from coldspell.rules.findings import Findings
from coldspell.rules.model import Cite
from coldspell.rules.reader import Node
from coldspell.rules.shape import Map

_BASES = ("read", "recalled", "practice")


def cites_of(entry: Map, out: Findings) -> tuple[Cite, ...]:
    """The cites of a map; common practice where it has none."""
    node = entry.get("cite")
    if node is None:
        return (Cite("practice"),)
    if node.items == () or node.text == "":
        out.error(node.place, "missing-cite", "a cite is empty", "Leave it out for common practice.")
    made = [_cite(item, out) for item in ((node,) if node.items is None else node.items)]
    return tuple(c for c in made if c)


def _cite(node: Node, out: Findings) -> Cite | None:
    if node.items is not None:
        out.error(node.place, "shape", "a cite is an id, 'practice' or a map")
        return None
    if node.entries is None:
        text = node.text or ""
        return Cite("practice") if text == "practice" else Cite("recalled", text) if text else None
    entry = Map(node, "a cite", ("source", "basis"), ("at",), out)
    basis = entry.choice("basis", _BASES, "recalled")
    if basis == "practice":
        what = "common practice has no source"
        out.error(entry.at("basis"), "cite", what, "Leave the cite out.")
    return Cite(basis, entry.text("source"), entry.text("at") or None)
