"""Ways to break a text that a machine reads, one small change at a time; all drawn by a given generator."""

from __future__ import annotations

import random
import re
from collections.abc import Callable

PIECES = (
    "null", "~", "true", "no", "-1", "1e309", ".nan", "9" * 6000, "0x1F", "[]", "{}", "[1, [2]]", "{a: 1}",
    "''", '"\\0"', "2026-01-01", "ninety", "&a", "*a", "!!int", "? ", ": ", "- ", "# ", "\t", "\r", "\u2028",
    "\ufeff", "%YAML 1.2\n", "---\n", "...\n", "<<: ", "|\n", ">-\n", "'", '"', "{", "}", "[", "]", ",",
    "\x00", "é", "×", "😀", "1,5", "@", "`",
)  # fmt: skip

Mutate = Callable[[str, random.Random], str]


def insert(text: str, rng: random.Random) -> str:
    at = rng.randrange(len(text) + 1)
    return text[:at] + rng.choice(PIECES) + text[at:]


def delete(text: str, rng: random.Random) -> str:
    at = rng.randrange(len(text))
    return text[:at] + text[at + rng.randint(1, 12) :]


def replace_value(text: str, rng: random.Random) -> str:
    found = list(re.finditer(r"(?<=: )[^,\n{}\[\]]+|(?<=[\[,] )[\w.]+", text))
    if not found:
        return insert(text, rng)
    chosen = rng.choice(found)
    return text[: chosen.start()] + rng.choice(PIECES) + text[chosen.end() :]


def rename_key(text: str, rng: random.Random) -> str:
    found = list(re.finditer(r"\w+(?=: )", text))
    if not found:
        return insert(text, rng)
    chosen = rng.choice(found)
    return text[: chosen.start()] + rng.choice(("x", "days", "cite", "name", "")) + text[chosen.end() :]


def swap_lines(text: str, rng: random.Random) -> str:
    lines = text.splitlines(keepends=True)
    one, other = rng.randrange(len(lines)), rng.randrange(len(lines))
    lines[one], lines[other] = lines[other], lines[one]
    return "".join(lines)


def repeat_line(text: str, rng: random.Random) -> str:
    lines = text.splitlines(keepends=True)
    at = rng.randrange(len(lines))
    return "".join(lines[:at] + [lines[at]] * rng.randint(2, 4) + lines[at + 1 :])


def indent(text: str, rng: random.Random) -> str:
    lines = text.splitlines(keepends=True)
    at = rng.randrange(len(lines))
    lines[at] = " " * rng.randint(1, 4) + lines[at] if rng.random() < 0.6 else lines[at].lstrip()
    return "".join(lines)


def swap_bytes(text: str, rng: random.Random) -> str:
    data = bytearray(text.encode("utf-8", "surrogateescape"))
    data[rng.randrange(len(data))] = rng.randrange(256)
    return data.decode("utf-8", "surrogateescape")


MUTATIONS: tuple[Mutate, ...] = (
    insert, delete, replace_value, replace_value, rename_key, swap_lines, repeat_line, indent, swap_bytes,
)  # fmt: skip


def mutated(text: str, rng: random.Random) -> bytes:
    """The text after one to three changes; bytes, since some of them are no text any more."""
    for _ in range(rng.choice((1, 1, 1, 2, 3))):
        if text:
            text = rng.choice(MUTATIONS)(text, rng)
    return text.encode("utf-8", "surrogateescape")
