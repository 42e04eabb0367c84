"""Words for seed of which no record tells, and for trials."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

from coldspell.arithmetic.calendar import add_days
from coldspell.decide.kin import likes_cold, relatives_of
from coldspell.decide.knowledge import Season
from coldspell.decide.practice import Practice
from coldspell.decide.relatives import Relative
from coldspell.decide.schedule import first_day
from coldspell.decide.sowing_season import sowing_season
from coldspell.plan.plan import Plan
from coldspell.texts import Texts
from coldspell.write.units import MONTHS, Units, number, spelled_date, spelled_days

if TYPE_CHECKING:
    from coldspell.decide.names.words import TrialWords

_NAMES = 4
"""Relatives that are named in a sentence."""


def kin_words(plan: Plan, practice: Practice, texts: Texts, units: Units) -> TrialWords:
    """Words for seed of which no record tells, and for trials."""
    seeds, degrees = plan.lot.seeds, units.temperature
    knowledge = plan.decisions.knowledge
    found = relatives_of(knowledge, plan.lot, practice) if not knowledge.on_record else ()
    wintered = [r for r in found if likes_cold(r)]
    share = practice.hedge_half_share if 2 * len(wintered) >= len(found) else practice.keep_back_share
    begins, ends = _hedge(plan, practice, max([practice.kin_cold_least_days, *_usual(wintered)]))
    sown = plan.sowing_day or plan.today
    return {
        "kin_names": _listed([r.name for r in plan.decisions.knowledge.relatives], texts),
        "kept_back": number(max(1, seeds // int(practice.keep_back_share))),
        "kin_cold_days": spelled_days((ends - begins).days),
        "kin_cold_some": texts.say("some_of", some=len(wintered), every=len(found)),
        "hedge_seeds": number(max(1, seeds // int(share))),
        "hedge_from": spelled_date(begins),
        "hedge_to": spelled_date(ends),
        "back_until": spelled_date(add_days(sown, int(practice.bare_days))),
        "trial_warm": degrees(practice.trial_warm_celsius),
        "trial_cold": degrees(practice.trial_cold_celsius),
        "warm_country": degrees(practice.warm_country_celsius),
        "trial_seeds": number(seeds),
        **_of_season(knowledge.season),  # type: ignore[typeddict-item]
    }


def _of_season(season: Season | None) -> dict[str, str]:
    """Words of a mixed genus whose question the day of gathering answers."""
    if season is None:
        return {"season_month": "", "season_answer": "", "season_says": ""}
    return {
        "season_month": MONTHS[season.day.month - 1],
        "season_answer": "; ".join(one.if_ for one in season.answers),
        "season_says": " ".join(one.says for one in season.answers if one.says),
    }


def _usual(wintered: Sequence[Relative]) -> list[float]:
    """The usual lengths of the cold that relatives have."""
    return [relative.cold.plan for relative in wintered if relative.cold is not None]


def _hedge(plan: Plan, practice: Practice, days: float) -> tuple[date, date]:
    """From when to when a part has its cold, so that it is over on a day of the sowing season.

    What was shed moist or came moist begins at once, dry seed so late that it can be sown when it is ready.
    """
    lot, first = plan.lot, first_day(plan.lot, plan.today)
    ends = sowing_season(practice, lot).day_for(add_days(first, int(days)))
    moist = lot.lain_moist or plan.decisions.facts["seed_shed"] == "moist"
    return (first if moist else add_days(ends, -int(days))), ends


def _listed(names: list[str], texts: Texts) -> str:
    """Some names, the genus once; of many the first few."""
    shown = [names[0], *(_after_genus(name) for name in names[1:_NAMES])] if names else []
    more = len(names) - len(shown)
    text = ", ".join(shown)
    return texts.say("and_more", names=text, more=more) if more else text


def _after_genus(name: str) -> str:
    genus, _, rest = name.removeprefix("× ").partition(" ")
    return f"{genus[0]}. {rest}"
