"""Days that the preparation takes where a lot is sown at once: a soak is over before the sowing."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from datetime import date
from typing import TypeVar

from msgspec import Struct
from msgspec.structs import replace

from coldspell.arithmetic.calendar import add_days

S = TypeVar("S", bound=Struct)

def days_of(hours: float) -> int:
    """Whole days of the calendar that so many hours [h] take.

    >>> days_of(12), days_of(48)
    (1, 2)
    """
    return math.ceil(hours / 24)


def contained(steps: Sequence[S], first: date, takes: Callable[[S], int]) -> list[S]:
    """Steps that lead up to a sowing on the first day, each on its days, and what follows moved by them.

    Parameters
    ----------
    steps
        In order; those that are sown, lit or darkened on the first day bear that day, the others before them
        none.
    first
        The day on which hands begin.
    takes
        Days that a step takes [days].
    """
    moved, day = [], first
    for step in steps:
        start: date | None = getattr(step, "start")  # noqa: B009 (any step with days)
        if start is None:
            length = takes(step)
            if length or day > first:
                step = replace(step, start=day, end=(day := add_days(day, length)))
        elif start == first:
            step = replace(step, start=day, end=day)
        moved.append(step)
    return moved
