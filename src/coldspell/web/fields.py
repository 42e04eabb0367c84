"""The form: a field for each fact of a lot, made from the table of lot facts."""

from __future__ import annotations

from datetime import date

from msgspec import Struct

from coldspell.lot.lot import ANSWER
from coldspell.lot.table import FACTS, LotFact, shape_of

FIRST = ("seeds", "collected", "moisture", "stored_years")
"""The facts that the three questions ask for; the others stand under "more"."""

RENAMED = ("moisture", "refrigerator", "winter", "shell", "grow_in")
"""Facts whose meaning leans on the name of the option: the form calls them something else."""


class Field(Struct, frozen=True):
    """One field: ``kind`` is choice, many, flag, number, day or text; ``choices`` are values with labels."""

    name: str
    label: str
    kind: str
    unit: str = ""
    low: str = ""
    high: str = ""
    step: str = ""
    shape: str = ""
    choices: tuple[tuple[str, str], ...] = ()


class Group(Struct, frozen=True):
    """Fields under one heading."""

    head: str
    fields: tuple[Field, ...]


def field(fact: LotFact) -> Field:
    """The field of one fact."""
    about, label = fact.about, _sentence(fact.about.means)
    words = tuple((word, word.replace("_", " ")) for word in fact.words if word != "unknown")
    if fact.kind is bool and about.flag is not None:
        _, value, means = about.flag
        return Field(fact.name, _sentence(means), "flag", choices=((value, _sentence(means)),))
    if fact.many or fact.words:
        return Field(fact.name, label, "many" if fact.many else "choice", choices=words)
    if about.unit == "°C":  # degrees Fahrenheit have their letter, which no field for numbers takes
        return Field(fact.name, label, "text", "°C, or 39F", shape="4")
    if fact.number:
        low, high = f"{about.low:g}", f"{about.high:.0f}"
        step = "1" if fact.whole else "any"
        return Field(fact.name, label, "number", about.unit, low, high, step)
    if fact.kind is date:
        return Field(fact.name, label, "day")
    return Field(fact.name, label, "text", shape="" if about.example == "text" else shape_of(fact))


TRAINED = "professional"
"""The fact that brings methods for trained people; a public page does not ask for it."""


def public_groups(groups: tuple[Group, ...]) -> tuple[Group, ...]:
    """The fields of a public page."""
    return tuple(
        Group(group.head, tuple(one for one in group.fields if one.name != TRAINED)) for group in groups
    )


def _sentence(means: str) -> str:
    return f"{means[:1].upper()}{means[1:]}"


def _groups() -> tuple[Group, ...]:
    heads = dict.fromkeys(fact.about.group for fact in FACTS.values() if fact.about.group != ANSWER)
    return tuple(
        Group(
            head,
            tuple(
                field(fact) for fact in FACTS.values() if fact.about.group == head and fact.name not in FIRST
            ),
        )
        for head in (*heads, ANSWER)
    )


FIELDS = {name: field(fact) for name, fact in FACTS.items()}
"""Every field by the name of its fact."""
MORE = _groups()
"""What stands under "more", group by group."""
