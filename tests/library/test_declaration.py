"""The record is declared once: what reads it, what checks it and what is published come from one place."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from types import SimpleNamespace
from typing import Annotated, Any, Literal, get_args, get_origin

import jsonschema
import msgspec
import pytest
from msgspec import Struct

from coldspell.check.version import key_newer_than_schema
from coldspell.errors import InternalFault
from coldspell.library.schema import Violation, compile_schema, shipped_check
from coldspell.records import do, model
from coldspell.records.examples import EXAMPLES
from coldspell.records.model import Quantity, Record
from coldspell.records.record_schema import KINDS, record_schema, writer
from coldspell.records.shape import to_record_shape, to_shape
from coldspell.records.when import WHEN
from coldspell.schema.declare import DAY, Range, bare, fields_of
from coldspell.schema.json_schema import SchemaWriter
from coldspell.yaml import document

SCHEMAS = Path(__file__).parent.parent.parent / "docs" / "schemas"
HEAD = "name: Exemplum arboreum\nfamily: Exemplaceae\nrank: species\nplant: shrub\nunit: seed\n"

# As in the model: bare types here, the same with bounds and words among the kinds.
Footnotes = tuple[str, ...]
Millimetres = Quantity
Day, Grams = str, float
Colour = Literal["red", "green"]


class Extra(Struct, frozen=True):
    """A topic that no record has."""

    cite: Footnotes
    spacing_mm: Millimetres | None = None
    """Distance between plants."""


class Silent(Struct, frozen=True):
    """A map whose field says nothing."""

    depth: int


class Written(Struct, frozen=True):
    """What the program writes."""

    day: Day
    """When."""
    colour: Colour | None
    """Which."""
    spans: tuple[float, float, float]
    """Low, usual, high."""
    weight: Grams | None = None
    """How heavy."""
    said: dict[str, str | float | bool | list[str] | None] = {}
    """What else."""
    parts: tuple[Written, ...] = ()
    """What it is made of."""


def test_a_field_that_is_declared_is_checked_and_read() -> None:
    schema = writer().document(Extra, "x", "x")
    check = compile_schema(schema)
    good, bad = {"spacing_mm": [3, 5], "cite": "a"}, {"spacing_m": 3, "cite": "a"}
    for values, fine in ((good, True), (bad, False)):
        report: list[Violation] = []
        check(document.from_plain(values), report)
        assert bool(report) != fine
        assert jsonschema.Draft202012Validator(schema).is_valid(values) == fine
    read = msgspec.convert(to_shape(Extra, good), Extra)
    assert read == Extra(("a",), Quantity(3, 5))
    with pytest.raises(InternalFault, match="spacing_m"):
        to_shape(Extra, bad)


def test_a_key_that_the_model_lacks_does_not_vanish() -> None:
    with pytest.raises(InternalFault, match="spacing_mm"):
        to_record_shape({"name": "Exemplum arboreum", "spacing_mm": 3})


def test_the_schema_names_just_the_fields_of_the_model() -> None:
    schema = record_schema()
    for name, part in {**schema["$defs"], "Record": schema}.items():
        struct = getattr(model, name, None)
        if struct is not None:
            assert set(part["properties"]) == {key.rstrip("_") for key in struct.__struct_fields__} - {"path"}


def test_every_field_and_every_word_says_what_it_means() -> None:
    for path, part in _parts(record_schema(), "record"):
        for key, value in part.get("properties", {}).items():
            assert len(value.get("description", "")) > 4, (path, key)
        for option in part.get("oneOf", ()):
            if "const" in option:
                assert option["description"], (path, option)


def test_what_says_nothing_cannot_be_published() -> None:
    with pytest.raises(InternalFault, match=r"Silent\.depth"):
        fields_of(Silent, {})
    with pytest.raises(InternalFault, match="'red'"):
        SchemaWriter({"Day": str, "Grams": float}, {}, typed=False).document(Written, "x", "x")


def test_what_the_program_reads_is_what_the_kinds_are_made_of() -> None:
    """The aliases of the model are the full kinds without bounds and closed words."""
    for name, plain in vars(model).items():
        full = bare(KINDS.get(name))
        if not name[0].isupper() or full is None or full is plain:
            continue
        if get_origin(full) is Literal:
            assert {type(word) for word in get_args(full)} == {plain}, name
        elif get_origin(full) is tuple:
            assert get_args(plain) == tuple(bare(part) for part in get_args(full)), name
        else:
            assert full is plain, name


def test_schema_2_allows_what_schema_1_allowed() -> None:
    """docs/schemas/record-1.json is kept as it was published."""
    old = json.loads((SCHEMAS / "record-1.json").read_text())
    new = record_schema()
    kept, known = set(_keys(old, old, ())), set(_keys(new, new, ()))
    assert len(kept) > 150
    assert kept - known == set()


def test_what_schema_1_lacks_is_a_fault_in_a_record_of_schema_1() -> None:
    """Each key that docs/schemas/record-1.json does not know, planted into a record that does not say 2."""
    old, new = json.loads((SCHEMAS / "record-1.json").read_text()), record_schema()
    kept, known = set(_keys(old, old, ())), set(_keys(new, new, ()))
    lacking = {path for path in known - kept if path[:-1] in kept or len(path) == 1}
    open_in_1 = ("schema",), ("unit",), ("treatments", "when")  # their words are held by the list of words
    lacking -= {path for path in lacking if path[:-1] in open_in_1}
    assert {("sowing", "celsius_min"), ("bulk",), ("treatments", "steps", "season")} <= lacking
    unseen = {path for path in lacking if not _newer_keys(_planted(new, new, path))}
    assert unseen == set(), "mark them 'New in schema 2.' in records/model.py"


def _newer_keys(values: dict[str, Any]) -> list[Any]:
    record = SimpleNamespace(values=values)
    return [fault.path[-1] for fault in key_newer_than_schema(record, None)]  # type: ignore[arg-type]


def _planted(root: Any, schema: Any, path: tuple[Any, ...]) -> Any:
    """A value that uses the key at the end of a path, inside the maps and lists that lead to it."""
    while "$ref" in schema:
        schema = _target(root, schema["$ref"])
    if not path:
        return 1
    if path[0] in schema.get("properties", {}):
        return {path[0]: _planted(root, schema["properties"][path[0]], path[1:])}
    if isinstance(schema.get("items"), dict):
        return [_planted(root, schema["items"], path)]
    return next(found for option in schema["oneOf"] if (found := _planted(root, option, path)) is not None)


def test_examples_are_valid() -> None:
    assert set(EXAMPLES) == set(record_schema()["properties"])
    for key, text in EXAMPLES.items():
        head = "".join(line + "\n" for line in HEAD.splitlines() if not line.startswith(f"{key}:"))
        report: list[Violation] = []
        shipped_check("record")(document.parse(f"{head}{text}\n", "f"), report)
        assert not report, (key, report[0].what)


def test_classes_of_steps() -> None:
    """Which steps are moist, opening, hot, timed, first and last: common practice."""
    assert {"warm_moist", "cool_moist", "cold_moist", "alternate"} == do.MOIST
    assert {"cool_moist", "cold_moist"} == do.COLD
    assert {"soak", "leach", "after_ripen", "dry_back", "hold"} == do.TIMED - do.MOIST
    assert {"scarify_mechanical", "scarify_hot_water", "scarify_acid", "crack_shell"} == do.OPENING
    assert {"heat_bath", "dry_heat", "smoke"} == do.HEAT
    assert {"test", "clean", "remove_pulp", "remove_husk", "remove_wings", "ferment"} == do.FIRST
    assert {"sow", "light", "dark"} == do.LAST
    assert {"scarify_acid", "growth_regulator"} == do.PROFESSIONAL
    assert set(do.SPELL.values()) == {"open", "heat", "warm", "cold", "cool", "alternate", "rest"}


def test_when_asks_what_a_lot_can_say() -> None:
    """Facts and words are those of the published schema of a lot; ``rooted`` is a share made yes or no."""
    lot = json.loads((SCHEMAS / "lot-1.json").read_text())["properties"]
    for name, fact in WHEN.items():
        if name == "rooted":
            assert set(fact.words) == {"yes", "no"}
        elif fact.words:
            assert set(fact.words) == set(lot[name]["enum"])
        else:
            assert lot[name]["type"] == "number"


def test_the_schema_of_what_is_written_fits_what_is_written() -> None:
    kinds = {"Day": Annotated[str, DAY], "Grams": Annotated[float, Range("grams", "g", 0, 9)]}
    meanings = {Colour: {"red": "Ripe.", "green": "Unripe."}}
    schema = SchemaWriter(kinds, meanings, typed=False).document(Written, "x", "x")
    reference = jsonschema.Draft202012Validator(schema)
    reference.check_schema(schema)
    one = Written("2026-05-01", "red", (1, 2, 3))
    whole = msgspec.to_builtins(
        Written("2026-05-01", None, (1, 2, 3), 4.5, {"a": [], "b": None, "c": 1}, (one,))
    )
    whole = json.loads(json.dumps(whole))
    assert reference.is_valid(whole)
    for change in ({"day": "May"}, {"colour": "blue"}, {"weight": 10}, {"spans": [1, 2]}, {"other": 1}):
        assert not reference.is_valid({**whole, **change}), change
    assert schema["properties"]["day"]["format"] == "date"
    assert "Unit: g." in schema["properties"]["weight"]["description"]


def test_reading_a_record_does_not_load_its_description() -> None:
    code = "import sys, coldspell.records.model; print(*sorted(m for m in sys.modules if 'coldspell' in m))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    own = [f"coldspell.records.{name}" for name in ("model", "plain", "quantity", "treatment")]
    assert done.stdout.split() == ["coldspell", "coldspell.records", *own]


def test_topics_are_the_maps_that_have_footnotes() -> None:
    fields = [one for one in fields_of(Record, KINDS) if isinstance(bare(one.kind), type)]
    maps = [one.key for one in fields if "cite" in getattr(bare(one.kind), "__struct_fields__", ())]
    assert tuple(key for key in maps if key != "asks") == model.TOPICS


def _parts(schema: Any, path: str) -> Iterator[tuple[str, dict[str, Any]]]:
    if isinstance(schema, dict):
        yield path, schema
        for key, value in schema.items():
            yield from _parts(value, f"{path}/{key}")
    elif isinstance(schema, list):
        for value in schema:
            yield from _parts(value, path)


def _keys(root: Any, schema: Any, path: tuple[Any, ...]) -> Iterator[tuple[Any, ...]]:
    """Every path of keys that a schema knows, and every word of each closed list."""
    while "$ref" in schema:
        schema = _target(root, schema["$ref"])
    for word in (*schema.get("enum", ()), *([schema["const"]] if "const" in schema else [])):
        yield (*path, word)
    for option in schema.get("oneOf", ()):
        yield from _keys(root, option, path)
    for key, value in schema.get("properties", {}).items():
        yield (*path, key)
        yield from _keys(root, value, (*path, key))
    for keyword in ("items", "additionalProperties"):
        if isinstance(schema.get(keyword), dict):
            yield from _keys(root, schema[keyword], path)


def _target(root: Any, ref: str) -> Any:
    for step in ref.removeprefix("#/").split("/"):
        root = root[step]
    return root
