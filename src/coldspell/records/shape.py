"""Bring the plain values of a record file into the shape of :class:`~coldspell.records.model.Record`.

A quantity written as a number or list becomes low, usual and high; one footnote becomes a list of one; the
keys ``class`` and ``if``, which Python keeps for itself, get an underscore. The rules are read off the
classes of the model, so a new field of the model needs nothing here. A key that the model lacks is an
internal fault: the schema is made from the same classes, so nothing can pass it and then vanish.
"""

from __future__ import annotations

import types
from collections.abc import Callable
from functools import cache
from typing import Any, Union, get_args, get_origin, get_type_hints

from msgspec import Struct, convert

from coldspell.errors import InternalFault
from coldspell.records.model import Quantity, Record

Shape = Callable[[Any], Any]


def to_record_shape(values: dict[str, Any]) -> dict[str, Any]:
    """Return the values of a record file (valid by the schema) in the shape of ``Record``."""
    return to_shape(Record, values)


def to_shape(kind: type[Struct], values: dict[str, Any]) -> dict[str, Any]:
    """Return the values of a file (valid by the schema) in the shape of a class.

    Raises
    ------
    InternalFault
        If the class has no field for a key.
    """
    shaped: dict[str, Any] = _shape_of(kind)(values)
    return shaped


def quantity(value: Any) -> Quantity:
    """Return a number, a range or a range with its usual value, as a file has it, as a quantity."""
    return convert(_quantity(value), Quantity)


def _quantity(value: Any) -> dict[str, float | None]:
    if not isinstance(value, list):
        return {"low": value, "high": value, "usual": None}
    return {"low": value[0], "high": value[-1], "usual": value[1] if len(value) == 3 else None}


def _listed(value: Any) -> list[Any]:
    return value if isinstance(value, list) else [value]


def _whole_numbers(value: list[float]) -> list[int]:
    return [int(item) for item in value]


def _as_it_is(value: Any) -> Any:
    return value


@cache
def _shape_of(kind: Any) -> Shape:
    if kind is Quantity:
        return _quantity
    if isinstance(kind, type) and issubclass(kind, Struct):
        return _map_shape(kind)
    origin, inner = get_origin(kind), get_args(kind)
    if origin in (Union, types.UnionType):
        choices = [one for one in inner if one is not type(None)]
        return _shape_of(choices[0]) if len(choices) == 1 else _as_it_is
    if origin is tuple:
        if inner[0] is str:
            return _listed
        if inner[0] is int:
            return _whole_numbers
        each = _shape_of(inner[0])
        return lambda value: [each(item) for item in value]
    if origin is dict:
        of_value = _shape_of(inner[1])
        return lambda value: {key: of_value(item) for key, item in value.items()}
    return _as_it_is


def _map_shape(kind: Any) -> Shape:
    hints = get_type_hints(kind)
    shapes = {name.rstrip("_"): (name, _shape_of(hints[name])) for name in kind.__struct_fields__}

    def shape(value: dict[str, Any]) -> dict[str, Any]:
        shaped = {}
        for key, item in value.items():
            if key not in shapes:
                raise InternalFault(f"{kind.__name__} has no field for the key '{key}'")
            name, of_item = shapes[key]
            shaped[name] = of_item(item)
        return shaped

    return shape
