"""Read a rule file into nodes that know their line and column. Nothing is interpreted here.

Scalars stay text: ``yes``, ``1.0`` and ``~`` mean what the rules say, not what YAML types say.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from coldspell.errors import ColdspellError, Place

MAX_BYTES = 256 * 1024
MAX_DEPTH = 20
_BREAKS = {"\x85": "NEL", "\u2028": "line separator", "\u2029": "paragraph separator"}


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
        Not UTF-8, over 256 KB, a tab or a line break of another system, a directive, an alias, a key given
        twice, not YAML, or nested deeper than twenty levels.
    """
    text = _text(content, file)
    from ruamel.yaml import YAML  # only when rules are read anew
    from ruamel.yaml.error import MarkedYAMLError, YAMLError

    try:
        root = YAML(typ="safe").compose(text)
    except MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        where = Place(file, mark.line + 1, mark.column + 1) if mark else Place(file)
        raise ColdspellError(f"not YAML: {error.problem or error.context}", where) from None
    except YAMLError as error:
        raise ColdspellError(f"not YAML: {error}", Place(file)) from None
    if root is None:
        raise ColdspellError("the file is empty", Place(file))
    return _node(root, file, 0, set())


def _text(content: bytes, file: str) -> str:
    if len(content) > MAX_BYTES:
        raise ColdspellError(f"the file has over {MAX_BYTES // 1024} KB", Place(file), "Split it.")
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content[: error.start].count(b"\n") + 1
        raise ColdspellError("not UTF-8", Place(file, line), "Save the file as UTF-8.") from None
    for number, line_text in _lines(text):
        for sign, word in {"\t": "a tab", **_BREAKS}.items():
            if sign in line_text:
                where = Place(file, number, line_text.index(sign) + 1)
                raise ColdspellError(f"{word} in the file", where, "Use spaces and plain line ends.")
        if line_text.startswith("%"):
            raise ColdspellError("a YAML directive", Place(file, number, 1), "Take the line out.")
    return text


def _lines(text: str) -> Iterator[tuple[int, str]]:
    return enumerate(text.replace("\r\n", "\n").split("\n"), start=1)


def _node(raw: Any, file: str, depth: int, seen: set[int]) -> Node:
    place = Place(file, raw.start_mark.line + 1, raw.start_mark.column + 1)
    if depth > MAX_DEPTH:
        raise ColdspellError("nested too deeply", place)
    if id(raw) in seen:
        raise ColdspellError("an alias (*name)", place, "Write the value out; rule files have no aliases.")
    seen.add(id(raw))
    if raw.id == "scalar":
        return Node(place, text=str(raw.value).strip())
    if raw.id == "sequence":
        return Node(place, items=tuple(_node(item, file, depth + 1, seen) for item in raw.value))
    entries: dict[str, tuple[Place, Node]] = {}
    for raw_key, raw_value in raw.value:
        key = _node(raw_key, file, depth + 1, seen)
        if key.text is None:
            raise ColdspellError("a key must be one word", key.place)
        if key.text in entries:
            raise ColdspellError(f"{key.text!r} is given twice", key.place, "Keep one of the two.")
        entries[key.text] = (key.place, _node(raw_value, file, depth + 1, seen))
    return Node(place, entries=entries)
