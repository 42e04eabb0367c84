"""Which facts of a lot, if they were told, would change its answer most: what to ask the caller."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator
from typing import Any

from msgspec import Struct

from coldspell.decide.names.asks import Ask
from coldspell.decide.names.fields import CallerFields, as_fields
from coldspell.decide.practice import Practice
from coldspell.decide.tables import Tables
from coldspell.errors import ColdspellError
from coldspell.lot.table import FACTS, LotFact, options, shape_of
from coldspell.plan.plan import Plan


class Leads(Struct, frozen=True):
    """One answer to the question which species it is."""

    answer: str
    names: tuple[str, ...]
    """The records that it leads to: the names to ask with again."""


class Question(Struct, frozen=True):
    """A fact to ask for, or which species of its genus it is."""

    text: str
    tells: str
    """The fact, by its name in lot files; ``name`` for the species itself."""
    option: str
    """The option that says it, with its choices or unit; empty for the name, which is no option."""
    changes: int
    """How many of the words that were tried change the answer."""
    tried: int
    answers: tuple[Leads, ...] = ()
    """What can be answered to the question which species it is; empty for a fact."""


def questions(
    plan_of: Callable[..., Plan], said: Collection[str], tables: Tables, most: int = 3
) -> list[Question]:
    """What changes the answer most: which species it is, where that decides; then the facts not yet said.

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
    practice = tables.practice
    odds = dict(zip(("often", "now_and_then", "seldom"), practice.caller_odds, strict=True))
    ranked = []
    for firing in tables.session.decide(Ask.CALLER, now.decisions.all_facts(tables)).firings:
        fields = as_fields(CallerFields, firing.fields)
        fact = FACTS[fields.tells]
        if fact.name in said:
            continue
        changed = [_difference(now, plan, practice) for plan in _tried(plan_of, fact, now, practice)]
        if any(changed):
            weight = odds[fields.odds]
            question = _question(fact, changed, firing.says)
            ranked.append((weight * max(changed), weight * sum(changed), question))
    ranked.sort(key=lambda one: one[:2], reverse=True)
    return [*_which(now), *(question for *_, question in ranked)][:most]


def _which(now: Plan) -> list[Question]:
    """The question which species it is, where that is the answer to the lot: each answer changes it."""
    asks = now.decisions.knowledge.asks
    if asks is None or now.decisions.route.page != "question":
        return []
    answers = tuple(Leads(one.if_, one.then) for one in asks.answers)
    return [Question(asks.question, "name", "", len(answers), len(answers), answers)]


def _tried(plan_of: Callable[..., Plan], fact: LotFact, now: Plan, practice: Practice) -> Iterator[Plan]:
    """The plan with each word of a fact; what cannot be said of this lot is left out."""
    words: tuple[Any, ...] = tuple(word for word in fact.words if word != "unknown")
    numbers: dict[str, tuple[Any, ...]] = {
        "days_dry": practice.caller_days_dry,
        "stored_years": (practice.caller_stored_years,),
        "cold_days_done": (practice.caller_cold_days,),
        "rooted": (max(1, now.lot.seeds // 2),),
    }
    values = words or numbers.get(fact.name, ())
    for value in values:
        try:
            yield plan_of(**{fact.name: value})
        except ColdspellError:
            continue


def _difference(one: Plan, other: Plan, practice: Practice) -> float:
    """How far two plans differ: another way, a doubt or the end of one, another treatment, other dates."""
    a, b = one.decisions, other.decisions
    names = [d.chosen.candidate.treatment.name if d.chosen else "" for d in (a, b)]
    return (
        practice.caller_way_weight * (one.route != other.route)
        + practice.caller_doubt_weight * (a.answer(Ask.ALIVE) != b.answer(Ask.ALIVE))
        + practice.caller_treatment_weight * (names[0] != names[1])
        + practice.caller_day_weight * (_moved(one, other, practice) or _first(one) != _first(other))
    )


def _moved(one: Plan, other: Plan, practice: Practice) -> bool:
    a, b = one.sowing_day, other.sowing_day
    if a is None or b is None:
        return a is not b
    return abs((a - b).days) > practice.caller_moved_days


def _first(plan: Plan) -> str:
    return plan.steps[0].do if plan.steps else ""


def _question(fact: LotFact, changed: list[float], text: str) -> Question:
    choices = "|".join(word for word in fact.words if word != "unknown") or shape_of(fact)
    return Question(text, fact.name, f"{options(fact)[0]} {choices}", sum(map(bool, changed)), len(changed))
