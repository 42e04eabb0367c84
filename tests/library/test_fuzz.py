"""Mutated records: never a crash, never a wrong type, and both parsers agree.

Set ``COLDSPELL_FUZZ=10000`` for the full run; the default is small so that the tests stay quick. Seeded.
"""

from __future__ import annotations

import os
import random
import re
from pathlib import Path

import jsonschema
import msgspec
import mutations

from coldspell import shipped
from coldspell.errors import ColdspellError
from coldspell.library.files import NOT_RECORDS, walk
from coldspell.library.schema import Violation, shipped_check, shipped_schema
from coldspell.records.model import Record
from coldspell.records.shape import to_record_shape
from coldspell.yaml import document

COUNT = int(os.environ.get("COLDSPELL_FUZZ", "1500"))
FULL = Path(__file__).parent.parent / "records" / "good" / "full" / "exemplum-arboreum.yaml"


def corpus() -> list[str]:
    """A full record and a few of the library, so that every key of the format occurs."""
    paths = [path for name, path in walk(shipped.find("species")) if name not in NOT_RECORDS]
    return [FULL.read_text(), *(path.read_text() for path in random.Random(7).sample(paths, 12))]


def mutated(count: int) -> list[bytes]:
    rng = random.Random(20261125)
    seeds = corpus()
    return [mutations.mutated(rng.choice(seeds), rng) for _ in range(count)]


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
