"""Words on sowing: how warm the record has it sown, and the day by which pots should not be bare any more."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from coldspell.arithmetic.calendar import add_days
from coldspell.decide.home import days_at_home
from coldspell.decide.knowledge import Knowledge
from coldspell.decide.names.asks import Ask
from coldspell.decide.names.fields import BareFields
from coldspell.decide.practice import Practice
from coldspell.decide.schedule import outdoor_day
from coldspell.plan.plan import Plan
from coldspell.records.do import MOIST
from coldspell.records.model import Step
from coldspell.texts import Texts
from coldspell.write.units import Units, spelled_date


def sown_at(steps: Iterable[Step], units: Units, texts: Texts) -> str:
    """The degrees at which a treatment is sown, by day and by night; empty where its record gives none."""
    sown = next((step for step in steps if step.do == "sow" and step.celsius), None)
    if sown is None or sown.celsius is None:
        return ""
    day = units.temperature(sown.celsius)
    if sown.celsius_night is None:
        return day
    return texts.say("day_and_night", day=day, night=units.temperature(sown.celsius_night))


def coolest(knowledge: Knowledge, units: Units) -> str:
    """The coolest soil in which it comes up well; empty where its record gives none."""
    sowing = knowledge.value("sowing")
    return units.temperature(sowing.celsius_min) if sowing and sowing.celsius_min else ""


def warmest(knowledge: Knowledge, practice: Practice, units: Units) -> str:
    """The warmest soil for sowing: that of the record, or of common practice for chilled seed."""
    sowing = knowledge.value("sowing")
    return units.temperature((sowing and sowing.celsius_max) or practice.sow_cool_celsius)


def bare_day(plan: Plan, sown: date, practice: Practice) -> date:
    """The day on which what is sown on a day should show; what comes with the spring has until summer."""
    if plan.up is not None and plan.up.spring:
        return plan.up.failed
    told = plan.decisions.fields(Ask.BARE, BareFields)
    return add_days(sown, int(_days(told, plan, practice)))


def _days(told: BareFields | None, plan: Plan, practice: Practice) -> float:
    """Days that the rules give it, from those on record where they say so."""
    waits = "usual" if told is None else told.waits
    knowledge, least = plan.decisions.knowledge, practice.bare_least_days
    soil, tests = knowledge.value("emergence"), knowledge.value("germination")
    in_soil, in_tests = practice.bare_times
    if waits == "soil" and soil is not None and soil.days is not None:
        return float(max(least, in_soil * soil.days.high))
    if waits == "tests" and tests is not None and tests.days is not None:
        return float(max(least, in_tests * tests.days.high))
    if waits == "tests_season" and tests is not None and tests.days is not None:
        high = tests.days.high
        return float(max(least, high, min(in_tests * high, practice.bare_quick_days)))
    days = {"weeks": least, "quick": practice.bare_quick_days, "slow": practice.late_up_days}
    return days.get(waits, practice.bare_days)


def outdoors_when(plan: Plan, texts: Texts) -> str:
    """Where and when a lot that is tested first is sown outdoors; empty where it is not sown there."""
    chosen, dated = plan.decisions.chosen, plan.decisions.schedule
    if chosen is None or not chosen.candidate.outdoor_sowing:
        return ""
    day = outdoor_day(plan.lot, dated.first, chosen.season)
    when = texts.say("start_now") if day <= dated.first else texts.say("sow_on", day=spelled_date(day))
    return texts.say("short_sow_outdoors", when=when)


def start_late(plan: Plan, practice: Practice, texts: Texts) -> str:
    """By when a treatment has to start at its shortest, for the day to sow; empty where none is dated."""
    chosen, dated = plan.decisions.chosen, plan.decisions.schedule
    moist = [s for s in chosen.candidate.treatment.steps if s.do in MOIST] if chosen else []
    if dated.target is None or not moist or plan.decisions.route.steps != "whole":
        return ""
    least = sum((min(s.least_end, s.end) - s.start).days for s in dated.plan.steps)
    times = plan.decisions.cold_times
    at_home = [days_at_home(step, times) for step in moist]  # a warm refrigerator takes longer
    helps = sum(days.low for days in at_home if days)  # what only helps is not meant to be left out
    last = add_days(dated.target, -int(max(least, helps)))
    start = max(plan.begins or dated.plan.start, dated.first)
    if (last - start).days < practice.look_weekly_days:
        return texts.say("start_moves")
    text = "start_moves_after" if sow_late(plan, practice, texts) else "start_by"
    return texts.say(text, day=spelled_date(last))


def sow_late(plan: Plan, practice: Practice, texts: Texts) -> str:
    """The day on which its season closes; empty where it lies no weeks after the day to sow."""
    dated = plan.decisions.schedule
    if dated.target is None or dated.season is None:
        return ""
    if dated.season.day_for(dated.target) != dated.target:
        return ""  # a day of the grower's own, outside the season
    close = dated.season.last_for(dated.target)
    late = (close - dated.target).days >= practice.look_every_days
    return texts.say("sow_by", day=spelled_date(close)) if late else ""
