"""Which facts of a lot, if they were told, would change its answer most: what to ask the caller."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator
from datetime import date
from typing import Any

import msgspec
from msgspec import Struct

from coldspell.decide.names.asks import Ask
from coldspell.decide.names.fields import CallerFields
from coldspell.decide.tables import Tables
from coldspell.errors import ColdspellError
from coldspell.lot.table import FACTS, LotFact, options, shape_of
from coldspell.plan.plan import Plan

_NUMBERS = {"days_dry": (2, 40), "stored_years": (2,), "cold_days_done": (60,)}
"""What is tried of a number: a little and much."""
_ODDS = {"often": 1.0, "now_and_then": 0.5, "seldom": 0.2}
"""How much a change counts, by how often a caller has something to say to the question."""
_MOVED_DAYS = 14


class Question(Struct, frozen=True):
    """A fact to ask for."""

    text: str
    tells: str
    """The fact, by its name in lot files."""
    option: str
    """The option that says it, with its choices or unit."""
    changes: int
    """How many of the words that were tried change the answer."""
    tried: int


def questions(
    plan_of: Callable[..., Plan], said: Collection[str], tables: Tables, most: int = 3
) -> list[Question]:
    """The facts not yet said that change the answer most, the most telling first.

    Parameters
    ----------
    plan_of
        Gives the plan of the lot with further facts; each fact is tried with each of its words.
    said
        What was said of the lot, by the names of lot files.
    tables
        The rules; they say what may be asked.
    most
        At most so many.
    """
    now = plan_of()
    ranked = []
    for firing in tables.session.decide(Ask.CALLER, now.decisions.all_facts(tables)).firings:
        fields = msgspec.convert(firing.fields, CallerFields)
        fact = FACTS[fields.tells]
        if fact.name in said:
            continue
        changed = [_difference(now, plan) for plan in _tried(plan_of, fact, now)]
        if any(changed):
            weight = _ODDS[fields.odds]
            question = _question(fact, changed, firing.says)
            ranked.append((weight * max(changed), weight * sum(changed), question))
    ranked.sort(key=lambda one: one[:2], reverse=True)
    return [question for *_, question in ranked[:most]]


def _tried(plan_of: Callable[..., Plan], fact: LotFact, now: Plan) -> Iterator[Plan]:
    """The plan with each word of a fact; what cannot be said of this lot is left out."""
    words: tuple[Any, ...] = tuple(word for word in fact.words if word != "unknown")
    values = words or _NUMBERS.get(fact.name, ())
    if fact.name == "rooted":
        values = (max(1, now.lot.seeds // 2),)
    for value in values:
        try:
            yield plan_of(**{fact.name: value})
        except ColdspellError:
            continue


def _difference(one: Plan, other: Plan) -> int:
    """How far two plans differ: another way, a doubt or the end of one, another treatment, other dates."""
    a, b = one.decisions, other.decisions
    names = [d.chosen.candidate.treatment.name if d.chosen else "" for d in (a, b)]
    return (
        4 * (one.route != other.route)
        + 3 * (a.answer(Ask.ALIVE) != b.answer(Ask.ALIVE))
        + 2 * (names[0] != names[1])
        + (_moved(one.sowing_day, other.sowing_day) or _first(one) != _first(other))
    )


def _moved(one: date | None, other: date | None) -> bool:
    if one is None or other is None:
        return one is not other
    return abs((one - other).days) > _MOVED_DAYS


def _first(plan: Plan) -> str:
    return plan.steps[0].do if plan.steps else ""


def _question(fact: LotFact, changed: list[int], text: str) -> Question:
    choices = "|".join(word for word in fact.words if word != "unknown") or shape_of(fact)
    return Question(text, fact.name, f"{options(fact)[0]} {choices}", sum(map(bool, changed)), len(changed))
