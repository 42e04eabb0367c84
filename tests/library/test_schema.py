"""The one-pass schema check against the reference implementation of JSON Schema, draft 2020-12."""

from __future__ import annotations

import copy
import json
import os
import re
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from coldspell import shipped
from coldspell.errors import InternalFault
from coldspell.library.files import NOT_RECORDS, walk
from coldspell.library.schema import Violation, compile_schema, shipped_check, shipped_schema
from coldspell.yaml import document

pytestmark = pytest.mark.long

SCHEMA_1 = Path(__file__).parent.parent.parent / "docs" / "schemas" / "record-1.json"
RECORDS = [path for name, path in walk(shipped.find("species")) if name not in NOT_RECORDS]


def ecma(schema: Any) -> Any:
    """Give patterns the meaning of JSON Schema: the reference uses Python's, where $ allows a newline."""
    if isinstance(schema, dict):
        return {
            key: re.sub(r"\$$", r"\\Z", value) if key == "pattern" and isinstance(value, str) else ecma(value)
            for key, value in schema.items()
        }
    return [ecma(item) for item in schema] if isinstance(schema, list) else schema


def violations(node: document.Node, schema: str = "record") -> list[Violation]:
    report: list[Violation] = []
    shipped_check(schema)(node, report)
    return report


@pytest.mark.parametrize("name", ["record", "poisonous", "csl-data", "common-words", "beside-names"])
def test_the_schemas_are_json_schema(name: str) -> None:
    jsonschema.Draft202012Validator.check_schema(shipped_schema(name))


@pytest.mark.parametrize(
    "change",
    [
        {"seed_mm": {"length": [1, 2, 3, 4], "cite": "a"}}, {"seed_mm": {"cite": "a"}}, {"seed_mm": 3},
        {"seed_mm": {"length": "3", "cite": "a"}}, {"seed_mm": {"length": True, "cite": "a"}},
        {"seed_mm": {"length": 0, "cite": "a"}}, {"seed_mm": {"length": [], "cite": "a"}},
        {"seeds_per_kg": {"value": {"a": 1}, "cite": "a"}}, {"seeds_per_kg": {"value": None, "cite": "a"}},
        {"storage": {"behaviour": "orthodox", "cite": []}},
        {"storage": {"behaviour": "orthodox", "cite": ["a", "a"]}},
        {"storage": {"behaviour": "dry", "cite": "a"}}, {"storage": {"behaviour": "orthodox"}},
        {"harvest": {"months": [9, 13], "cite": "a"}}, {"harvest": {"months": [9.0, 11.0], "cite": "a"}},
        {"harvest": {"months": [9.5, 11], "cite": "a"}}, {"harvest": {"months": [9], "cite": "a"}},
        {"common_names": {"en": ["ab", "ab"]}}, {"common_names": {"EN": ["ab"]}},
        {"common_names": {"en": "ab"}},
        {"law": [{"place": "x", "says": "y", "checked": "2026-5-1", "cite": "a"}]},
        {"treatments": [{"name": "Cold", "steps": [], "cite": "a"}]},
        {"treatments": [{"name": "cold", "steps": [], "when": {"a": []}, "cite": "a"}]},
        {"treatments": [{"name": "cold", "steps": [], "when": {"a": {"b": 1}}, "cite": "a"}]},
        {"treatments": [{"name": "cold", "steps": [{"do": "chill"}], "cite": "a"}]},
        {"treatments": "none"}, {"schema": 2}, {"schema": 3}, {"schema": True}, {"schema": 1.0},
        {"rank": "tribe"}, {"rank": None},
        {"name": "quercus"}, {"name": "Qu\n"}, {"family": "Fagaceae\n"},
        {"author": ""}, {"author": "x" * 601}, {"unknown": 1}, {"accept": {"Bad Id": "x"}},
        {"taxon": {"wfo": "wfo-123"}}, {"taxon": {"gbif": 1.5}}, {"taxon": {}},
        {"bulk": {"class": "fluffy", "cite": "a"}}, {"bulk": {"class": "dust", "cite": "a"}},
        {"emergence": {"cite": "a"}}, {"emergence": {"days": [3, 5], "cite": "a"}},
        {"live_seed": {"looks": "", "cite": "a"}}, {"germination": {"test_days": 28, "cite": "a"}},
        {"killed_by": {"days_dry": [10, 5, 2, 1], "cite": "a"}}, {"path": "x"},
        {"cites": {"a": {"basis": "guess"}}}, {"asks": {"question": "?", "answers": [{"if": "x"}]}},
    ],
    ids=str,
)  # fmt: skip
def test_agrees_with_the_reference_on_one_change(change: dict[str, Any]) -> None:
    values = {
        "name": "Exemplum arboreum",
        "family": "Exemplaceae",
        "rank": "species",
        "plant": "shrub",
        "unit": "nut",
    }
    reference = jsonschema.Draft202012Validator(ecma(shipped_schema("record")))
    assert not violations(document.from_plain(values))
    values.update(copy.deepcopy(change))
    assert bool(violations(document.from_plain(values))) == (not reference.is_valid(values))


def test_agrees_with_the_reference_on_records() -> None:
    """On every third, with ``COLDSPELL_FULL=1`` on all; mutated ones are compared in test_fuzz."""
    reference = jsonschema.Draft202012Validator(ecma(shipped_schema("record")))
    assert len(RECORDS) > 600
    old = jsonschema.Draft202012Validator(ecma(json.loads(SCHEMA_1.read_text())))
    for path in RECORDS[:: 1 if os.environ.get("COLDSPELL_FULL") == "1" else 3]:
        root = document.parse(document.decode(path.read_bytes(), str(path)), str(path))
        values = document.plain(root)
        assert bool(violations(root)) == (not reference.is_valid(values)), path
        if values.get("schema", 1) == 1:
            assert old.is_valid(values), path


def test_agrees_with_the_reference_on_the_bibliography() -> None:
    path = Path(shipped.find("species")) / "bibliography.yaml"
    root = document.parse(document.decode(path.read_bytes(), str(path)), str(path))
    assert not violations(root, "csl-data")
    assert jsonschema.Draft202012Validator(shipped_schema("csl-data")).is_valid(document.plain(root))


def test_an_unknown_keyword_is_never_skipped() -> None:
    with pytest.raises(InternalFault, match="contains"):
        compile_schema({"type": "object", "properties": {"a": {"type": "array", "contains": {"const": 1}}}})
