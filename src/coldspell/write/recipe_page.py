"""The reference of the recipe's JSON, docs/recipe-json.md, made from its declaration."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from inspect import cleandoc
from typing import Any, Literal, get_args, get_origin

from msgspec import Struct

from coldspell.rules import RuleBook
from coldspell.schema.declare import Field, Text, bare, fields_of, marked, nullable, unit_of, words_of
from coldspell.write.recipe import Recipe
from coldspell.write.recipe_plain import PlantsRange, Range
from coldspell.write.recipe_schema import DECIDED, KINDS, answers, told

_HEAD = """\
# The recipe as JSON

<!-- Written by python -m coldspell.cli.publish; a test fails when this page is stale. -->

Every key of what `coldspell recipe NAME --format json` prints, in its order, with type, unit, words and
meaning. [`recipe-2.json`](schemas/recipe-2.json) says the same to programs (JSON Schema 2020-12).

Every key is always there; where nobody knows, or there is nothing to say, it is `null` or an empty list. A
**range** is `[low, usual, high]`; `usual` is `null` where the source gives none. Days are planned with the
usual value, else with the high one: `start` and `end` of a step are the plan. A **day** is ISO 8601 text:
`2027-04-15`. `cites` are numbers of the `sources` that say so. Numbers are in the unit given here whatever
the lot says of units; texts are in the units of the lot. The same question gives the same bytes.

Words listed here are closed: another one would be another version. **Answers of decisions** are open, since
other rules may bring others: go by `does`, which says in closed words what the route does.

The format is version 2; [what changed since version 1](recipe-changes.md). A later program may add keys: pass
over those you do not know. Taking a key out or changing what it means makes a new version.

The examples are the answer to an invented lot of 40 acorns of northern red oak, `asks` is that to a lot of
which only the genus was said. Lists are cut to their first two items, of `said` and `topics` some keys are
shown, and the digests are left at nought.
"""
_KINDS = {str: "text", bool: "`true` or `false`", int: "whole number", float: "number"}
_MOST, _SOME = 2, 6
Shown = Mapping[str, Any]


def page(book: RuleBook, example: Shown, of_genus: Shown) -> str:
    """Return the page.

    Parameters
    ----------
    book
        Rules, for the answers that they give.
    example, of_genus
        Recipes as plain values: one of a species, and one that asks which species it is.
    """
    fields = fields_of(Recipe, KINDS, told().fields)
    shown = {**example, "asks": of_genus["asks"]}
    groups: dict[type[Struct], list[Field]] = {}
    for one in fields:
        struct = _struct(one)
        if struct is not None:
            groups.setdefault(struct, []).append(one)
    plain = [one for one in fields if _struct(one) is None]
    writer = _Writer(book)
    parts = [_HEAD, "## Keys", "", *writer.table(Recipe, fields)]
    parts += [*writer.words(Recipe, fields), "", *_example(shown, plain)]
    for struct, members in groups.items():
        title = ", ".join(f"`{one.key}`" for one in members)
        parts += ["", f"## {title}", "", _about(members, struct), "", *writer.section(struct)]
        parts += ["", *_example(shown, members)]
    return "\n".join(parts) + "\n"


class _Writer:
    """Writes tables of keys; words that were listed once are not listed again."""

    def __init__(self, book: RuleBook) -> None:
        self._book = book
        self._listed: dict[Any, str] = {}

    def section(self, struct: type[Struct], above: str = "") -> Iterator[str]:
        """Table and words of a map, and those of the maps within."""
        fields = fields_of(struct, KINDS, told().fields)
        yield from self.table(struct, fields)
        yield from self.words(struct, fields)
        for one in fields:
            inner = _struct(one)
            if inner is not None:
                yield from ("", f"### `{one.key}`", "", _docstring(inner), "")
                yield from self.section(inner)

    def table(self, struct: type[Struct], fields: Iterable[Field]) -> Iterator[str]:
        """Key, type, unit and meaning of each field."""
        yield from ("| key | value | unit | means |", "|---|---|---|---|")
        for one in fields:
            decision = DECIDED.get((struct.__name__, one.name))
            shipped = ", ".join(f"`{word}`" for word in answers(self._book, decision)) if decision else ""
            says = f"{one.says} Shipped: {shipped}." if shipped else one.says
            empty = " or `null`" if nullable(one.kind) else ""
            yield f"| `{one.key}` | {_value(one.kind)}{empty} | {unit_of(one.kind)} | {says} |"

    def words(self, struct: type[Struct], fields: Iterable[Field]) -> Iterator[str]:
        """The closed words of each field."""
        for one in fields:
            kind = _innermost(one.kind)
            words = words_of(kind, told().words)
            if kind in self._listed:
                yield from ("", f"`{one.key}`: the words of `{self._listed[kind]}` above.")
            elif words:
                self._listed[kind] = one.key
                yield from ("", f"`{one.key}`:", "")
                yield from (f"- `{word}`: {says}" for word, says in words.items())


def _about(members: Sequence[Field], struct: type[Struct]) -> str:
    several = get_origin(bare(members[0].kind)) is tuple
    return f"{_docstring(struct)}{' A list of maps.' if several else ''}"


def _docstring(struct: type[Struct]) -> str:
    return cleandoc(struct.__doc__ or "").split("\n\n")[0].replace("\n", " ").replace("``", "`")


def _innermost(kind: Any) -> Any:
    """The type of the items of a list, else the type itself."""
    inner = bare(kind)
    return bare(get_args(inner)[0]) if get_origin(inner) is tuple else inner


def _struct(one: Field) -> type[Struct] | None:
    inner = _innermost(one.kind)
    return inner if isinstance(inner, type) and issubclass(inner, Struct) else None


def _value(kind: Any) -> str:
    inner = bare(kind)
    origin, parts = get_origin(inner), get_args(inner)
    form = marked(kind, Text)
    if form is not None and form.date:
        return "day"
    if origin is Literal:
        return "number, below" if isinstance(parts[0], int) else "a word, below"
    if isinstance(inner, type) and issubclass(inner, Struct):
        return "map, below"
    if inner in (Range, PlantsRange):
        return "range"
    if origin is tuple and parts[-1] is not Ellipsis:
        return f"{len(parts)} {_KINDS[parts[0]]}s"
    if origin is tuple:
        return f"list: {_value(parts[0])}"
    if origin is dict:
        return "map of names"
    return str(_KINDS.get(inner, "value"))


def _example(recipe: Shown, fields: Iterable[Field]) -> Iterator[str]:
    """Part of a recipe as JSON."""
    part = {one.key: _cut(recipe[one.key], one.key) for one in fields}
    yield from ("```json", json.dumps(part, indent=1, ensure_ascii=False), "```")


def _cut(value: Any, key: str) -> Any:
    """The value with the first items of its lists, and of the maps of names some that say something."""
    if isinstance(value, list):
        numbers = len(value) == 3 and all(one is None or isinstance(one, int | float) for one in value)
        return value if numbers else [_cut(one, key) for one in value[:_MOST]]
    if not isinstance(value, dict):
        return value
    if key in ("said", "topics"):
        said = {k: v for k, v in value.items() if v not in (None, "unknown", [], False, 0)}
        value = dict(list(said.items())[:_SOME])
    return {k: _cut(v, k) for k, v in value.items()}
