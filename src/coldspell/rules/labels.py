"""From the value of a fact to its label, as one decision cuts the fact."""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Callable

from coldspell.errors import InternalFault
from coldspell.rules.model import UNKNOWN, Axis, FactValue

Labeller = Callable[[FactValue], str]


def label_of(axis: Axis, value: FactValue) -> str:
    """The label a value falls under.

    Raises
    ------
    InternalFault
        The value is outside what the fact was declared to be.
    """
    if axis.bounds is None:
        word = UNKNOWN if value is None else "yes" if value is True else "no" if value is False else value
        try:
            return axis.classes[axis.atoms.index(word)]
        except ValueError:
            what = f"the fact {axis.fact!r} cannot be {value!r}"
            raise InternalFault(what, mend=_declared(axis)) from None
    if value is None or value == UNKNOWN:
        if axis.may_be_unknown:
            return axis.classes[-1]
        raise InternalFault(f"the fact {axis.fact!r} cannot be unknown")
    low, high = axis.bounds
    if isinstance(value, bool | str) or not math.isfinite(value) or not low <= value <= high:
        raise InternalFault(f"the fact {axis.fact!r} cannot be {value!r}", mend=_declared(axis))
    return axis.classes[bisect_left(axis.cuts, value)]


def labeller(axis: Axis) -> Labeller:
    """A fast form of `label_of` for a number; what it does not know at once it leaves to `label_of`."""
    assert axis.bounds is not None, f"{axis.fact} is no number"
    cuts, classes, (low, high) = axis.cuts, axis.classes, axis.bounds
    unknown = classes[-1]

    def number(value: FactValue) -> str:
        if (type(value) is float or type(value) is int) and low <= value <= high:
            return classes[bisect_left(cuts, value)]
        return unknown if value is None and axis.may_be_unknown else label_of(axis, value)

    return number


def _declared(axis: Axis) -> str:
    words = ", ".join(axis.atoms)
    return f"Declared: {axis.bounds[0]:g} to {axis.bounds[1]:g}." if axis.bounds else f"Declared: {words}."
