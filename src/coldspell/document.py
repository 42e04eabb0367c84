"""Read one YAML file into nodes that know their line and column: the one door for text written by people.

The parser's events are consumed one by one, so that depth, anchors, tags, repeated keys and numbers without
end are refused where they stand and before anything is built from them. Scalars follow the YAML 1.2 core
schema: ``no``, ``yes`` and dates stay text.
"""

from __future__ import annotations

import importlib.util
import math
import re
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn

from coldspell.errors import ColdspellError, Place

if TYPE_CHECKING:
    from collections.abc import Callable

MAX_BYTES = 256 * 1024
MAX_DEPTH = 20
MAX_DIGITS = 40

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
    "\r": ("a Windows line end (CR)", "Save the file with LF line ends."),
    "\ufeff": ("a byte order mark", "Save the file as UTF-8 without a byte order mark."),
    "\x85": ("the line separator U+0085", "Use an ordinary line end."),
    "\u2028": ("the line separator U+2028", "Use an ordinary line end."),
    "\u2029": ("the paragraph separator U+2029", "Use an ordinary line end."),
    "%": ("a YAML directive (%)", "Take the line out; only plain YAML 1.2 is read."),
}


def read_bytes(path: Path, file: str | None = None, limit: int = MAX_BYTES) -> bytes:
    """Return the bytes of a regular file of at most ``limit`` bytes; never reads more than that.

    Raises
    ------
    ColdspellError
        If the file cannot be read, is no regular file or is too large.
    """
    name = file or str(path)
    try:
        if not path.is_file():
            if path.exists():
                raise ColdspellError("this is not a file", name, "Name a YAML file.")
            raise ColdspellError(_why_absent(path), name, "Check the path.")
        with path.open("rb") as stream:
            data = stream.read(limit + 1)
    except OSError as error:
        raise ColdspellError(f"the file cannot be read: {error.strerror or error}", name) from None
    if len(data) > limit:
        raise ColdspellError(
            f"the file is larger than {limit // 1024} KB", name, "Is this the right file? Split it."
        )
    return data


def _why_absent(path: Path) -> str:
    try:
        path.stat()
    except OSError as error:
        return f"the file cannot be read: {error.strerror or error}"
    return "there is no such file"


def decode(data: bytes, file: str) -> str:
    """Return the text of a file after refusing what is not plain UTF-8 text with LF line ends."""
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        before = data[: error.start]
        where = Place(file, before.count(b"\n") + 1, error.start - (before.rfind(b"\n") + 1) + 1)
        raise ColdspellError("this byte is not UTF-8", where, "Save the file as UTF-8.") from None
    found = _FORBIDDEN.search(text)
    if found:
        character = found.group()
        what, mend = _NAMED.get(character, (f"the control character U+{ord(character):04X}", "Take it out."))
        raise ColdspellError(f"{what} is not allowed", _place_in(text, found.start(), file), mend)
    return text


def _place_in(text: str, index: int, file: str) -> Place:
    return Place(file, text.count("\n", 0, index) + 1, index - (text.rfind("\n", 0, index) + 1) + 1)


# ----------------------------------------------------------------------------------------- text to events


def has_c_parser() -> bool:
    """Say whether the fast C parser is installed."""
    return importlib.util.find_spec("_ruamel_yaml") is not None


def _events(text: str, pure: bool) -> Iterator[Any]:
    if not pure and has_c_parser():
        parser: Any = importlib.import_module("_ruamel_yaml").CParser(text)
        get: Callable[[], Any] = parser.get_event
        while parser.check_event():
            yield get()
        return
    from ruamel.yaml import YAML

    yaml = YAML(typ="safe", pure=True)
    yaml.version = (1, 2)
    yield from yaml.parse(text)


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
        root = _Builder(text, file).build(_events(text, pure))
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


# ---------------------------------------------------------------------------------------- events to nodes


