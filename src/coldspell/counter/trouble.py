"""What is wrong with a lot: questions, one test, keep or throw out, the next look; by tables of rules."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, Literal, get_args

from msgspec import Struct

from coldspell import __version__
from coldspell.arithmetic.calendar import add_days
from coldspell.decide.names.asks import Ask, values_of
from coldspell.decide.names.fields import ColdBrokenFields, TroubleAskFields, TroubleVerdictFields, as_fields
from coldspell.decide.sowing_season import sowing_season
from coldspell.decide.tables import Tables
from coldspell.errors import ColdspellError
from coldspell.library.library import Library
from coldspell.lot.table import FACTS, options, shape_of
from coldspell.plan.plan import Plan
from coldspell.records.do import MOIST
from coldspell.records.model import Step
from coldspell.rules import Firing
from coldspell.write.case import Case
from coldspell.write.recipe_found import Source
from coldspell.write.write import case_of

if TYPE_CHECKING:
    from coldspell.decide.names.closed import BreakCosts
    from coldspell.decide.names.facts import TroubleFacts

Word = Literal["smell", "mould", "sprouts", "dry", "temperature", "grubs", "nothing", "bare"]
WORDS: tuple[Word, ...] = get_args(Word)


class Asked(Struct, frozen=True):
    """A question whose answer changes what is said."""

    text: str
    tells: str
    """The fact of the lot that answers it, by its name in lot files; ``name`` for the species itself."""
    option: str
    """The option that says it, with its choices or unit; empty for the name, which is no option."""


class Trouble(Struct, frozen=True):
    """What to do about a trouble with one lot."""

    schema: Literal[1]
    tool: str
    asked_on: str
    trouble: Word
    name: str
    common_names: tuple[str, ...]
    asks: tuple[Asked, ...]
    """At most three questions, the most telling first; none where the lot says enough."""
    test: str
    """The one test to do now."""
    verdict: str
    """What it is, and what to do about it."""
    keep: Literal["all", "firm", "test", "none"]
    """What is kept: all of it, what is firm, all until a test has decided, nothing."""
    again: str | None
    """The day of the next look (ISO 8601); ``None`` where there is none."""
    rules: tuple[str, ...]
    """The rules that answered, by decision and name."""
    because: str
    sources: tuple[Source, ...]


def trouble(word: str, plan: Plan, library: Library, tables: Tables) -> Trouble:
    """What to do about a trouble with a lot.

    Parameters
    ----------
    word
        One of `WORDS`.
    plan
        The plan of the lot on the day; what the grower said of it decides as it does for the recipe.

    Raises
    ------
    ColdspellError
        There is no such trouble.
    """
    known = refuse_another_word(word)
    told: TroubleFacts = {
        "trouble": known,
        "seed_ready": _ready(plan),
        "sprouts_moist": _sprouts_moist(plan),
        "warm_break": _break_costs(plan, tables),
    }
    facts = {**plan.decisions.all_facts(tables), **values_of(plan.note_facts), **values_of(told)}
    asks, test, verdict = (
        tables.session.decide(ask, facts) for ask in (Ask.TROUBLE_ASK, Ask.TROUBLE_TEST, Ask.TROUBLE_VERDICT)
    )
    case = case_of(plan, library, tables)
    fields = as_fields(TroubleVerdictFields, verdict.fields)
    firings = (*asks.firings, *test.firings, *verdict.firings)
    record = plan.decisions.knowledge.record
    return Trouble(
        schema=1,
        tool=f"coldspell {__version__}",
        asked_on=plan.today.isoformat(),
        trouble=known,
        name=record.name,
        common_names=tuple(record.common_names.get("en", ())),
        asks=tuple(_asked(case, firing) for firing in asks.firings),
        test=case.says(test.firings[0]),
        verdict=case.says(verdict.firings[0]),
        keep=fields.keep,
        again=_iso(_again(fields.again, plan, tables)),
        rules=tuple(f"{f.decision}: {f.rule}" for f in firings),
        because=verdict.firings[0].because,
        sources=_sources(case, firings),
    )


def _break_costs(plan: Plan, tables: Tables) -> BreakCosts:
    """What a break costs, whether or not days of cold were told."""
    decided = tables.session.decide(Ask.COLD_BROKEN, {"break_days": plan.lot.cold_break_days})
    return as_fields(ColdBrokenFields, decided.fields).costs


def refuse_another_word(word: str) -> Word:
    """The word for a trouble; raises where there is no such trouble."""
    known = next((one for one in WORDS if one == word), None)
    if known is None:
        raise ColdspellError(f"no trouble is called {word!r}", mend=f"one of: {', '.join(WORDS)}")
    return known


def _ready(plan: Plan) -> Literal["yes", "no", "unknown"]:
    """Whether the moist days of the treatment are behind it."""
    decisions = plan.decisions
    if decisions.chosen is None or not decisions.schedule.plan.steps:
        return "unknown"
    longest = sum(step.days.high for step in _moist(plan) if step.days)
    had = plan.lot.cold_days_done + plan.lot.warm_days_done
    return "yes" if decisions.schedule.plan.ready <= plan.today or had >= longest else "no"


def _sprouts_moist(plan: Plan) -> Literal["yes", "no"]:
    """Whether its record has it sprout before it is sown."""
    moist = _moist(plan)
    return "yes" if moist and moist[-1].until != "ready" else "no"


def _moist(plan: Plan) -> list[Step]:
    """The moist steps of the chosen treatment as it stands in the record, those behind the lot too."""
    chosen = plan.decisions.chosen
    name = chosen.candidate.treatment.name if chosen else None
    whole = (t for t, _ in plan.decisions.knowledge.treatments() if t.name == name)
    return [step for treatment in whole for step in treatment.steps if step.do in MOIST]


def _asked(case: Case, firing: Firing) -> Asked:
    tells = as_fields(TroubleAskFields, firing.fields).tells
    if tells == "name":
        return Asked(case.says(firing), tells, "")
    fact = FACTS[tells]
    choices = "|".join(word for word in fact.words if word != "unknown") or shape_of(fact)
    return Asked(case.says(firing), tells, f"{options(fact)[0]} {choices}")


def _again(word: str, plan: Plan, tables: Tables) -> date | None:
    """The day of the next look."""
    practice, today = tables.practice, plan.today
    if word == "never":
        return None
    if word == "season":
        season = sowing_season(practice, plan.lot)
        return season.day_for(add_days(today, int(practice.trouble_month_days)))
    if word == "plan":
        days = [*plan.looks.dates, *([plan.sowing_day] if plan.sowing_day else [])]
        usual = add_days(today, int(practice.look_every_days))
        return min((day for day in days if day > today), default=usual)
    days_on = {
        "today": 0,
        "soon": practice.trouble_soon_days,
        "week": practice.look_weekly_days,
        "fortnight": practice.look_every_days,
        "month": practice.trouble_month_days,
    }
    return add_days(today, int(days_on[word]))


def _sources(case: Case, firings: tuple[Firing, ...]) -> tuple[Source, ...]:
    case.footnotes.of_rules(firings)
    return case.footnotes.all()


def _iso(day: date | None) -> str | None:
    return None if day is None else day.isoformat()
