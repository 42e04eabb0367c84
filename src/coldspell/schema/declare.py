"""Read what a class of values declares: of each field its type, meaning, bounds and whether it must be given.

A field is declared once, in the body of its class::

    days: Days | None = None
    \"\"\"How long it lasts.\"\"\"

The text below a field is its meaning (the convention of Sphinx; Python drops it, so it costs no start), and
the names in its type may stand for more in the ``kinds`` that are given here than in the module of the class:
there ``Days`` may be a bare ``Quantity``, here the same with unit and bounds (the values below, in
``Annotated``). JSON Schemas and pages of documentation are made from what :func:`fields_of` returns.
"""

from __future__ import annotations

import ast
import inspect
import re
import sys
import types
from collections.abc import Mapping
from functools import cache
from typing import Annotated, Any, Literal, NamedTuple, Union, get_args, get_origin

from msgspec import NODEFAULT, Struct
from msgspec.structs import fields as struct_fields

from coldspell.errors import InternalFault

_NOTHING: Mapping[str, str] = {}
_SINCE = re.compile(r" ?New in schema (\d+)\.")


class Range(Struct, frozen=True):
    """Bounds of a number; ``name`` is that of its definition in a schema, ``unit`` how it is printed."""

    name: str
    unit: str
    low: float
    high: float


class Measure(Struct, frozen=True):
    """Unit of a number that the program works out, and the least that it can be; None: anything."""

    unit: str
    low: float | None = None


class Text(Struct, frozen=True):
    """Length in characters (``most`` 0: any) and form of a text; ``form`` says the form in words."""

    least: int = 0
    most: int = 0
    pattern: str = ""
    form: str = ""
    date: bool = False


class OneOrMany(Struct, frozen=True):
    """A list that may be written as its one item; ``name`` is that of its definition in a schema."""

    name: str


class NotInFile(Struct, frozen=True):
    """The field is set by the program and stands in no file."""


DAY = Text(10, 10, r"^\d{4}-\d{2}-\d{2}$", "Write the day as year-month-day, as 2026-05-01.", date=True)
"""A day of the calendar as text (ISO 8601)."""


class Field(NamedTuple):
    """One field: its key in the file, its name in Python, its type, what it means, what it is when absent."""

    key: str
    name: str
    kind: Any
    says: str
    required: bool
    default: Any
    since: int


def fields_of(
    struct: type[Struct], kinds: Mapping[str, Any], told: Mapping[str, str] = _NOTHING
) -> tuple[Field, ...]:
    """Return the fields of a class as its source declares them, those that stand in no file left out.

    Parameters
    ----------
    struct
        The class; its source must be at hand.
    kinds
        What the names in its annotations stand for, where that is more than the class's own module says.
    told
        What fields mean (``Class.field``) whose meaning is written elsewhere than in their class.

    Raises
    ------
    InternalFault
        If fields have no text below them that says what they mean.
    """
    space = {**vars(sys.modules[struct.__module__]), **kinds}
    declared = _declared(struct.__module__)[struct.__name__]
    found, silent = [], []
    for one in struct_fields(struct):
        annotation, says = declared[one.name]
        kind = eval(annotation, space)
        mark = marked(kind, NotInFile)
        if mark is not None:
            continue
        path = f"{struct.__name__}.{one.name}"
        says = says or told.get(path) or next((m for m in metadata(kind) if isinstance(m, str)), "")
        if not says:
            silent.append(path)
        since = _SINCE.search(says)
        default = one.default if one.default is not NODEFAULT else None
        found.append(
            Field(
                one.name.rstrip("_"),
                one.name,
                kind,
                _SINCE.sub("", says),
                one.required,
                default,
                int(since[1]) if since else 1,
            )
        )
    if silent:
        raise InternalFault(f"declared without saying what they mean: {', '.join(silent)}")
    return tuple(found)


@cache
def _declared(module: str) -> dict[str, dict[str, tuple[str, str]]]:
    """Annotation and meaning of each field of each class of a module, from its source."""
    classes: dict[str, dict[str, tuple[str, str]]] = {}
    try:
        source = inspect.getsource(sys.modules[module])
    except OSError:
        raise InternalFault(
            f"the source of {module} is missing", mend="Install Coldspell again, with its source files."
        ) from None
    for node in ast.parse(source).body:
        if not isinstance(node, ast.ClassDef):
            continue
        own = classes.setdefault(node.name, {})
        for here, after in zip(node.body, [*node.body[1:], None], strict=True):
            if not isinstance(here, ast.AnnAssign) or not isinstance(here.target, ast.Name):
                continue
            text = ""
            if isinstance(after, ast.Expr) and isinstance(after.value, ast.Constant):
                text = " ".join(str(after.value.value).split())
            own[here.target.id] = (ast.unparse(here.annotation), text)
    return classes


def metadata(kind: Any) -> tuple[Any, ...]:
    """Return what ``Annotated`` says of a type, that of ``X | None`` being that of ``X``."""
    if get_origin(kind) is Annotated:
        return (*metadata(get_args(kind)[0]), *kind.__metadata__)
    if get_origin(kind) in (Union, types.UnionType):
        inner = [one for one in get_args(kind) if one is not type(None)]
        return metadata(inner[0]) if len(inner) == 1 else ()
    return ()


def marked(kind: Any, mark: type[Any]) -> Any:
    """Return the last mark of a class that a type carries, or None."""
    return next((one for one in reversed(metadata(kind)) if isinstance(one, mark)), None)


def unit_of(kind: Any) -> str:
    """Return the unit of a number; empty where it has none."""
    mark = marked(kind, Range) or marked(kind, Measure)
    return mark.unit if mark is not None else ""


def bare(kind: Any) -> Any:
    """Return a type without ``Annotated`` and without ``| None`` around it."""
    if get_origin(kind) is Annotated:
        return bare(get_args(kind)[0])
    if get_origin(kind) in (Union, types.UnionType):
        inner = [one for one in get_args(kind) if one is not type(None)]
        return bare(inner[0]) if len(inner) == 1 else kind
    return kind


def nullable(kind: Any) -> bool:
    """Say whether a type admits None."""
    if get_origin(kind) is Annotated:
        return nullable(get_args(kind)[0])
    return get_origin(kind) in (Union, types.UnionType) and type(None) in get_args(kind)


def words_of(kind: Any, meanings: Mapping[Any, Mapping[Any, str]]) -> Mapping[Any, str]:
    """Return the words of a ``Literal`` with their meanings.

    Raises
    ------
    InternalFault
        If the two do not hold the same words.
    """
    if get_origin(kind) is not Literal:
        return {}
    said = meanings.get(kind, {})
    if tuple(said) != get_args(kind):
        raise InternalFault(f"the words {get_args(kind)} and those that have a meaning differ: {tuple(said)}")
    return said
