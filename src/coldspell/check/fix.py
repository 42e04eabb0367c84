"""Mend what can be mended without knowing anything of seed: ``coldspell species check --fix``.

Files are edited as text, so comments and layout stay. After each edit the file is read again and must say
what it said before, but for what was meant to change; an edit that does not is dropped. A file that is not
plain YAML is left alone, and one that the schema refuses keeps its version.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple

from coldspell.errors import ColdspellError
from coldspell.library.files import BIBLIOGRAPHY, NOT_RECORDS, read_file, shown
from coldspell.library.schema import Violation, shipped_check
from coldspell.placed import put
from coldspell.yaml.document import Mapping, Node, Scalar, Sequence, decode, parse, plain

VERSION = 2
DEFAULTS = (("need", "required"), ("until", "ready"))
_HEAD = re.compile(r"(?m)^(# yaml-language-server: .*/record-)1(\.json)$")


class Fixed(NamedTuple):
    """The text of a file after mending, and what was done."""

    text: str
    done: tuple[str, ...]


def fix_file(path: Path, relative: str) -> tuple[str, ...]:
    """Mend one file of a library and return what was done; the file is replaced as a whole or not at all.

    A file that cannot be read is left to the check, which says so.

    Raises
    ------
    ColdspellError
        If the file cannot be written.
    """
    try:
        data = read_file(path, relative).data
    except ColdspellError:
        return ()
    fixed = fix_bytes(data, relative, shown(path))
    if fixed.done:
        replace_file(path, fixed.text)
    return fixed.done


def fix_bytes(data: bytes, relative: str, file: str) -> Fixed:
    """Return the mended text of a file, and what was done to it."""
    done: list[str] = []
    bare = data.removeprefix(b"\xef\xbb\xbf").replace(b"\r\n", b"\n")
    if bare != data:
        done.append("saved with LF line ends and without a byte order mark")
    try:
        text = decode(bare, file)
        root = parse(text, file)
    except ColdspellError:
        return Fixed("", ())
    values = plain(root)
    for edit in (_without_trailing_spaces, _with_last_line_end):
        text = _kept(edit(text), text, values, file, done)
    name = relative.rsplit("/")[-1]
    if name == BIBLIOGRAPHY:
        text = _sorted_by_id(text, values, file, done)
    elif name not in NOT_RECORDS:
        text = _without_defaults(text, file, done)
        text = _of_this_version(text, file, done)
    return Fixed(text, tuple(done))


def _kept(edit: tuple[str, str], before: str, wanted: Any, file: str, done: list[str]) -> str:
    """Return the edited text if it says what is wanted and differs, else the text before the edit."""
    text, what = edit
    if text == before:
        return before
    try:
        says = plain(parse(text, file))
    except ColdspellError:
        return before
    if says != wanted:
        return before
    done.append(what)
    return text


def _without_trailing_spaces(text: str) -> tuple[str, str]:
    new, count = re.subn(r"(?m) +$", "", text)
    return new, f"took out spaces at the end of {_count(count, 'line')}"


def _with_last_line_end(text: str) -> tuple[str, str]:
    return text.rstrip("\n") + "\n", "ended the file with one line end"


# ------------------------------------------------------------------------------------------------ records


def _without_defaults(text: str, file: str, done: list[str]) -> str:
    """Take out of steps what is meant anyway, one at a time."""
    for key, word in DEFAULTS:
        count, skip = 0, 0
        while True:
            cuts = list(_default_cuts(text, parse(text, file), key, word))
            if len(cuts) <= skip:
                break
            path, cut = cuts[skip]
            wanted = plain(parse(text, file))
            _at(wanted, path).pop(key)
            kept: list[str] = []
            text = _kept((cut, key), text, wanted, file, kept)
            count, skip = count + len(kept), skip + 1 - len(kept)
        if count:
            done.append(f"left out '{key}: {word}', which is meant anyway ({count})")
    return text


def _default_cuts(text: str, root: Node, key: str, word: str) -> Iterator[tuple[tuple[int, int], str]]:
    """Yield (treatment and step, the text without the key) for each step that writes the default out."""
    for number, steps in _steps(root):
        for index, step in enumerate(steps.items):
            if isinstance(step, Mapping) and len(step.items) > 1 and key in step.items:
                value = step.items[key]
                cut = _cut(text, step, step.keys[key], key, word)
                if isinstance(value, Scalar) and value.value == word and cut is not None:
                    yield (number, index), cut


def _steps(root: Node) -> Iterator[tuple[int, Sequence]]:
    treatments = root.items.get("treatments") if isinstance(root, Mapping) else None
    for number, one in enumerate(treatments.items if isinstance(treatments, Sequence) else ()):
        steps = one.items.get("steps") if isinstance(one, Mapping) else None
        if isinstance(steps, Sequence):
            yield number, steps


def _at(values: Any, path: tuple[int, int]) -> dict[str, Any]:
    step: dict[str, Any] = values["treatments"][path[0]]["steps"][path[1]]
    return step


def _cut(text: str, step: Node, at: Node, key: str, word: str) -> str | None:
    """Return the text without ``key: word``: in braces with its comma, else with its line."""
    start = _offset(text, at)
    found = re.compile(rf"{key}: +{word}(?=\s|[,}}])").match(text, start)
    if not found:
        return None
    before, after = text[:start], text[found.end() :]
    if text[_offset(text, step)] == "{":
        comma = re.search(r",\s*$", before)
        if comma:
            return before[: comma.start()] + after
        return before + re.sub(r"^\s*,\s*", "", after)
    if before.rpartition("\n")[2].strip() or not after.startswith("\n"):
        return None  # beside a dash or a comment: left as it is
    return before[: before.rindex("\n") + 1] + after[1:]


def _of_this_version(text: str, file: str, done: list[str]) -> str:
    """Say that the record is written in this version of the format, if it is valid by it."""
    root = parse(text, file)
    report: list[Violation] = []
    shipped_check("record")(root, report)
    if report or not isinstance(root, Mapping) or text[_offset(text, root)] == "{":
        return text
    values = plain(root)
    if values.get("schema", 1) == VERSION:
        return text
    if "schema" in root.items:
        at = _offset(text, root.items["schema"])
        new = text[:at] + re.sub(r"^1(\.0+)?", str(VERSION), text[at:])
    else:
        first = min(root.keys.values(), key=lambda node: (node.line, node.column))
        at = _offset(text, first)
        new = f"{text[:at]}schema: {VERSION}\n{text[at:]}"
    new = _HEAD.sub(rf"\g<1>{VERSION}\2", new)
    return _kept((new, f"wrote 'schema: {VERSION}'"), text, {**values, "schema": VERSION}, file, done)


# ------------------------------------------------------------------------------------------- bibliography


def _sorted_by_id(text: str, values: Any, file: str, done: list[str]) -> str:
    """Sort the sources by id; comment lines right above a source move with it, those above the first stay."""
    root = parse(text, file)
    ids = [item["id"] for item in values if isinstance(item, dict) and isinstance(item.get("id"), str)]
    lines = text.splitlines(keepends=True)
    if not isinstance(root, Sequence) or len(ids) < len(values) or ids == sorted(ids):
        return text
    starts = [item.line - 1 for item in root.items]
    if not all(lines[start].startswith("-") for start in starts):
        return text
    for index in range(1, len(starts)):
        while lines[starts[index] - 1].startswith("#"):
            starts[index] -= 1
    parts = ["".join(lines[a:b]) for a, b in zip(starts, [*starts[1:], None], strict=True)]
    order = sorted(range(len(ids)), key=lambda index: ids[index])
    new = "".join(lines[: starts[0]]) + "".join(parts[index] for index in order)
    wanted = [values[index] for index in order]
    return _kept((new, "sorted the sources by id"), text, wanted, file, done)


# -------------------------------------------------------------------------------------------------- files


def replace_file(path: Path, text: str) -> None:
    """Write a file anew beside itself and put it in its place in one step; its mode is kept.

    Raises
    ------
    ColdspellError
        If that cannot be done; the file is then as it was.
    """
    try:
        put(path, text.encode())
    except OSError as error:
        what = f"the file cannot be mended: {error.strerror}"
        raise ColdspellError(what, shown(path), "Check who may write there.") from None


def create_file(path: Path, text: str) -> None:
    """Write a file that is not there yet, whole or not at all.

    Raises
    ------
    ColdspellError
        If that cannot be done; nothing is there then.
    """
    try:
        path.touch(exist_ok=False)
    except OSError as error:
        what = f"the file cannot be written: {error.strerror}"
        raise ColdspellError(what, shown(path), "Check who may write there.") from None
    try:
        replace_file(path, text)
    except ColdspellError:
        path.unlink(missing_ok=True)
        raise


def _offset(text: str, node: Node) -> int:
    """Return where a node starts in the text."""
    start = 0
    for _ in range(node.line - 1):
        start = text.index("\n", start) + 1
    return start + node.column - 1


def _count(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"
