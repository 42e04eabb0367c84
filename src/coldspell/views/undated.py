"""An answer without dates, to be read in any year: weeks from the start, months by hemisphere."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from datetime import date
from itertools import pairwise
from typing import Any

import msgspec
from msgspec import Struct
from msgspec.structs import replace

from coldspell.arithmetic.seasons import season_month
from coldspell.texts import Texts
from coldspell.views.days import looks_told
from coldspell.views.short import Short
from coldspell.write.recipe import Recipe
from coldspell.write.recipe_work import Step
from coldspell.write.units import MONTHS

RESTING = ("hold",)
"""What is done before week 0: the seed waits, dry; weeks count from the first day on which it is treated."""
_NAMES = "|".join([*MONTHS, *(month[:3] for month in MONTHS)])
_DAY = re.compile(rf"(?:\b([Oo]n) )?\b(\d{{1,2}}) ({_NAMES})\b(?: (\d{{4}})\b)?")
_SEASON = re.compile(r"\b(spring|summer|autumn|winter) \d{4}\b")
_MARKED = ("law", "sources", "printed")
"""What keeps its dates: the day on which a law or a page was looked up."""


class Week(Struct, frozen=True):
    """One step: its weeks, the months of its start in the north and in the south, and what is done."""

    weeks: str
    north: str
    south: str
    text: str


class UndatedAnswer(Struct, frozen=True):
    """What a recipe says without dates: the page, and its steps by week."""

    short: Short
    weeks: tuple[Week, ...]


def undated(recipe: Recipe, short: Short, texts: Texts, ahead_days: float) -> UndatedAnswer:
    """A northern recipe without its dates.

    Parameters
    ----------
    recipe
        The answer for a lot of the northern hemisphere, asked on some day of its usual season.
    short
        What it says on a short page.
    texts
        Sentences of the program.
    ahead_days
        What a text names so many days before the start at most belongs to week 0.

    Notes
    -----
    Week 0 begins with the first dated step that is not dry rest, or with what is done before it. A note that
    names a day is left out, since it says which day was taken. The southern month is six months away from
    the northern one (`coldspell.arithmetic.seasons.season_month`).
    """
    days = _Days(recipe, texts, ahead_days)
    notes = " ".join(note for note in recipe.notes if not _DAY.search(note))
    kept = {name: getattr(short, name) for name in _MARKED}
    told: Short = msgspec.convert(_each(msgspec.to_builtins(replace(short, notes=notes)), days.told), Short)
    dates = recipe.checks.dates if recipe.checks is not None and recipe.does.page != "test" else ()
    if told.looks is not None and dates:
        told = replace(told, looks=replace(told.looks, when=days.looks(dates)))
    steps = zip(told.steps, recipe.steps, strict=False)
    return UndatedAnswer(
        short=replace(told, **kept), weeks=tuple(days.week(step, todo.text) for todo, step in steps)
    )


def counted(recipe: Recipe, texts: Texts) -> Recipe:
    """The same recipe with days counted from its start in place of dates, for a line of days.

    What is done before the start is left out.
    """
    days = _Days(recipe, texts)
    steps = [
        replace(step, start=None, end=None, start_day=days.day(step.start), end_day=days.day(step.end))
        for step in recipe.steps
    ]
    looks = recipe.checks
    if looks is not None and looks.dates:
        on = tuple(day for day in map(days.day, looks.dates) if day is not None and day >= 0)
        looks = replace(looks, dates=(), days=on)
    hold = replace(recipe.hold, until=None) if recipe.hold is not None else None
    kept = tuple(step for step in steps if step.start_day is None or step.start_day >= 0)
    return replace(recipe, steps=kept, checks=looks, hold=hold)


class _Days:
    """Days of one recipe as weeks from its start."""

    def __init__(self, recipe: Recipe, texts: Texts, ahead_days: float = 0) -> None:
        self._ahead_days = ahead_days
        self._texts, self._say, self._asked = texts, texts.say, date.fromisoformat(recipe.asked_on)
        dated = [step for step in recipe.steps if step.start]
        first = next((step for step in dated if step.do not in RESTING), None)
        found = first or next(iter(dated), None)
        begins = [found.start if found is not None else None, recipe.timing.begins]  # a soak may come first
        days = [date.fromisoformat(day) for day in begins if day]
        self._start = min(days, default=self._asked)

    def told(self, text: str) -> str:
        """A text with weeks in place of days, and seasons without their year."""
        return _SEASON.sub(r"\1", _DAY.sub(self._week_in_text, text))

    def looks(self, days: Sequence[str]) -> str:
        """The weeks in which one looks, and their rhythm where they are many."""
        weeks = list(dict.fromkeys(self._of(date.fromisoformat(day)) for day in days))
        apart = [7 * (after - week) for week, after in pairwise(weeks)]
        return self._say("undated_week", week=looks_told([str(week) for week in weeks], apart, self._texts))

    def week(self, step: Step, text: str) -> Week:
        """A step by its weeks."""
        if step.start is None or step.end is None:
            return Week(self._say("first"), "", "", text)
        start, end = date.fromisoformat(step.start), date.fromisoformat(step.end)
        north = MONTHS[start.month - 1]
        south = MONTHS[season_month(start.month, southern=True) - 1]
        first, last = self._of(start), self._of(end)
        if first < 0:
            return Week(_capital(self._say("undated_before")), north, south, text)
        key = "undated_weeks" if first < last else "undated_week"
        weeks = self._say(key, week=first, last=last)
        return Week(_capital(weeks), north, south, text)

    def day(self, day: str | None) -> int | None:
        """A day counted from the start."""
        return None if day is None else (date.fromisoformat(day) - self._start).days

    def _of(self, day: date) -> int:
        return (day - self._start).days // 7

    def _week_in_text(self, found: re.Match[str]) -> str:
        on, day, month, year = found.groups()
        number = next(i for i, name in enumerate(MONTHS, 1) if name.startswith(month))
        named = self._next(int(day), number) if year is None else date(int(year), number, int(day))
        ahead = -self._ahead_days <= (named - self._start).days < 0
        week = self._say("undated_week", week=0 if ahead else self._of(named))
        if on is None:
            return week
        within = self._say("undated_within", week=week)
        return _capital(within) if on == "On" else within

    def _next(self, day: int, month: int) -> date:
        """The day that is meant without a year: the next one, since nothing is planned for the past."""
        days = (
            date(self._asked.year + ahead, month, min(day, 28) if month == 2 else day) for ahead in (0, 1)
        )
        return next(found for found in days if found >= self._asked)


def _capital(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}"


def _each(value: Any, change: Callable[[str], str]) -> Any:
    """Every text within a value, changed."""
    if isinstance(value, str):
        return change(value)
    if isinstance(value, dict):
        return {key: _each(item, change) for key, item in value.items()}
    return [_each(item, change) for item in value] if isinstance(value, list | tuple) else value
