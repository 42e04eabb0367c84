"""Text written by people: each thing that is refused gives one clear error with its place.

What is refused follows the design of the record format; scalars follow the core schema of YAML 1.2.2
(yaml.org/spec/1.2.2, section 10.3.2), whose table of examples is checked below.
"""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from coldspell.errors import ColdspellError, Place
from coldspell.yaml import document

BOTH = pytest.mark.parametrize("pure", [False, True], ids=["c", "python"])


def read(text: str | bytes, pure: bool = False) -> object:
    data = text.encode() if isinstance(text, str) else text
    return document.plain(document.parse(document.decode(data, "f"), "f", pure=pure))


def test_the_c_parser_is_there() -> None:
    """The plain install of ruamel.yaml 0.19 has none; the extra ``oldlibyaml`` brings it."""
    assert document.has_c_parser()


@BOTH
@pytest.mark.parametrize(
    ("text", "value"),
    [
        # YAML 1.2.2, example 10.9 (tag resolution of the core schema).
        ("null", None), ("", None), ("~", None),
        ("true", True), ("True", True), ("FALSE", False), ("false", False),
        ("0", 0), ("0o7", 7), ("0x3A", 58), ("-19", -19),
        ("0.", 0.0), ("-0.0", -0.0), (".5", 0.5), ("+12e03", 12000.0), ("-2E+05", -200000.0),
        # Texts in YAML 1.2 that older YAML took for something else.
        ("no", "no"), ("yes", "yes"), ("On", "On"), ("2026-05-01", "2026-05-01"), ("1_000", "1_000"),
        ("12:30", "12:30"), ("012", 12), ("'12'", "12"), ('"true"', "true"),
    ],
)  # fmt: skip
def test_scalars_are_those_of_yaml_1_2(text: str, value: object, pure: bool) -> None:
    result = read(f"a: {text}\n", pure)
    assert isinstance(result, dict)
    assert result["a"] == value
    assert type(result["a"]) is type(value)


@BOTH
@pytest.mark.parametrize(
    ("text", "where", "what"),
    [
        ("", (1, 1), "empty"),
        ("# only a comment\n", (1, 1), "empty"),
        ("a: &x 1\nb: *x\n", (1, 4), "anchors"),
        ("a: *x\n", (1, 4), "aliases"),
        ("a: !!str 5\n", (1, 4), "tags"),
        ("a: ! 5\n", (1, 4), "tags"),
        ("a: 1\nb: 2\na: 3\n", (3, 1), "stands twice"),
        ("a: {x: 1, x: 2}\n", (1, 11), "stands twice"),
        ("--- {a: 1}\n--- {b: 2}\n", (2, 1), "second document"),
        ("? [a]\n: b\n", (1, 3), "cannot be a key"),
        ("? {a: b}\n: b\n", (1, 3), "cannot be a key"),
        ("12: b\n", (1, 1), "not a word"),
        ("true: b\n", (1, 1), "not a word"),
        ("[" * 30 + "]" * 30, (1, 21), "deeper"),
        ("[" * 200_000, (1, 21), "deeper"),
        ("- " * 100_000 + "a", (1, 41), "deeper"),
        ("{a: " * 50_000, (1, 81), "deeper"),
        (f"a: {'9' * 6000}\n", (1, 4), "6000 characters"),
        ("a: 1e999\n", (1, 4), "measured"),
        ("a: .inf\n", (1, 4), "measured"),
        ("a: -.INF\n", (1, 4), "measured"),
        ("a: .nan\n", (1, 4), "measured"),
        ('a: "\\0"\n', (1, 4), "control character"),
        ('a: "x\\u2028y"\n', (1, 4), "control character"),
        ("a: [1, 2\nb: 3\n", None, "not YAML"),
        ("a: 'x\n", None, "not YAML"),
        ("a: b: c\n", (1, 5), "not YAML"),
        ("a: 1\n b: 2\n", None, "not YAML"),
        ("a: @x\n", (1, 4), "not YAML"),
        ("only a text\n", (1, 1), "no map"),
        ("a: [b: c]\n", (1, 5), "without braces"),
        ("a: [é, b: c]\n", (1, 8), "without braces"),
        ("a: {b: c:d}\n", None, "':'"),
        ("a: {b: why? so}\n", None, ""),
    ],
)  # fmt: skip
def test_refused(text: str, where: tuple[int, int] | None, what: str, pure: bool) -> None:
    with pytest.raises(ColdspellError) as caught:
        read(text, pure)
    assert what in caught.value.what
    assert caught.value.mend
    assert isinstance(caught.value.where, Place)
    if where is not None:
        assert (caught.value.where.line, caught.value.where.column) == where


