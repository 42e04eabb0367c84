"""Two answers side by side: what each says under the same headings, and where they differ."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from msgspec import Struct

from coldspell.records.do import MOIST
from coldspell.texts import Texts
from coldspell.views.short import Row, Short, short_page
from coldspell.views.sources import Unmarked
from coldspell.write.recipe import Recipe
from coldspell.write.units import spelled_date


class Line(Struct, frozen=True):
    """One heading with what each answer says under it, each a tuple of paragraphs; ``differs`` compares."""

    label: str
    cells: tuple[tuple[str, ...], tuple[str, ...]]

    @property
    def differs(self) -> bool:
        """Whether the two say different things."""
        return self.cells[0] != self.cells[1]


def side_by_side(one: Recipe, two: Recipe, texts: Texts) -> tuple[Line, ...]:
    """What two recipes say, line by line, without marks of sources.

    A heading under which neither says anything is left out.
    """
    sides = [
        (recipe, short_page(recipe, texts, sources=Unmarked(recipe.sources, texts))) for recipe in (one, two)
    ]
    found = []
    for key, told in _LINES.items():
        cells = tuple(tuple(filter(None, told(recipe, short))) for recipe, short in sides)
        if any(cells):
            found.append(Line(texts.say(f"side_{key}"), (cells[0], cells[1])))
    return tuple(found)


def _needs(recipe: Recipe, short: Short) -> tuple[str, ...]:
    """The treatment in words, without dates."""
    return tuple(says for answer in recipe.treatments if answer.status == "used" for says in answer.says)


def _start(recipe: Recipe, short: Short) -> tuple[str, ...]:
    return _day(next((step.start for step in recipe.steps if step.do in MOIST and step.start), None))


def _sow(recipe: Recipe, short: Short) -> tuple[str, ...]:
    return _day(next((step.start for step in recipe.steps if step.do == "sow" and step.start), None))


def _day(day: str | None) -> tuple[str, ...]:
    return (spelled_date(date.fromisoformat(day)),) if day else ()


def _expect(recipe: Recipe, short: Short) -> tuple[str, ...]:
    return (recipe.expectation.says,) if recipe.expectation else ()


def _texts(rows: tuple[Row, ...]) -> tuple[str, ...]:
    return tuple(text for _, text in rows)


def _trial(recipe: Recipe, short: Short) -> tuple[str, ...]:
    return (short.trial.sentence,) if short.trial else ()


_LINES: dict[str, Callable[[Recipe, Short], tuple[str, ...]]] = {
    "lot": lambda recipe, short: (short.lot,),
    "answer": lambda recipe, short: _trial(recipe, short) or (short.sentence,),
    "treatment": _needs,
    "start": _start,
    "sow": _sow,
    "expect": _expect,
    "things": lambda recipe, short: _texts(short.needs),
    "steps": lambda recipe, short: tuple(f"{step.when}: {step.text}" for step in short.steps),
    "kept": lambda recipe, short: _texts(short.kept),
    "keeps": lambda recipe, short: _texts(short.keeps),
    "what_if": lambda recipe, short: tuple(f"{label} {text}" for label, text in short.what_if),
    "safety": lambda recipe, short: _texts(short.safety),
    "notes": lambda recipe, short: (short.notes,),
}
