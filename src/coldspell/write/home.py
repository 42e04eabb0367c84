"""Words for the one temperature of a home refrigerator."""

from __future__ import annotations

from typing import TYPE_CHECKING

from coldspell.decide.home import days_at_home
from coldspell.decide.names.asks import Ask
from coldspell.decide.names.fields import MediumFields
from coldspell.decide.practice import Practice
from coldspell.plan.plan import Plan
from coldspell.records.model import Quantity, Step
from coldspell.texts import Texts
from coldspell.write.units import Units, spelled_days

if TYPE_CHECKING:
    from coldspell.decide.names.words import HomeWords


def at_home(plan: Plan, practice: Practice) -> Quantity | None:
    """The one temperature of the grower's refrigerator, where the lot lies in it and most of a day counts."""
    decisions, celsius = plan.decisions, plan.lot.fridge_celsius
    share, medium = decisions.facts["cold_share"], decisions.fields(Ask.MEDIUM, MediumFields)
    if celsius is None or share is None or share < practice.counts_share or medium is None:
        return None
    return None if medium.holder == "pit" or decisions.route.lies != "cold" else Quantity(celsius, celsius)


def home_words(plan: Plan, units: Units, texts: Texts) -> HomeWords:
    """The temperature of the refrigerator, how much of a day counts, and what the cold is on record."""
    fridge, share = plan.lot.fridge_celsius, plan.decisions.facts["cold_share"]
    return {
        "fridge": "" if fridge is None else units.temperature(fridge),
        "share": "" if share is None else texts.say("share", percent=f"{share:.0f}"),
        "cold_on_record": _cold(plan, 1.0),
        "days_at_home": _cold(plan, plan.decisions.cold_times),
    }


def home_length(plan: Plan, step: Step, texts: Texts) -> str:
    """How long a step lasts; where the refrigerator makes it longer, the days on record too."""
    days = days_at_home(step, plan.decisions.cold_times)
    if days is None or step.days is None:
        return ""
    if days == step.days:
        return spelled_days(days)
    return texts.say("length_at_home", length=spelled_days(days), record=spelled_days(step.days))


def _cold(plan: Plan, times: float) -> str:
    """How long the spells of moist cold last in all."""
    chosen = plan.decisions.chosen
    steps = chosen.candidate.treatment.steps if chosen else ()
    spans = [days for s in steps if s.do == "cold_moist" and (days := days_at_home(s, times)) is not None]
    return spelled_days((sum(s.low for s in spans), sum(s.high for s in spans))) if spans else ""
