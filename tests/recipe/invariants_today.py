"""What must hold of every recipe, of the day on which it is asked: what is due, late, or out of its season.

Functions from one met lot to the faults it shows, as in `invariants`, which gathers them. Each would have
caught a cause that readers who knew the page alone had found. What is planted stands below.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date, timedelta
from typing import Any

from meeting import Met
from msgspec.structs import replace

from coldspell.arithmetic.seasons import season_month
from coldspell.plan.plan import Plan
from coldspell.records.do import OPENING
from coldspell.write.recipe import Recipe

Faults = list[str]
Change = Callable[[Plan, Recipe], tuple[Plan, Recipe]]


def _month(day: date, met: Met) -> int:
    """The month of a day as the north counts it."""
    return season_month(day.month, met.plan.lot.southern)


def _unresting(met: Met) -> bool:
    """Whether no step of any treatment on record holds the kind back, and its root does not come first."""
    treatments = met.knowledge.treatments()
    plain = {"sow", "soak", "light", "dark", "clean"}
    if not treatments or any(s.do not in plain or s.outdoors for t, _ in treatments for s in t.steps):
        return False
    return met.plan.decisions.facts["root_first"] == "no"


_NEXT_SEASON = re.compile(r"come up in spring|Firm and pale, wait|where the winter reaches them")


def what_rests_not_is_up_within_weeks(met: Met) -> Faults:
    """Of what waits for nothing, sown in spring or early summer, no season is waited for."""
    lot = met.plan.lot
    if lot.sown is None or not _unresting(met) or not 4 <= _month(lot.sown, met) <= 6:
        return []
    if met.knowledge.record.plant not in ("annual",) and met.recipe.route == "already_sown":
        texts = (met.recipe.verdict.sentence,)  # what rests in no record may still be slow
    else:
        texts = met.sentences
    late = _month(met.today, met) > 8 or (met.today - lot.sown).days > _SLOW
    if late or met.plan.decisions.facts["autumn_sown"] == "yes":
        return []
    return [f"“{m[0]}”, sown {lot.sown}" for m in map(_NEXT_SEASON.search, texts) if m]


_SLOW = 60


def a_shut_coat_in_the_ground_is_named(met: Met) -> Faults:
    """Of a sown lot that only a hard coat holds back the answer names the coat."""
    chosen, lot = met.plan.decisions.chosen, met.plan.lot
    if chosen is None or lot.sown is None or met.said.get("swollen") == "yes":
        return []
    steps = [s.do for s in chosen.candidate.treatment.steps]
    alone = any(do in OPENING for do in steps) and chosen.candidate.shape in ("scarify", "heat")
    warm = met.plan.decisions.facts["chilling_injures"] == "yes"
    if not alone or warm or "coat" in met.recipe.verdict.sentence:
        return []
    return [f"“{met.recipe.verdict.sentence[:60]}” of a hard coat"]


def nothing_stands_in_winter_when_winter_is_over(met: Met) -> Faults:
    """In the growing season no pot is brought into a winter that it does not wait for."""
    up = met.plan.up
    if met.plan.lot.sown is None or up is None or (up.up - met.today) > timedelta(days=_SLOW):
        return []
    if not 4 <= _month(met.today, met) <= 8:
        return []
    return [f"“{m[0]}”" for m in map(_POTS_OUT.search, met.sentences) if m]


_POTS_OUT = re.compile(r"where the winter reaches them")


TODAY: dict[str, Callable[[Met], Faults]] = {
    holds.__name__: holds
    for holds in (
        what_rests_not_is_up_within_weeks,
        a_shut_coat_in_the_ground_is_named,
        nothing_stands_in_winter_when_winter_is_over,
    )
}


def answered(text: str) -> Change:
    """The recipe with another answer."""
    return lambda plan, recipe: (
        plan,
        replace(recipe, verdict=replace(recipe.verdict, sentence=text)),
    )


def done(text: str) -> Change:
    """The recipe with a further sentence in its last step."""
    return lambda plan, recipe: (
        plan,
        replace(recipe, steps=(*recipe.steps[:-1], replace(recipe.steps[-1], text=text))),
    )


PLANTED: list[tuple[str, str, dict[str, Any], date, Change]] = [
    (
        "what_rests_not_is_up_within_weeks",
        "Raphanus sativus",
        {"sown": "2027-04-21"},
        date(2027, 4, 25),
        done("Bare still? Firm and pale, wait."),
    ),
    (
        "a_shut_coat_in_the_ground_is_named",
        "Robinia pseudoacacia",
        {"sown": "2027-04-20"},
        date(2027, 4, 25),
        answered("Leave them where they are."),
    ),
    (
        "nothing_stands_in_winter_when_winter_is_over",
        "Robinia pseudoacacia",
        {"sown": "2027-04-20"},
        date(2027, 4, 25),
        done("Pots stand where the winter reaches them."),
    ),
]
