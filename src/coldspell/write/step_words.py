"""Words for one step of a treatment."""

from __future__ import annotations

from typing import TYPE_CHECKING

from coldspell.decide.practice import Practice
from coldspell.plan.plan import Plan
from coldspell.records.model import Quantity, Step
from coldspell.texts import Texts
from coldspell.write.home import at_home, home_length
from coldspell.write.units import Units, spelled_hours, spelled_minutes

if TYPE_CHECKING:
    from coldspell.decide.names.words import StepWords

NO_STEP: StepWords = {"how_long": "", "changed": "", "how_warm": "", "substance": ""}
"""Before a step is written."""


def step_words(step: Step, plan: Plan, practice: Practice, texts: Texts, units: Units) -> StepWords:
    """How long, how warm, with what."""
    say = texts.say
    warm = step.celsius or practice.usual_celsius(step.do)
    if step.do == "cold_moist":
        warm = at_home(plan, practice) or warm
    length = ""
    if step.days is not None:
        length = home_length(plan, step, texts)
    elif step.hours is not None:
        length = spelled_hours(step.hours)
    elif step.minutes is not None:
        length = spelled_minutes(step.minutes)
    elif step.hours_light is not None:
        length = say("a_day", hours=spelled_hours(step.hours_light))
    dose = say("dose", span=_span(step.mg_per_l)) if step.mg_per_l else ""
    long_soak = step.hours is not None and step.hours.high > 24
    return {
        "how_long": length,
        "changed": say("changed_daily") if long_soak else "",
        "how_warm": say("how_warm", celsius=units.temperature(warm)) if warm else "",
        "substance": (step.substance or say("as_advised")) + dose,
    }


def _span(span: Quantity) -> str:
    return f"{span.low:g}" if span.low == span.high else f"{span.low:g}–{span.high:g}"
