"""Rule files as nodes of text, list or map, each with its place. Nothing is interpreted here.

A scalar is what was written: in a condition ``yes``, ``0`` and ``true`` are words first.
"""

from __future__ import annotations

from dataclasses import dataclass

from coldspell.errors import Place
from coldspell.yaml import document


@dataclass(frozen=True, slots=True)
class Node:
    """A scalar (`text`), a list (`items`) or a map (`entries`: key -> place of the key, value)."""

    place: Place
    text: str | None = None
    items: tuple[Node, ...] | None = None
    entries: dict[str, tuple[Place, Node]] | None = None

    @property
    def kind(self) -> str:
        """``text``, ``list`` or ``map``, for messages."""
        return "map" if self.entries is not None else "list" if self.items is not None else "text"


def parse(content: bytes, file: str) -> Node:
    """The root node of a file.

    Raises
    ------
    ColdspellError
        Whatever `document` refuses: not UTF-8, not YAML, a tab, an alias, a key given twice, …
    """
    return _node(document.parse(document.decode(content, file), file), file)


def _node(raw: document.Node, file: str) -> Node:
    where = document.place(raw, file)
    if isinstance(raw, document.Scalar):
        return Node(where, text=_written(raw.value))
    if isinstance(raw, document.Sequence):
        return Node(where, items=tuple(_node(item, file) for item in raw.items))
    keys = raw.keys
    entries = {key: (document.place(keys[key], file), _node(value, file)) for key, value in raw.items.items()}
    return Node(where, entries=entries)


def _written(value: document.Plain) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    return value if isinstance(value, str) else str(value)
