"""Mutated records: never a crash, never a wrong type, and both parsers agree.

Set ``COLDSPELL_FUZZ=10000`` for the full run; the default is small so that the tests stay quick. Seeded.
"""

from __future__ import annotations

import os
import random
import re
from collections.abc import Callable
from pathlib import Path

import jsonschema
import msgspec

from coldspell import shipped
from coldspell.errors import ColdspellError
from coldspell.library.files import NOT_RECORDS, walk
from coldspell.library.schema import Violation, shipped_check, shipped_schema
from coldspell.records.model import Record
from coldspell.records.shape import to_record_shape
from coldspell.yaml import document

COUNT = int(os.environ.get("COLDSPELL_FUZZ", "1500"))
FULL = Path(__file__).parent.parent / "records" / "good" / "full" / "exemplum-arboreum.yaml"
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
    chosen = rng.choice(found)
    return text[: chosen.start()] + rng.choice(PIECES) + text[chosen.end() :]


def rename_key(text: str, rng: random.Random) -> str:
    chosen = rng.choice(list(re.finditer(r"\w+(?=: )", text)))
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


def corpus() -> list[str]:
    """A full record and a few of the library, so that every key of the format occurs."""
    paths = [path for name, path in walk(shipped.find("species")) if name not in NOT_RECORDS]
    return [FULL.read_text(), *(path.read_text() for path in random.Random(7).sample(paths, 12))]


def mutated(count: int) -> list[bytes]:
    rng = random.Random(20261125)
    seeds = corpus()
    texts = []
    for _ in range(count):
        text = rng.choice(seeds)
        for _ in range(rng.choice((1, 1, 1, 2, 3))):
            if text:
                text = rng.choice(MUTATIONS)(text, rng)
        texts.append(text.encode("utf-8", "surrogateescape"))
    return texts


def result(data: bytes, pure: bool) -> object:
    """The plain values, or the kind of refusal."""
    try:
        return document.plain(document.parse(document.decode(data, "f"), "f", pure=pure))
    except ColdspellError:
        return "refused"


def test_mutated_records_neither_crash_nor_pass_with_a_wrong_type() -> None:
    reference = jsonschema.Draft202012Validator(_strict(shipped_schema("record")))
    check = shipped_check("record")
    passed = refused = 0
    for data in mutated(COUNT):
        try:
            root = document.parse(document.decode(data, "f"), "f")
        except ColdspellError:
            refused += 1
            continue
        report: list[Violation] = []
        check(root, report)
        values = document.plain(root)
        assert bool(report) == (not reference.is_valid(values)), data.decode()
        assert all(one.what and one.mend for one in report)
        if not report:
            passed += 1
            record = msgspec.json.decode(msgspec.json.encode(to_record_shape(values)), type=Record)
            assert msgspec.structs.asdict(record)["name"] == values["name"]
    assert refused > COUNT // 20
    assert passed > COUNT // 20


def test_the_c_parser_and_the_python_parser_agree() -> None:
    """Both refuse, or both read the same values."""
    count = COUNT if COUNT >= 10_000 else COUNT // 5  # the Python parser is slow
    differ = [data for data in mutated(count) if result(data, False) != result(data, True)]
    assert differ == []


def _strict(schema: object) -> object:
    if isinstance(schema, dict):
        return {
            key: re.sub(r"\$$", r"\\Z", value)
            if key == "pattern" and isinstance(value, str)
            else _strict(value)
            for key, value in schema.items()
        }
    return [_strict(item) for item in schema] if isinstance(schema, list) else schema
