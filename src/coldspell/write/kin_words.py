"""Words for seed of which no record tells, and for trials."""

from __future__ import annotations

from typing import TYPE_CHECKING

from coldspell.decide.practice import Practice
from coldspell.plan.plan import Plan
from coldspell.texts import Texts
from coldspell.write.units import Units, number, spelled_days

if TYPE_CHECKING:
    from coldspell.decide.names.words import TrialWords

_NAMES = 4
"""Relatives that are named in a sentence."""


def kin_words(plan: Plan, practice: Practice, texts: Texts, units: Units) -> TrialWords:
    """Words for seed of which no record tells, and for trials."""
    seeds, degrees = plan.lot.seeds, units.temperature
    return {
        "kin_names": _listed([r.name for r in plan.decisions.knowledge.relatives], texts),
        "kept_back": number(max(1, seeds // int(practice.keep_back_share))),
        "kin_cold_days": spelled_days(practice.kin_cold_least_days),
        "trial_warm": degrees(practice.trial_warm_celsius),
        "trial_cold": degrees(practice.trial_cold_celsius),
        "warm_country": degrees(practice.warm_country_celsius),
        "trial_seeds": number(seeds),
    }


def _listed(names: list[str], texts: Texts) -> str:
    """Some names, the genus once; of many the first few."""
    shown = [names[0], *(_after_genus(name) for name in names[1:_NAMES])] if names else []
    more = len(names) - len(shown)
    text = ", ".join(shown)
    return texts.say("and_more", names=text, more=more) if more else text


def _after_genus(name: str) -> str:
    genus, _, rest = name.removeprefix("× ").partition(" ")
    return f"{genus[0]}. {rest}"
