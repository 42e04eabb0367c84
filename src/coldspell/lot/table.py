"""The table of lot facts as values, read off the annotations of `Lot`."""

from __future__ import annotations

import types
from datetime import date
from typing import Any, Literal, Union, get_args, get_origin

from msgspec import Struct

from coldspell.lot.lot import About, Lot


class LotFact(Struct, frozen=True):
    """One fact of a lot; ``kind`` is the type of its value, ``words`` its closed choices if it has any."""

    name: str
    field: str
    kind: Any
    words: tuple[str, ...]
    many: bool
    about: About

    @property
    def whole(self) -> bool:
        """Whether it is counted, not measured."""
        return self.kind is int

    @property
    def number(self) -> bool:
        """Whether it is a number with limits."""
        return self.kind in (int, float)


def _facts() -> dict[str, LotFact]:
    found = {}
    for field, hint in Lot.__annotations__.items():
        if field == "assumed":
            continue
        kind, about = hint.__origin__, hint.__metadata__[0]
        if get_origin(kind) in (Union, types.UnionType):
            kind = next(one for one in get_args(kind) if one is not types.NoneType)
        many = get_origin(kind) is tuple and get_origin(get_args(kind)[0]) is Literal
        words = get_args(get_args(kind)[0] if many else kind) if many or get_origin(kind) is Literal else ()
        name = about.name or field
        found[name] = LotFact(name, field, kind, words, many, about)
    return found


FACTS = _facts()
"""Facts of a lot by the name that options and lot files use, in the order of the table."""
MARKED = tuple(fact for fact in FACTS.values() if fact.about.marked)
DATES = tuple(fact.name for fact in FACTS.values() if fact.kind is date)


def options(fact: LotFact) -> list[str]:
    """The options of the command line that say a fact."""
    flag = [f"--{fact.about.flag[0]}"] if fact.about.flag else []
    return flag if fact.kind is bool else [f"--{fact.name.replace('_', '-')}", *flag]


def shape_of(fact: LotFact) -> str:
    """What is typed after an option: its choices, the form of a day, or the unit."""
    shape = "|".join(fact.words) or fact.about.example
    return shape or ("YYYY-MM-DD" if fact.kind is date else fact.about.unit)
