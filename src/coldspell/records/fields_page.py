"""The reference of record fields, docs/record-fields.md, made from their declaration."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from inspect import cleandoc
from typing import Any, Literal, get_args, get_origin

from msgspec import Struct

from coldspell.records.examples import EXAMPLES
from coldspell.records.model import Record
from coldspell.records.record_schema import KINDS
from coldspell.records.terms import MEANINGS
from coldspell.records.when import WHEN
from coldspell.schema.declare import Field, OneOrMany, Range, Text, bare, fields_of, marked, words_of

_HEAD = """\
# Fields of a species record

<!-- Written by python -m coldspell.cli.publish; a test fails when this page is stale. -->

Every key of a record file, with its unit, its words and an invented example. [records.md](records.md) says
how a record is written, [checks.md](checks.md) what is checked beyond this page;
[`record-2.json`](schemas/record-2.json) says the same to editors.

A **range** is one number, `[low, high]` or `[low, usual, high]`. A key with ● must be there; the others are
left out where nobody knows. A key with ② is new in schema 2. `cite` names the footnotes under `cites` that
say so: one, or a list; it must stand in every map that states a fact (not in `taxon`, `steps`, `asks`).
"""
_KINDS = {str: "text", bool: "`true` or `false`", int: "whole number", float: "number"}


def page() -> str:
    """Return the page."""
    fields = fields_of(Record, KINDS)
    maps = [one for one in fields if _struct(one) is not None]
    plain = [one for one in fields if one not in maps]
    parts = [_HEAD, "", "## The plant and the record", "", *_table(plain), *_words(plain)]
    parts += ["", "```yaml", *(EXAMPLES[one.key] for one in plain), "```"]
    for one in maps:
        struct = _struct(one)
        assert struct is not None
        parts += ["", f"## `{one.key}`", "", _about(one, struct), ""]
        parts += [*_section(struct), *_nested(struct), "", "```yaml", EXAMPLES[one.key], "```"]
    return "\n".join(parts) + "\n"


def _about(one: Field, struct: type[Struct]) -> str:
    shape = {tuple: "A list of maps.", dict: "Maps by name."}.get(get_origin(bare(one.kind)), "")
    says = one.says if shape else cleandoc(struct.__doc__ or "").split("\n\n")[0].replace("\n", " ")
    new = "New in schema 2." if one.since > 1 else ""
    return " ".join(part for part in (says, shape, new) if part)


def _section(struct: type[Struct]) -> Iterator[str]:
    fields = fields_of(struct, KINDS)
    yield from _table(fields)
    yield from _words(fields)
    if struct.__name__ == "Treatment":
        yield from _when()


def _nested(struct: type[Struct]) -> Iterator[str]:
    for one in fields_of(struct, KINDS):
        inner = _struct(one)
        if inner is not None:
            yield from ("", f"### `{one.key}`", "", cleandoc(inner.__doc__ or "").replace("\n", " "), "")
            yield from _section(inner)


def _table(fields: Iterable[Field]) -> Iterator[str]:
    yield from ("| key | value | means |", "|---|---|---|")
    for one in fields:
        if one.key == "cite":
            continue
        marks = (" ●" if one.required else "") + (" ②" if one.since > 1 else "")
        form = getattr(marked(one.kind, Text), "form", "")
        means = f"{one.says} {form}".strip().replace("|", "\\|")
        yield f"| `{one.key}`{marks} | {_value(one.kind)} | {means} |"


def _value(kind: Any) -> str:
    inner, span = bare(kind), marked(kind, Range)
    if marked(kind, OneOrMany) is not None:
        return "footnote, or list"
    if isinstance(inner, type) and issubclass(inner, Struct):
        if span is None:
            return "map, below"
        return f"range, {_number(span.low)} to {_number(span.high)} {span.unit}".rstrip()
    origin, parts = get_origin(inner), get_args(inner)
    if origin is Literal:
        return "a word, below" if len(parts) > 2 or isinstance(parts[0], str) else "number, below"
    if origin is tuple and parts[-1] is not Ellipsis:
        return f"{len(parts)} {_KINDS[parts[0]]}s"
    if origin is tuple:
        each = _value(parts[0])
        return {"text": "list of texts", "a word, below": "list of words, below"}.get(
            each, "list of maps, below"
        )
    if origin is dict:
        return "map"
    return str(_KINDS.get(inner, "value"))


def _number(value: float) -> str:
    return f"{value:,.10g}".replace("-", "−")


def _words(fields: Iterable[Field]) -> Iterator[str]:
    for one in fields:
        inner = bare(one.kind)
        words = words_of(bare(get_args(inner)[0]) if get_origin(inner) is tuple else inner, MEANINGS)
        if words:
            yield from ("", f"`{one.key}`:", "")
            yield from (f"- `{word}`: {says}" for word, says in words.items())


def _when() -> Iterator[str]:
    yield from ("", '`when` names facts of the lot. A list means "or"; `not kernel` means anything else.', "")
    yield from ("| fact | values | means |", "|---|---|---|")
    for name, fact in WHEN.items():
        yield f"| `{name}` | {fact.values()} | {fact.says} |"


def _struct(one: Field) -> type[Struct] | None:
    """The class of the maps of a field: its own, or that of its items; none where it is a quantity."""
    inner = bare(one.kind)
    if get_origin(inner) in (tuple, dict):
        inner = bare([part for part in get_args(inner) if part is not Ellipsis][-1])
    if not isinstance(inner, type) or not issubclass(inner, Struct) or marked(one.kind, Range) is not None:
        return None
    return inner
