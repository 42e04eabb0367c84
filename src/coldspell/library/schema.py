"""Check a document against a JSON Schema in one pass over its nodes, with line, column and a plain mend.

The schema is compiled once into nested functions. Only the keywords listed in ``_KNOWN`` are understood and
any other one is an internal fault, so a schema cannot gain a rule that is silently not checked. The tests
hold this checker against the reference implementation of JSON Schema on every record and on mutated ones.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Any

from coldspell.errors import InternalFault
from coldspell.library.schema_words import TYPE_WORDS, many_unknown, of_value, other_unit, unquoted
from coldspell.near import did_you_mean, nearest
from coldspell.yaml.document import Mapping, Node, Scalar, Sequence, plain

_TEXT = frozenset(("pattern", "minLength", "maxLength"))
_BOUNDS = frozenset(("minimum", "maximum"))
_LIST = frozenset(("items", "minItems", "maxItems", "uniqueItems"))
_MAP = frozenset(
    ("properties", "required", "additionalProperties", "propertyNames", "minProperties", "patternProperties")
)
_NOTES = frozenset(
    ("$schema", "$id", "$defs", "$comment", "title", "description", "default", "examples", "format")
)
_KNOWN = _TEXT | _BOUNDS | _LIST | _MAP | _NOTES | {"$ref", "type", "enum", "const", "oneOf", "anyOf"}


@dataclass(frozen=True, slots=True)
class Violation:
    """One breach of the schema; ``node`` is the value, or the key where the key is at fault."""

    node: Node
    keyword: str
    what: str
    mend: str


Report = list[Violation]
Check = Callable[[Node, Report], None]
Schema = dict[str, Any]


@cache
def shipped_schema(name: str) -> Schema:
    """Return one of the schemas that files are checked by, as parsed JSON.

    ``record`` and ``poisonous`` are made from what their classes declare; ``csl-data`` and ``common-words``
    are files beside this module.
    """
    if name in ("record", "poisonous"):
        from coldspell.records.record_schema import poisonous_schema, record_schema

        return record_schema() if name == "record" else poisonous_schema()
    text = resources.files("coldspell.library").joinpath(f"schemas/{name}.schema.json").read_text("utf-8")
    loaded: Schema = json.loads(text)
    return loaded


@cache
def shipped_check(name: str) -> Check:
    """Return the compiled check of a shipped schema."""
    return compile_schema(shipped_schema(name))


def compile_schema(schema: Schema) -> Check:
    """Compile a schema into a function that takes a node and adds to a list of violations.

    Raises
    ------
    InternalFault
        If the schema uses a keyword that this checker does not know.
    """
    return _Compiler(schema).compile(schema)


class _Compiler:
    def __init__(self, root: Schema) -> None:
        self.root = root
        self.refs: dict[str, Check] = {}

    def compile(self, schema: Schema | bool) -> Check:
        if schema is True:
            return _anything
        if schema is False:
            return _nothing
        unknown = set(schema) - _KNOWN
        if unknown:
            raise InternalFault(f"the schema uses keywords that are not checked: {sorted(unknown)}")
        checks: list[Check] = []
        if "$ref" in schema:
            checks.append(self.ref(schema["$ref"]))
        kinds = _types(schema)
        if kinds:
            checks.append(_type_check(kinds, schema))
        if "enum" in schema or "const" in schema:
            checks.append(_enum_check(schema.get("enum", [schema.get("const")])))
        for keyword in ("oneOf", "anyOf"):
            if keyword in schema:
                checks.append(self.alternatives(schema[keyword], keyword))
        if not _TEXT.isdisjoint(schema):
            checks.append(_text_check(schema))
        if not _BOUNDS.isdisjoint(schema):
            checks.append(_bounds_check(schema))
        if not _LIST.isdisjoint(schema):
            checks.append(self.list_check(schema))
        if not _MAP.isdisjoint(schema):
            checks.append(self.map_check(schema))
        return _in_turn(checks)

    def ref(self, ref: str) -> Check:
        if ref not in self.refs:
            self.refs[ref] = lambda node, report: self.refs[ref](node, report)
            target: Any = self.root
            for step in ref.removeprefix("#").strip("/").split("/"):
                target = target[step] if step else target
            self.refs[ref] = self.compile(target)
        return self.refs[ref]

    def resolved(self, schema: Schema) -> Schema:
        while "$ref" in schema:
            target: Any = self.root
            for step in schema["$ref"].removeprefix("#/").split("/"):
                target = target[step]
            schema = target
        return schema

    def alternatives(self, options: list[Schema], keyword: str) -> Check:
        """Choose by type where the alternatives differ in type; else try all of them.

        Single values, each with its description, are one list of words.
        """
        if all("const" in option for option in options):
            return _enum_check([option["const"] for option in options])
        by_type: dict[str, Check] = {}
        checks = [self.compile(option) for option in options]
        for option, check in zip(options, checks, strict=True):
            kinds = _widened(_types(self.resolved(option)))
            if not kinds or not kinds.isdisjoint(by_type):
                return _try_all(checks, keyword)
            by_type.update(dict.fromkeys(kinds, check))
        wanted = " or ".join(dict.fromkeys(TYPE_WORDS[kind] for kind in by_type if kind != "integer"))

        def check_by_type(node: Node, report: Report) -> None:
            chosen = by_type.get(_type_of(node))
            if chosen:
                chosen(node, report)
            else:
                report.append(Violation(node, "type", *_wrong_type(node, wanted)))

        return check_by_type

    def list_check(self, schema: Schema) -> Check:
        each = self.compile(schema["items"]) if "items" in schema else None
        low, high = schema.get("minItems", 0), schema.get("maxItems", 1 << 60)
        unique = schema.get("uniqueItems", False)

        def check(node: Node, report: Report) -> None:
            if not isinstance(node, Sequence):
                return
            items = node.items
            if not low <= len(items) <= high:
                report.append(Violation(node, "items", *_wrong_count(len(items), low, high)))
            if each:
                for item in items:
                    each(item, report)
            if unique and len(items) > 1:
                _check_unique(items, report)

        return check

    def map_check(self, schema: Schema) -> Check:
        properties = {key: self.compile(value) for key, value in schema.get("properties", {}).items()}
        patterns = [
            (_pattern(key), self.compile(value)) for key, value in schema.get("patternProperties", {}).items()
        ]
        extra = schema.get("additionalProperties", True)
        other = None if extra is True or extra is False else self.compile(extra)
        names = self.compile(schema["propertyNames"]) if "propertyNames" in schema else None
        required, fewest = schema.get("required", []), schema.get("minProperties", 0)

        def check(node: Node, report: Report) -> None:
            if not isinstance(node, Mapping):
                return
            unknown: list[str] = []
            for key, value in node.items.items():
                if names:
                    names(node.keys[key], report)
                known = properties.get(key)
                if known:
                    known(value, report)
                matched = [test for pattern, test in patterns if pattern.search(key)] if patterns else []
                for test in matched:
                    test(value, report)
                if known or matched:
                    continue
                if other:
                    other(value, report)
                elif extra is False:
                    unknown.append(key)
            many = many_unknown(unknown, properties) if len(unknown) > 2 else None  # one slip
            for key in unknown[:1] if many else unknown:
                said = many or _unknown_key(key, properties, node.items[key])
                report.append(Violation(node.keys[key], "key", *said))
            for key in required:
                if key not in node.items:
                    report.append(
                        Violation(node, "required", f"'{key}' is missing", f"Add '{key}: …' to this map.")
                    )
            if len(node.items) < fewest:
                report.append(
                    Violation(node, "minProperties", "this map says nothing", "Fill it in or leave it out.")
                )

        return check


def _anything(node: Node, report: Report) -> None:
    return


def _nothing(node: Node, report: Report) -> None:
    report.append(Violation(node, "false", "nothing may stand here", "Take it out."))


def _in_turn(checks: list[Check]) -> Check:
    """Run checks until the first one reports: a wrong type is not also out of bounds."""
    if not checks:
        return _anything
    if len(checks) == 1:
        return checks[0]

    def check(node: Node, report: Report) -> None:
        before = len(report)
        for one in checks:
            one(node, report)
            if len(report) > before:
                return

    return check


def _try_all(checks: list[Check], keyword: str) -> Check:
    def check(node: Node, report: Report) -> None:
        tried: list[Report] = []
        for one in checks:
            attempt: Report = []
            one(node, attempt)
            tried.append(attempt)
        passed = sum(not attempt for attempt in tried)
        if passed == 0:
            report.extend(sorted(tried, key=len)[0])
        elif passed > 1 and keyword == "oneOf":
            report.append(
                Violation(node, "oneOf", "this fits more than one form", "Keep the keys of one form only.")
            )

    return check


def _types(schema: Schema) -> list[str]:
    kinds = schema.get("type", [])
    return [kinds] if isinstance(kinds, str) else list(kinds)


def _widened(kinds: list[str]) -> set[str]:
    return {*kinds, "integer"} if "number" in kinds else set(kinds)


def _type_of(node: Node) -> str:
    if isinstance(node, Scalar):
        value = node.value
        if isinstance(value, str):
            return "string"
        if isinstance(value, bool):
            return "boolean"
        if isinstance(value, int):
            return "integer"
        if isinstance(value, float):
            return "integer" if value.is_integer() else "number"
        return "null"
    return "array" if isinstance(node, Sequence) else "object"


def _type_check(kinds: list[str], schema: Schema) -> Check:
    allowed = frozenset(_widened(kinds))
    wanted = " or ".join(TYPE_WORDS[kind] for kind in kinds)
    if kinds == ["integer"] and schema.keys() >= _BOUNDS:
        wanted += f" from {schema['minimum']} to {schema['maximum']}"
    means = schema.get("description", "") if kinds == ["object"] else ""

    def check(node: Node, report: Report) -> None:
        if _type_of(node) not in allowed:
            report.append(Violation(node, "type", *_wrong_type(node, wanted, means)))

    return check


def _enum_check(values: list[Any]) -> Check:
    texts = frozenset(value for value in values if isinstance(value, str))
    others = [value for value in values if not isinstance(value, str)]

    def check(node: Node, report: Report) -> None:
        value = node.value if isinstance(node, Scalar) else plain(node)
        if isinstance(value, str):
            if value in texts:
                return
        elif any(_same(value, other) for other in others):
            return
        words = ", ".join(str(one) for one in values)
        near = nearest(value, texts) if isinstance(value, str) else None
        mend = f"Did you mean '{near}'? Allowed: {words}." if near else f"Allowed: {words}."
        if isinstance(value, bool) and texts:
            mend = f"Quote it or use a word. {mend}"
        report.append(Violation(node, "enum", f"{of_value(value)} is not one of the allowed words", mend))

    return check


def _text_check(schema: Schema) -> Check:
    pattern = _pattern(schema["pattern"]) if "pattern" in schema else None
    low, high = schema.get("minLength", 0), schema.get("maxLength", 1 << 60)
    form = schema.get("description") or f"It must look like {schema.get('pattern')}."

    def check(node: Node, report: Report) -> None:
        if not isinstance(node, Scalar) or not isinstance(node.value, str):
            return
        text = node.value
        if not low <= len(text) <= high:
            what = f"this text has {len(text)} characters"
            report.append(Violation(node, "length", what, f"Allowed are {low} to {high}."))
        elif pattern and not pattern.search(text):
            report.append(Violation(node, "pattern", f"{of_value(text)} has not the right form", form))

    return check


def _bounds_check(schema: Schema) -> Check:
    low, high = schema.get("minimum", float("-inf")), schema.get("maximum", float("inf"))

    def check(node: Node, report: Report) -> None:
        if not isinstance(node, Scalar) or isinstance(node.value, (bool, str)) or node.value is None:
            return
        if not low <= node.value <= high:
            what = f"{node.value} is outside {low:g} to {high:g}"
            report.append(Violation(node, "bounds", what, "Check the number and its unit."))

    return check


def _pattern(source: str) -> re.Pattern[str]:
    """Compile a pattern with the meaning of JSON Schema: ``$`` is the very end, ``\\d`` an ASCII digit."""
    return re.compile(re.sub(r"(?<!\\)\$$", r"\\Z", source), re.ASCII)


def _check_unique(items: list[Node], report: Report) -> None:
    seen: set[str] = set()
    for item in items:
        key = json.dumps(_canonical(plain(item)), sort_keys=True)
        if key in seen:
            report.append(Violation(item, "unique", "this item stands twice in the list", "Keep one."))
        seen.add(key)


def _canonical(value: Any) -> Any:
    if isinstance(value, float) and value.is_integer():
        return int(value)
    if isinstance(value, list):
        return [_canonical(item) for item in value]
    if isinstance(value, dict):
        return {key: _canonical(item) for key, item in value.items()}
    return value


def _same(one: Any, other: Any) -> bool:
    return bool(one == other) and isinstance(one, bool) == isinstance(other, bool)


def _wrong_type(node: Node, wanted: str, means: str = "") -> tuple[str, str]:
    value = plain(node)
    return f"{wanted} is wanted here, not {of_value(value)}", unquoted(value, wanted, means)


def _wrong_count(have: int, low: int, high: int) -> tuple[str, str]:
    allowed = f"at least {low}" if high == 1 << 60 else (f"{low}" if low == high else f"{low} to {high}")
    return f"this list has {have} item{'s' if have != 1 else ''}", f"Allowed are {allowed}."


def _unknown_key(key: str, known: dict[str, Check], value: Node) -> tuple[str, str]:
    otherwise = f"Known here: {', '.join(known)}."
    mend = other_unit(key, known, plain(value)) or did_you_mean(key, known, otherwise)
    if " " in key and plain(value) is None:
        mend = f"A text with a comma or ': ' in it stands in quotation marks. {mend}"
    return f"unknown key '{key[:60]}'", mend