class _Builder:
    """Turn events into nodes with a stack of its own, so that no depth can exhaust the call stack."""

    def __init__(self, text: str, file: str) -> None:
        self.text, self.file = text, file
        self.flow: list[bool] = []
        self.stack: list[Sequence | Mapping] = []
        self.keys: list[Scalar | None] = []
        self.root: Node | None = None
        self.documents = 0

    def build(self, events: Iterator[Any]) -> Node | None:
        for event in events:
            kind = type(event).__name__
            if kind == "ScalarEvent":
                self.scalar(event)
            elif kind == "MappingStartEvent":
                self.open(event, Mapping)
            elif kind == "SequenceStartEvent":
                self.open(event, Sequence)
            elif kind in ("MappingEndEvent", "SequenceEndEvent"):
                self.stack.pop()
                self.keys.pop()
                self.flow.pop()
            elif kind == "AliasEvent":
                self.fail("aliases (*) are not allowed", event.start_mark, "Write the value out.")
            elif kind == "DocumentStartEvent":
                self.documents += 1
                if self.documents > 1:
                    self.fail(
                        "a second document starts here", event.start_mark, "One file holds one document."
                    )
        return self.root

    def fail(self, what: str, mark: Any, mend: str) -> NoReturn:
        raise ColdspellError(what, Place(self.file, mark.line + 1, mark.column + 1), mend)

    def refuse_marks(self, event: Any) -> None:
        if event.anchor is not None:
            self.fail("anchors (&) are not allowed", event.start_mark, "Write the value out.")
        if event.tag is not None:
            self.fail("tags (!) are not allowed", event.start_mark, "Quote the text if it starts with '!'.")

    def scalar(self, event: Any) -> None:
        self.refuse_marks(event)
        mark, style, value = event.start_mark, event.style, event.value
        if style:
            if style == '"' and _FORBIDDEN.search(value.replace("\n", " ").replace("\t", " ")):
                self.fail("an escape stands for a control character", mark, "Take it out.")
            resolved = value
        else:
            # The two parsers differ on these inside brackets, and a reader does, too.
            if self.flow and self.flow[-1] and (":" in value or "?" in value):
                self.fail("a text in brackets or braces holds ':' or '?'", mark, "Quote the text.")
            resolved = self.resolve(value, mark)
        self.add(Scalar(resolved, mark.line + 1, mark.column + 1))

    def open(self, event: Any, kind: type[Sequence] | type[Mapping]) -> None:
        self.refuse_marks(event)
        mark = event.start_mark
        if len(self.stack) >= MAX_DEPTH:
            self.fail(f"nested deeper than {MAX_DEPTH} levels", mark, "Records are flat; check the brackets.")
        if event.flow_style and kind is Mapping and self.text[mark.index] != "{":
            self.fail("a key in a list, without braces", mark, "Write {key: value}, or quote the text.")
        node = kind(mark.line + 1, mark.column + 1)
        self.add(node)
        self.flow.append(bool(event.flow_style))
        self.stack.append(node)
        self.keys.append(None)

    def add(self, node: Node) -> None:
        if not self.stack:
            self.root = node
            return
        parent = self.stack[-1]
        if isinstance(parent, Sequence):
            parent.items.append(node)
            return
        key = self.keys[-1]
        if key is not None:
            parent.items[key.value] = node  # type: ignore[index]
            self.keys[-1] = None
            return
        self.add_key(parent, node)

    def add_key(self, parent: Mapping, node: Node) -> None:
        where = Place(self.file, node.line, node.column)
        if not isinstance(node, Scalar):
            raise ColdspellError("a list or map cannot be a key", where, "A key is one word.")
        if not isinstance(node.value, str):
            raise ColdspellError(
                f"the key {node.value!r} is not a word", where, "Write a word, or quote the key."
            )
        if node.value in parent.keys:
            first = parent.keys[node.value].line
            what = f"the key '{_short(node.value)}' stands twice"
            raise ColdspellError(what, where, f"The first is on line {first}; keep one.")
        parent.keys[node.value] = node
        self.keys[-1] = node

    def resolve(self, text: str, mark: Any) -> Plain:
        """Resolve a plain scalar by the YAML 1.2 core schema (yaml.org/spec/1.2.2, section 10.3.2)."""
        if not text:
            return None
        if text[0] not in _STARTS:
            return text
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


def _short(text: str) -> str:
    return text if len(text) <= 40 else text[:37] + "..."


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