@pytest.mark.parametrize(
    ("data", "where", "what"),
    [
        (b"a: b\nc:\td\n", (2, 3), "tab"),
        (b"a: b\rc: d\n", (1, 5), "carriage return"),
        (b"a: b\n\xef\xbb\xbf", (2, 1), "byte order mark"),
        (b"a: b\nc: \xff\n", (2, 4), "UTF-8"),
        (b"a: \xed\xa0\x80\n", (1, 4), "UTF-8"),
        ("a: b\x85c".encode(), (1, 5), "U+0085"),
        ("a: b\u2028c".encode(), (1, 5), "U+2028"),
        ("a: b\u2029c".encode(), (1, 5), "U+2029"),
        (b"a: \x00\n", (1, 4), "U+0000"),
        (b"a: \x1b[0m\n", (1, 4), "U+001B"),
        (b"%YAML 1.1\n---\na: b\n", (1, 1), "directive"),
        ("a: b\n".encode("utf-16"), (1, 1), "UTF-8"),
    ],
)
def test_refused_before_parsing(data: bytes, where: tuple[int, int], what: str) -> None:
    with pytest.raises(ColdspellError) as caught:
        document.decode(data, "f")
    assert what in caught.value.what
    assert isinstance(caught.value.where, Place)
    assert (caught.value.where.line, caught.value.where.column) == where
    assert caught.value.mend


def test_an_alias_bomb_is_refused_at_its_first_anchor() -> None:
    bomb = "a: &a [x, x]\n" + "".join(f"{chr(98 + i)}: &{chr(98 + i)} [*{chr(97 + i)}]\n" for i in range(20))
    with pytest.raises(ColdspellError, match="anchors"):
        read(bomb)


def test_a_huge_file_is_not_read(tmp_path: Path) -> None:
    path = tmp_path / "huge.yaml"
    with path.open("wb") as file:
        file.truncate(100 * 1024 * 1024)  # sparse: 100 MB that take no room
    with pytest.raises(ColdspellError, match="larger than 256 KB"):
        document.read_bytes(path)


def test_paths_that_are_no_files(tmp_path: Path) -> None:
    loop, pipe = tmp_path / "loop.yaml", tmp_path / "pipe.yaml"
    loop.symlink_to(loop)
    os.mkfifo(pipe)
    for path in (loop, pipe, tmp_path, tmp_path / "absent.yaml"):
        with pytest.raises(ColdspellError) as caught:
            document.read_bytes(path)
        assert str(path) in str(caught.value)


def test_places_point_at_values_and_keys() -> None:
    root = document.parse("a:\n  - {b: 1, c: [2, 3]}\n", "f")
    node = document.at(root, ("a", 0, "c", 1))
    assert document.place(node, "f") == Place("f", 2, 19)
    deepest = document.at(root, ("a", 0, "absent", 5))
    assert document.place(deepest, "f") == Place("f", 2, 5)


def test_windows_line_ends_are_read() -> None:
    """A clone of git for Windows has them everywhere."""
    assert document.decode(b"a: b\r\nc: d\r\n", "x.yaml") == "a: b\nc: d\n"
    text = document.decode(b"a:\r\n  - b\r\n", "x.yaml")
    assert document.plain(document.parse(text, "x.yaml")) == {"a": ["b"]}
