"""Two dates or two states of one lot side by side: the two questions of an address, and what each answers."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any
from urllib.parse import urlencode

from msgspec import Struct

from coldspell.draw.timeline import span, timeline
from coldspell.errors import ColdspellError
from coldspell.sheet.content import DAYS_WIDE, Shown, shown, without_options
from coldspell.texts import Texts
from coldspell.views.side_by_side import Line, side_by_side
from coldspell.web.asked import Asked, asked, told
from coldspell.web.fields import FIELDS, Field
from coldspell.write.recipe import Recipe

SIDES = ("a", "b")
"""What stands before a fact that is said of one side alone: ``a-sow``."""
ASKED = ("sow", "collected", "moisture", "stored_years", "shell", "refrigerator")
"""The facts that the form asks for each side; every other one may stand in the address."""
Pairs = Sequence[tuple[str, str]]


class Side(Struct, frozen=True):
    """One of the two: its question, the address of its whole answer, its line of days (wide and narrow)."""

    question: Asked
    query: str
    days: tuple[Shown, ...] = ()


class Compared(Struct, frozen=True):
    """Both sides and what they say, line by line."""

    sides: tuple[Side, Side]
    lines: tuple[Line, ...]
    other: bool
    """Whether any line differs."""


def two(pairs: Pairs, clock: date) -> tuple[Side, Side]:
    """The two questions: what has no prefix holds for both, what has one for its side, empty or not."""
    first, second = (_side(pairs, f"{key}-", clock) for key in SIDES)
    return first, second


def is_said(pairs: Pairs) -> bool:
    """Whether anything was said of one side alone."""
    return any(key.startswith(("a-", "b-")) for key, _ in pairs)


def common(pairs: Pairs) -> list[tuple[str, str]]:
    """What holds for both sides and is not asked for each, to be handed on by the form."""
    return [(key, value) for key, value in pairs if _shared(key) and key not in (*ASKED, "name", "seeds")]


def compared(sides: tuple[Side, Side], recipes: tuple[Recipe, Recipe], texts: Texts) -> Compared:
    """What two recipes say side by side, with their days on one line."""
    lines = tuple(_for_page(line) for line in side_by_side(*recipes, texts))
    spans = [found for recipe in recipes if (found := span(recipe, texts)) is not None]
    dated = len({first > 400_000 for first, _ in spans}) == 1  # both by the calendar, or both counted
    days = (min(first for first, _ in spans), max(last for _, last in spans)) if dated else None
    first, second = (
        Side(side.question, side.query, _days(recipe, texts, days, f"side-{key}-"))
        for key, side, recipe in zip(SIDES, sides, recipes, strict=True)
    )
    return Compared((first, second), lines, any(line.differs for line in lines))


def wrong_of(side: Side, error: ColdspellError) -> Side:
    """A side that could not be answered, with the reason."""
    question = side.question
    wrong = {"": told(error)}
    return Side(Asked(question.name, question.facts, question.today, question.trial, wrong), side.query)


def side_fields(labels: Mapping[str, str]) -> tuple[tuple[Field, str], ...]:
    """The fields of one side, each with its label."""
    return tuple((FIELDS[name], labels.get(name, FIELDS[name].label)) for name in ASKED)


def _side(pairs: Pairs, prefix: str, clock: date) -> Side:
    own = [(key.removeprefix(prefix), value) for key, value in pairs if key.startswith(prefix)]
    named = {key for key, _ in own}
    whole = [(key, value) for key, value in pairs if _shared(key) and key not in named] + own
    said = [(key, value.strip()) for key, value in whole if value.strip()]
    return Side(asked(said, clock), urlencode(said))


def _shared(key: str) -> bool:
    return not key.startswith(tuple(f"{side}-" for side in SIDES))


def _for_page(line: Line) -> Line:
    first, second = (tuple(filter(None, map(without_options, cell))) for cell in line.cells)
    return Line(line.label, (first, second))


def _days(recipe: Recipe, texts: Texts, days: tuple[int, int] | None, prefix: str) -> tuple[Shown, ...]:
    pictures: list[Any] = [
        timeline(recipe, texts, DAYS_WIDE, days) if days else None,
        timeline(recipe, texts, days=days) if days else None,
    ]
    return tuple(
        shown(one, f"{prefix}{width}-")
        for one, width in zip(pictures, ("wide", "narrow"), strict=True)
        if one is not None
    )
