"""The day by which sown pots should not be bare any more."""

from __future__ import annotations

from datetime import date

from coldspell.arithmetic.calendar import add_days
from coldspell.decide.names.asks import Ask
from coldspell.decide.names.fields import BareFields
from coldspell.decide.practice import Practice
from coldspell.plan.plan import Plan


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
    return {"quick": practice.bare_quick_days, "slow": practice.late_up_days}.get(waits, practice.bare_days)
