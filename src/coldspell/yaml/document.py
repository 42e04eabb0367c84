"""Read one YAML file into nodes that know their line and column: the one door for text written by people.

What is not plain text is refused before it is parsed; what a record may not hold is refused by the
:mod:`~coldspell.yaml.nodes` while it is.
"""

from __future__ import annotations

import importlib.util
import re
from collections.abc import Iterable
from functools import cache
from typing import Any

from coldspell.errors import ColdspellError, Place
from coldspell.yaml.bytes import MAX_BYTES, read_bytes
from coldspell.yaml.nodes import Builder, Mapping, Node, Plain, Scalar, Sequence

__all__ = [
    "MAX_BYTES", "Mapping", "Node", "Plain", "Scalar", "Sequence", "at", "decode", "from_plain",
    "has_c_parser", "parse", "place", "plain", "read_bytes",
]  # fmt: skip


def place(node: Node, file: str) -> Place:
    """Return where a node starts (line and column count from 1)."""
    return Place(file, node.line, node.column)


def plain(node: Node) -> Any:
    """Return the node as dicts, lists and scalars, as a JSON parser would."""
    if isinstance(node, Scalar):
        return node.value
    if isinstance(node, Sequence):
        return [plain(item) for item in node.items]
    return {key: plain(value) for key, value in node.items.items()}


def from_plain(value: Any) -> Node:
    """Return plain values as nodes without a place: for values that never were a file."""
    if isinstance(value, dict):
        mapping = Mapping(0, 0)
        for key, item in value.items():
            mapping.keys[key], mapping.items[key] = Scalar(key, 0, 0), from_plain(item)
        return mapping
    if isinstance(value, list):
        sequence = Sequence(0, 0)
        sequence.items = [from_plain(item) for item in value]
        return sequence
    return Scalar(value, 0, 0)


def at(node: Node, path: tuple[str | int, ...]) -> Node:
    """Return the node at a path of keys and indices, or the deepest one that exists on the way."""
    for step in path:
        deeper = _child(node, step)
        if deeper is None:
            break
        node = deeper
    return node


def _child(node: Node, step: str | int) -> Node | None:
    if isinstance(node, Mapping) and isinstance(step, str):
        return node.items.get(step)
    if isinstance(node, Sequence) and isinstance(step, int) and step < len(node.items):
        return node.items[step]
    return None


# ------------------------------------------------------------------------------------------ bytes to text

_FORBIDDEN = re.compile("[\x00-\x09\x0b-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff\ufeff\ufffe\uffff]|(?m:^%)")
_NAMED = {
    "\t": ("a tab", "Use spaces."),
    "\r": ("a lone carriage return (CR)", "Save the file with LF line ends."),
    "\ufeff": ("a byte order mark", "Save the file as UTF-8 without a byte order mark."),
    "\x85": ("the line separator U+0085", "Use an ordinary line end."),
    "\u2028": ("the line separator U+2028", "Use an ordinary line end."),
    "\u2029": ("the paragraph separator U+2029", "Use an ordinary line end."),
    "%": ("a YAML directive (%)", "Take the line out; only plain YAML 1.2 is read."),
}


def decode(data: bytes, file: str) -> str:
    """Return the text of a file after refusing what is not plain UTF-8 text.

    What editors on Windows add is taken off: a byte order mark at the beginning, and CR before LF.
    """
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        before = data[: error.start]
        where = Place(file, before.count(b"\n") + 1, error.start - (before.rfind(b"\n") + 1) + 1)
        raise ColdspellError("this byte is not UTF-8", where, "Save the file as UTF-8.") from None
    text = text.removeprefix("\ufeff").replace("\r\n", "\n")
    found = _FORBIDDEN.search(text)
    if found:
        character = found.group()
        what, mend = _NAMED.get(character, (f"the control character U+{ord(character):04X}", "Take it out."))
        raise ColdspellError(f"{what} is not allowed", _place_in(text, found.start(), file), mend)
    return text


def _place_in(text: str, index: int, file: str) -> Place:
    return Place(file, text.count("\n", 0, index) + 1, index - (text.rfind("\n", 0, index) + 1) + 1)


# ----------------------------------------------------------------------------------------- text to events


@cache
def has_c_parser() -> bool:
    """Say whether the fast C parser is installed."""
    return importlib.util.find_spec("_ruamel_yaml") is not None


def _events(text: str, pure: bool) -> Iterable[Any]:
    if not pure and has_c_parser():
        parser: Any = importlib.import_module("_ruamel_yaml").CParser(text)
        return iter(parser.get_event, None)
    from ruamel.yaml import YAML

    yaml = YAML(typ="safe", pure=True)
    yaml.version = (1, 2)
    events: Iterable[Any] = yaml.parse(text)
    return events


def parse(text: str, file: str, *, pure: bool = False) -> Node:
    """Return the root node of the one document in a text.

    Parameters
    ----------
    text
        Decoded text (see :func:`decode`).
    file
        Name of the file for messages.
    pure
        Use the parser written in Python even where the C parser is installed (the tests compare both).

    Raises
    ------
    ColdspellError
        With file, line and column, at the first fault.
    """
    from ruamel.yaml.error import MarkedYAMLError, YAMLError

    try:
        root = Builder(text, file).build(_events(text, pure))
    except MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        where = Place(file, mark.line + 1, mark.column + 1) if mark else Place(file)
        said = str(error.problem or error.context or "not YAML").strip().split("\n")[0]
        raise ColdspellError(f"this is not YAML: {said}", where, _yaml_mend(said)) from None
    except (YAMLError, RecursionError, ValueError) as error:
        said = str(error).strip().split("\n")[0]
        raise ColdspellError(f"this is not YAML: {said}", Place(file), _yaml_mend(said)) from None
    if root is None:
        raise ColdspellError("the file is empty", Place(file, 1, 1), "Write one document into it.")
    if isinstance(root, Scalar):
        raise ColdspellError("the file holds no map or list", place(root, file), "Write 'key: value' lines.")
    return root


def _yaml_mend(said: str) -> str:
    if "unexpected ':'" in said:
        return "Quote the text that holds ':'."
    if "mapping values are not allowed" in said:
        return "A text that holds ': ' must be quoted; each key stands on its own line or in braces."
    if "did not find expected" in said or "expected" in said:
        return "Look for a missing bracket, comma, quote or wrong indentation here or on the line before."
    if "cannot start any token" in said:
        return "Quote the text: it starts with a character that YAML keeps for itself."
    return "Check brackets, quotes and indentation."
