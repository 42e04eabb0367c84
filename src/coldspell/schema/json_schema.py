"""Write the JSON Schema (2020-12) of a class from what it declares (see :mod:`coldspell.schema.declare`).

Every field carries its meaning and unit, every word of a closed list its own; a field or word without one is
an internal fault, so that nothing undescribed can be published. For what msgspec encodes::

    SchemaWriter(KINDS, MEANINGS, typed=False).document(Recipe, "https://…/recipe-2.json", "Coldspell recipe")

where ``KINDS`` says what more the names in the annotations mean, as ``{"Day": Annotated[str, DAY]}``, and
``MEANINGS`` what words mean, as ``{Route: {"treat_indoors": "…"}}``.
"""

from __future__ import annotations

import types
from collections.abc import Mapping
from inspect import cleandoc
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from msgspec import Struct

from coldspell.errors import InternalFault
from coldspell.schema.declare import (
    Field,
    Measure,
    OneOrMany,
    Range,
    Text,
    bare,
    fields_of,
    marked,
    nullable,
    unit_of,
    words_of,
)

Schema = dict[str, Any]
_SCALARS: dict[Any, str] = {str: "string", float: "number", int: "integer", bool: "boolean"}


class SchemaWriter:
    """Writes schemas of structs.

    Parameters
    ----------
    kinds
        What names in annotations stand for (see :func:`~coldspell.schema.declare.fields_of`).
    meanings
        For each ``Literal`` what its words mean, in the order of the words.
    typed
        True for a file that people write: a key is left out rather than null, a number with bounds may be a
        range, a list of texts holds each once, a map that holds nothing but its footnotes says nothing.
        False for what msgspec encodes: every field is there, and null where nobody knows.
    lists
        Fewest and most items (0: any number) of a list, by class and field.
    told
        What fields mean (``Class.field``) whose meaning is written elsewhere than in their class.
    """

    def __init__(
        self,
        kinds: Mapping[str, Any],
        meanings: Mapping[Any, Mapping[Any, str]],
        *,
        typed: bool,
        lists: Mapping[tuple[str, str], tuple[int, int]] | None = None,
        told: Mapping[str, str] | None = None,
    ) -> None:
        self._kinds, self._meanings, self._typed, self._lists = kinds, meanings, typed, lists or {}
        self._told = told or {}
        self._defs: dict[str, Schema] = {}

    def document(self, kind: Any, address: str, title: str) -> Schema:
        """Return the whole schema of a struct (or of a list of them), with its address and title."""
        root = self._map(kind) if isinstance(kind, type) and issubclass(kind, Struct) else self._of(kind)
        head = {"$schema": "https://json-schema.org/draft/2020-12/schema", "$id": address, "title": title}
        return {**head, **root, **({"$defs": dict(sorted(self._defs.items()))} if self._defs else {})}

    def _map(self, struct: type[Struct]) -> Schema:
        fields = fields_of(struct, self._kinds, self._told)
        required = [one.key for one in fields if one.required or not self._typed]
        schema: Schema = {
            "description": cleandoc(struct.__doc__ or "")
            .split("\n\n")[0]
            .replace("\n", " ")
            .replace("``", "`"),
            "type": "object",
            "properties": {one.key: self._field(struct, one) for one in fields},
            "required": required,
            "additionalProperties": False,
        }
        if self._typed and set(required) <= {"cite"}:
            schema["minProperties"] = len(required) + 1
        return schema

    def _field(self, struct: type[Struct], one: Field) -> Schema:
        shape = self._of(one.kind)
        unit = unit_of(one.kind)
        says = [one.says, f"Unit: {unit}." if unit else "", shape.pop("description", "")]
        says.append(f"Since schema {one.since}." if one.since > 1 else "")
        schema: Schema = {"description": " ".join(part for part in says if part), **shape}
        low, high = self._lists.get((struct.__name__, one.name), (0, 0))
        schema.update({key: count for key, count in (("minItems", low), ("maxItems", high)) if count})
        if self._typed and not one.required and isinstance(one.default, str | bool | int):
            schema["default"] = one.default
        return schema

    def _of(self, kind: Any) -> Schema:
        """The schema of a type; a description in it is the form that a text must have."""
        inner = bare(kind)
        origin, parts = get_origin(inner), get_args(inner)
        if nullable(kind) and not self._typed:
            return {"anyOf": [self._of(_without_none(kind)), {"type": "null"}]}
        if origin is Literal:
            words = words_of(inner, self._meanings)
            return {"oneOf": [{"const": word, "description": says} for word, says in words.items()]}
        if isinstance(inner, type) and issubclass(inner, Struct):
            return self._struct(inner, marked(kind, Range))
        if origin is tuple or origin is list:
            return self._list(kind, origin, parts)
        if origin is dict:
            names = {k: v for k, v in self._of(parts[0]).items() if k != "type"}
            free = {"type": "object", "additionalProperties": self._of(parts[1])}
            return {**free, "propertyNames": names} if names else free
        if origin in (Union, types.UnionType):
            return self._union(parts)
        if inner not in _SCALARS:
            raise InternalFault(f"no schema is known for the type {inner}")
        return {"type": _SCALARS[inner], **_bounds(_limits(kind)), **_form(marked(kind, Text))}

    def _struct(self, struct: type[Struct], span: Range | None) -> Schema:
        if span is not None:  # a quantity: as people write it
            number = {"type": "number", **_bounds(span)}
            several = {"type": "array", "items": number, "minItems": 2, "maxItems": 3}
            self._defs[span.name] = {"oneOf": [number, several]}
            return {"$ref": f"#/$defs/{span.name}"}
        name = struct.__name__
        if name not in self._defs:
            self._defs[name] = {}
            self._defs[name] = self._map(struct)
        return {"$ref": f"#/$defs/{name}"}

    def _list(self, kind: Any, origin: Any, parts: tuple[Any, ...]) -> Schema:
        if origin is tuple and parts[-1] is not Ellipsis:
            if len(set(parts)) > 1:
                items = [self._of(part) for part in parts]
                return {"type": "array", "prefixItems": items, "items": False, "minItems": len(items)}
            each = {**self._of(parts[0]), **_bounds(_limits(kind))}
            return {"type": "array", "items": each, "minItems": len(parts), "maxItems": len(parts)}
        several: Schema = {"type": "array", "items": self._of(parts[0])}
        if self._typed and (bare(parts[0]) is str or get_origin(bare(parts[0])) is Literal):
            several["uniqueItems"] = True
        mark = marked(kind, OneOrMany)
        if mark is None or not self._typed:
            return several
        self._defs[mark.name] = {"oneOf": [self._of(parts[0]), {**several, "minItems": 1}]}
        return {"$ref": f"#/$defs/{mark.name}"}

    def _union(self, parts: tuple[Any, ...]) -> Schema:
        """Several types: the scalars in one, each other on its own; a list in a file holds something."""
        scalars = [_SCALARS[part] for part in parts if part in _SCALARS]
        others = [self._of(part) for part in parts if part not in _SCALARS and part is not type(None)]
        one: Schema = {"type": scalars if len(scalars) > 1 else scalars[0]} if scalars else {}
        for other in others:
            if self._typed and other.get("type") == "array":
                other["minItems"] = 1
        if not others:
            return one
        return {"oneOf": [*([one] if one else []), *others]}


def _without_none(kind: Any) -> Any:
    if get_origin(kind) is Annotated:
        inner = _without_none(get_args(kind)[0])
        return Annotated.__class_getitem__((inner, *kind.__metadata__))
    left = tuple(one for one in get_args(kind) if one is not type(None))
    return Union[left]  # noqa: UP007


def _limits(kind: Any) -> Range | Measure | None:
    limits: Range | Measure | None = marked(kind, Range) or marked(kind, Measure)
    return limits


def _bounds(span: Range | Measure | None) -> Schema:
    if isinstance(span, Range):
        return {"minimum": span.low, "maximum": span.high}
    return {} if span is None or span.low is None else {"minimum": span.low}


def _form(text: Text | None) -> Schema:
    if text is None:
        return {}
    limits = {"minLength": text.least, "maxLength": text.most, "pattern": text.pattern}
    found: Schema = {key: value for key, value in limits.items() if value}
    if text.date:
        found = {"format": "date", "pattern": text.pattern}
    return {"description": text.form, **found} if text.form else found
