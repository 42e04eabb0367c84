"""Take a map apart by its known keys: kinds, missing and unknown keys, each mistake with its place."""

from __future__ import annotations

import re
from collections.abc import Sequence

from coldspell.errors import Place
from coldspell.rules.findings import Findings, nearest
from coldspell.rules.reader import Node

_NAME = re.compile(r"[a-z][a-z0-9_]*\Z")
RESERVED = ("sid", "id", "not_asked", "impossible")


class Map:
    """A map node whose keys are checked once and then taken by kind."""

    def __init__(self, node: Node, what: str, need: Sequence[str], may: Sequence[str], out: Findings) -> None:
        self.node, self.what, self.out, self.place = node, what, out, node.place
        self.entries = node.entries or {}
        if node.entries is None:
            out.error(node.place, "shape", f"{what} must be a map, not a {node.kind}")
            return
        for key, (place, _) in self.entries.items():
            if key not in (*need, *may):
                out.error(place, "unknown-key", f"{what} has no key {key!r}", nearest(key, (*need, *may)))
        for key in need:
            if key not in self.entries:
                out.error(node.place, "missing-key", f"{what} needs the key {key!r}")

    def at(self, key: str) -> Place:
        """The place of the key's value, or of the whole map."""
        return self.entries[key][1].place if key in self.entries else self.place

    def get(self, key: str) -> Node | None:
        """The value node, if the key is there."""
        return self.entries[key][1] if key in self.entries else None

    def text(self, key: str, default: str = "") -> str:
        """One text; an empty one is a mistake."""
        node = self.get(key)
        if node is None:
            return default
        if not node.text:
            self.out.error(node.place, "shape", f"{key!r} must be one text, not {_kind(node)}")
            return default
        return node.text

    def choice(self, key: str, words: Sequence[str], default: str) -> str:
        """One word of a closed list."""
        word = self.text(key, default)
        if word not in words and word != default:
            self.out.error(self.at(key), "unknown-word", f"{key} cannot be {word!r}", nearest(word, words))
            return default
        return word

    def items(self, key: str) -> tuple[Node, ...]:
        """The items of a list of maps."""
        node = self.get(key)
        if node is not None and node.items is None:
            self.out.error(node.place, "shape", f"{key!r} must be a list, not {_kind(node)}")
        return (node.items if node else None) or ()

    def texts(self, key: str) -> tuple[Node, ...]:
        """A list of texts, each once."""
        node = self.get(key)
        if node is None:
            return ()
        if node.items is None:
            self.out.error(node.place, "shape", f"{key!r} must be a list, not {_kind(node)}")
            return ()
        return texts_of(node, key, self.out)


def texts_of(node: Node, key: str, out: Findings) -> tuple[Node, ...]:
    """The text items of a list node; repeated or nested items are mistakes."""
    good: list[Node] = []
    for item in node.items or ():
        if not item.text:
            out.error(item.place, "shape", f"{key!r} must list texts, not {_kind(item)}")
        elif item.text in [g.text for g in good]:
            out.error(item.place, "twice", f"{item.text!r} stands twice in {key!r}")
        else:
            good.append(item)
    return tuple(good)


def check_name(word: str, what: str, place: Place, out: Findings) -> bool:
    """Names of facts, decisions and answers: lower case, digits, underscores, not a reserved word."""
    if word in RESERVED:
        out.error(
            place,
            "reserved-name",
            f"{word!r} cannot be the name of {what}: the word has a meaning of its own",
        )
        return False
    if not _NAME.match(word):
        out.error(
            place, "name", f"{word!r} is no name of {what}", "Use lower-case letters, digits and underscores."
        )
        return False
    return True


def number_of(node: Node, out: Findings) -> float | None:
    """A finite decimal number; anything else is a mistake."""
    value = to_number(node.text or "")
    if value is None:
        out.error(
            node.place, "number", f"{node.text if node.text is not None else node.kind!r} is not a number"
        )
    return value


def to_number(text: str) -> float | None:
    """Plain decimal notation only: no ``nan``, ``inf``, ``1_000`` or hexadecimal."""
    return float(text) if re.fullmatch(r"[+-]?[0-9]{1,15}(\.[0-9]{1,15})?", text) else None


def _kind(node: Node) -> str:
    return "empty" if node.text == "" else f"a {node.kind}"
