"""Nodes that know their line and column, made from the events of a YAML parser one by one.

Whatever a record may not hold is refused where it stands, before anything is built from it: depth, anchors,
tags, keys that stand twice, numbers without end. Scalars follow the core schema of YAML 1.2
(yaml.org/spec/1.2.2, section 10.3.2): ``no``, ``yes`` and dates stay text.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from typing import Any, NoReturn

from coldspell.errors import ColdspellError, Place

MAX_DEPTH = 20
MAX_DIGITS = 40
CONTROL = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff\ufeff\ufffe\uffff]")

Plain = str | int | float | bool | None


class Scalar:
    """A text, number, truth value or nothing. Not a frozen dataclass: hundreds are made for every record."""

    __slots__ = ("column", "line", "value")

    def __init__(self, value: Plain, line: int, column: int) -> None:
        self.value, self.line, self.column = value, line, column


class Sequence:
    """A list of nodes."""

    __slots__ = ("column", "items", "line")

    def __init__(self, line: int, column: int) -> None:
        self.items: list[Node] = []
        self.line, self.column = line, column


class Mapping:
    """Nodes by key; ``keys`` holds the keys' own nodes, for their places."""

    __slots__ = ("column", "items", "keys", "line")

    def __init__(self, line: int, column: int) -> None:
        self.items: dict[str, Node] = {}
        self.keys: dict[str, Scalar] = {}
        self.line, self.column = line, column


Node = Scalar | Sequence | Mapping


class Builder:
    """Turn events into nodes with a stack of its own, so that no depth can exhaust the call stack."""

    def __init__(self, text: str, file: str) -> None:
        self.text, self.file = text, file
        self.stack: list[Sequence | Mapping] = []
        self.keys: list[str | None] = []  # of each map on the stack: the key that waits for its value
        self.flow: list[bool] = []
        self.root: Node | None = None
        self.documents = 0

    def build(self, events: Iterable[Any]) -> Node | None:
        """Return the root node, or None for a file without a document."""
        for event in events:
            kind = event.__class__.__name__
            if kind == "ScalarEvent":
                self.scalar(event)
            elif kind == "MappingStartEvent":
                self.open(event, Mapping)
            elif kind == "SequenceStartEvent":
                self.open(event, Sequence)
            elif kind in ("MappingEndEvent", "SequenceEndEvent"):
                del self.stack[-1], self.keys[-1], self.flow[-1]
            elif kind == "AliasEvent":
                self.fail("aliases (*) are not allowed", event.start_mark, "Write the value out.")
            elif kind == "DocumentStartEvent":
                self.documents += 1
                if self.documents > 1:
                    mend = "One file holds one document."
                    self.fail("a second document starts here", event.start_mark, mend)
        return self.root

    def scalar(self, event: Any) -> None:
        """Take a scalar: the hot path, hundreds of times a record, hence written out."""
        mark, value = event.start_mark, event.value
        if event.anchor is not None or event.tag is not None:
            self.refuse_marks(event)
        if event.style:
            if event.style == '"' and CONTROL.search(value):
                self.fail("an escape stands for a control character", mark, "Take it out.")
        else:
            # The two parsers differ on these inside brackets, and a reader does, too.
            if (":" in value or "?" in value) and self.flow and self.flow[-1]:
                self.fail("a text in brackets or braces holds ':' or '?'", mark, "Quote the text.")
            if not value or value[0] in _STARTS:
                value = self.resolve(value, mark)
        node = Scalar(value, mark.line + 1, mark.column + 1)
        if not self.stack:
            self.root = node
            return
        parent = self.stack[-1]
        if parent.__class__ is Sequence:
            parent.items.append(node)
        elif self.keys[-1] is None:
            self.add_key(parent, node)  # type: ignore[arg-type]
        else:
            parent.items[self.keys[-1]] = node  # type: ignore[call-overload]
            self.keys[-1] = None

    def open(self, event: Any, kind: type[Sequence] | type[Mapping]) -> None:
        """Begin a list or map."""
        self.refuse_marks(event)
        mark = event.start_mark
        if len(self.stack) >= MAX_DEPTH:
            self.fail(f"nested deeper than {MAX_DEPTH} levels", mark, "Records are flat; check the brackets.")
        if event.flow_style and kind is Mapping and self.text[mark.index] != "{":
            self.fail("a key in a list, without braces", mark, "Write {key: value}, or quote the text.")
        node = kind(mark.line + 1, mark.column + 1)
        if not self.stack:
            self.root = node
        elif isinstance(parent := self.stack[-1], Sequence):
            parent.items.append(node)
        elif (key := self.keys[-1]) is None:
            where = Place(self.file, node.line, node.column)
            raise ColdspellError("a list or map cannot be a key", where, "A key is one word.")
        else:
            parent.items[key] = node
            self.keys[-1] = None
        self.stack.append(node)
        self.keys.append(None)
        self.flow.append(bool(event.flow_style))

    def add_key(self, parent: Mapping, node: Scalar) -> None:
        """Take a scalar as a key of a map, which waits for its value."""
        key = node.value
        if not isinstance(key, str):
            where = Place(self.file, node.line, node.column)
            raise ColdspellError(f"the key {key!r} is not a word", where, "Write a word, or quote the key.")
        if key in parent.keys:
            shown = key if len(key) <= 40 else key[:37] + "..."
            where = Place(self.file, node.line, node.column)
            mend = f"The first is on line {parent.keys[key].line}; keep one."
            raise ColdspellError(f"the key '{shown}' stands twice", where, mend)
        parent.keys[key] = node
        self.keys[-1] = key

    def refuse_marks(self, event: Any) -> None:
        """Refuse anchors and tags."""
        if event.anchor is not None:
            self.fail("anchors (&) are not allowed", event.start_mark, "Write the value out.")
        if event.tag is not None:
            self.fail("tags (!) are not allowed", event.start_mark, "Quote the text if it starts with '!'.")

    def fail(self, what: str, mark: Any, mend: str) -> NoReturn:
        """Raise the one error of a document."""
        raise ColdspellError(what, Place(self.file, mark.line + 1, mark.column + 1), mend)

    def resolve(self, text: str, mark: Any) -> Plain:
        """Resolve a plain scalar by the YAML 1.2 core schema (yaml.org/spec/1.2.2, section 10.3.2)."""
        if not text:
            return None
        if text in _WORDS:
            return _WORDS[text]
        found = _NUMBER.fullmatch(text)
        if not found:
            return text
        if len(text) > MAX_DIGITS:
            self.fail(f"a number of {len(text)} characters", mark, "Write a number that can be measured.")
        if found.lastgroup == "int":
            return int(text)
        if found.lastgroup == "based":
            return int(text, 0)
        value = float(text.lower().replace(".inf", "inf").replace(".nan", "nan"))
        if not math.isfinite(value):
            self.fail(f"{text} is not a number that can be measured", mark, "Write a finite number.")
        return value


_STARTS = frozenset("+-.0123456789~nNtTfF")
_WORDS: dict[str, Plain] = {
    "~": None, "null": None, "Null": None, "NULL": None,
    "true": True, "True": True, "TRUE": True, "false": False, "False": False, "FALSE": False,
}  # fmt: skip
_NUMBER = re.compile(
    r"(?P<int>[-+]?[0-9]+)"
    r"|(?P<based>0o[0-7]+|0x[0-9a-fA-F]+)"
    r"|(?P<float>[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?)"
    r"|(?P<word>[-+]?\.(?:inf|Inf|INF)|\.(?:nan|NaN|NAN))"
)
