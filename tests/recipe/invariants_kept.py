"""What must hold of every recipe by how its seed is kept until it is sown: what dies green, what never dries.

Functions from one met lot to the faults it shows, as in `invariants`, which gathers them. Each would have
caught a cause that readers who knew the page alone had found; each has a fault that is planted for it.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date, timedelta
from typing import Any

from meeting import Met
from msgspec.structs import replace
from planted_winter import Change, later, noted

from coldspell.plan.plan import Plan
from coldspell.write.recipe import Recipe

Faults = list[str]

_SHORT = re.compile(r"short-lived, days|days to weeks|live a week or two")


def what_lives_for_weeks_is_sown_now(met: Met) -> Faults:
    """What its record gives weeks, in years or in words, and no rest, does not wait for a season."""
    if met.recipe.does.page != "plan" or met.plan.decisions.facts["shape"] not in ("sow", "soak_and_sow"):
        return []
    if met.plan.lot.sow or met.plan.lot.last_frost:
        return []
    storage = met.knowledge.value("storage")
    weeks = storage is not None and storage.years is not None and storage.years.high <= _MONTHS
    words = any(_SHORT.search(treatment.because or "") for treatment, _ in met.knowledge.treatments())
    first = met.plan.decisions.schedule.first
    sown = [date.fromisoformat(s.start) for s in met.recipe.steps if s.do == "sow" and s.start]
    late = [day for day in sown if day - first > timedelta(days=14)]
    return [f"sown {day}, asked {met.today}" for day in late if weeks or words]


_MONTHS = 0.25
"""Years: what keeps no longer than a season of store is sown at once (common practice)."""


def spores_are_not_counted(met: Met) -> Faults:
    """Nobody promises a number of plants of so many spores."""
    plants = met.recipe.expectation.plants if met.recipe.expectation else None
    spores = met.knowledge.record.unit == "spore" and not met.plan.lot.rooted
    return [f"{plants} plants of spores"] if spores and plants is not None else []


_DRIED = re.compile(r"until it is dry, then keep|dry off thinly spread")
_NEVER = re.compile(r"\b(?:[Nn]ever dr(?:y|ied)|not dried|do not dry|[Uu]ndried)\b(?! (?:it|them) again)")


def nothing_is_dried_that_is_never_dried(met: Met) -> Faults:
    """No step dries the seed to keep it where another, by the record's own words, has it never dried."""
    dried = [m[0] for s in met.recipe.steps if (m := _DRIED.search(s.text))]
    # what is sown in wet ground is never to dry: that is said of the ground, not of the seed
    never = [m[0] for s in met.recipe.steps if s.do != "sow" and (m := _NEVER.search(s.text))]
    return [f"“{dried[0]}” and “{never[0]}”"] if dried and never else []


_WARM_FIRST = ("warm_then_cold", "scarify_then_warm_cold", "repeated")


def nothing_damp_for_months_is_dried_for_its_warmth(met: Met) -> Faults:
    """Seed said never to have dried months after it was shed is not dried till the warmth that it wants."""
    facts, lot = met.plan.decisions.facts, met.plan.lot
    months = facts["kept_months"]
    damp = met.said.get("moisture") == "fresh" and isinstance(months, (int, float)) and months > 2
    if not damp or lot.lain_moist or lot.winter == "none" or lot.sown or facts["shape"] not in _WARM_FIRST:
        return []
    if facts["autumn"] == "now" or lot.gathered == "green" or lot.shell == "husk" or lot.pulp == "yes":
        return []  # the winter is still to come, or it is cleaned first
    dried = [s for s in met.recipe.steps if _DRIED.search(s.text) and s.start and s.end]
    days = [(date.fromisoformat(s.end or "") - date.fromisoformat(s.start or "")).days for s in dried]
    return [f"dried for {each} days after {months:g} months" for each in days if each > _HALF_YEAR]


_HALF_YEAR = 120
"""Days: a shorter wait is no winter and no summer."""



_IN_HAND = re.compile(r"keep moist seed damp and dry seed dry")


def a_question_about_a_pot_leaves_it(met: Met) -> Faults:
    """Where the kind has to be asked first and the lot is sown, it is left, and not kept as seed in hand."""
    if met.recipe.does.page != "question" or met.plan.lot.sown is None:
        return []
    left = "Leave" in met.recipe.verdict.sentence
    found = [] if left else ["nothing is said of the pot"]
    return [*found, *(f"“{m[0]}” of what is sown" for m in [_IN_HAND.search(met.page)] if m)]


_BROADCAST = re.compile(r"[Bb]roadcast[^.]*mixed with")


def large_seed_is_laid_one_by_one(met: Met) -> Faults:
    """Seed that is laid one by one is not broadcast with sand, however much there is of it."""
    if met.plan.decisions.facts["size"] != "large":
        return []
    return [f"“{m[0]}”" for s in met.recipe.steps if s.do == "sow" and (m := _BROADCAST.search(s.text))]


_COLD_NOW = re.compile(r"to the cold now, moist at (?:\d+–)?(\d+) °C")


def the_cold_of_a_root_is_cold(met: Met) -> Faults:
    """What has rooted and is moved to the cold comes below ten degrees, not into the cool before it."""
    found = [m for m in map(_COLD_NOW.search, met.sentences) if m]
    cold = any(s.do == "cold_moist" for s in met.recipe.steps)
    return [f"“{m[0]}”" for m in found if cold and int(m[1]) > 10]


KEPT: dict[str, Callable[[Met], Faults]] = {
    holds.__name__: holds
    for holds in (
        what_lives_for_weeks_is_sown_now,
        spores_are_not_counted,
        nothing_is_dried_that_is_never_dried,
        nothing_damp_for_months_is_dried_for_its_warmth,
        a_question_about_a_pot_leaves_it,
        large_seed_is_laid_one_by_one,
        the_cold_of_a_root_is_cold,
    )
}


# --- planted ------------------------------------------------------------------------------------------------


def _counted(plan: Plan, recipe: Recipe) -> tuple[Plan, Recipe]:
    assert recipe.expectation is not None
    return plan, replace(recipe, expectation=replace(recipe.expectation, plants=(2, 6, 10)))


def _stepped(text: str) -> Change:
    """The recipe with one more step of these words."""

    def said(plan: Plan, recipe: Recipe) -> tuple[Plan, Recipe]:
        step = replace(recipe.steps[0], do="note", text=text, start="2026-02-24", end="2026-09-17")
        return plan, replace(recipe, steps=(*recipe.steps, step))

    return said


def _broadcast(plan: Plan, recipe: Recipe) -> tuple[Plan, Recipe]:
    step = replace(recipe.steps[-1], do="sow", text="Broadcast them thinly, mixed with sand.")
    return plan, replace(recipe, steps=(*recipe.steps, step))


def _unsaid(plan: Plan, recipe: Recipe) -> tuple[Plan, Recipe]:
    return plan, replace(recipe, verdict=replace(recipe.verdict, sentence="It depends on the species."))


_SPREAD = "Spread it thinly in an airy, shady place until it is dry, then keep it airtight and cool."

PLANTED: list[tuple[str, str, dict[str, Any], date, Change]] = [
    ("what_lives_for_weeks_is_sown_now", "Osmunda regalis", {}, date(2027, 1, 28), later(77)),
    ("spores_are_not_counted", "Dryopteris filix-mas", {}, date(2027, 1, 28), _counted),
    (
        "nothing_is_dried_that_is_never_dried",
        "Spartina alterniflora",
        {"moisture": "fresh"},
        date(2026, 11, 3),
        _stepped(_SPREAD),
    ),
    (
        "nothing_damp_for_months_is_dried_for_its_warmth",
        "Euonymus europaeus",
        {"moisture": "fresh"},
        date(2026, 2, 24),
        _stepped(_SPREAD),
    ),
    ("a_question_about_a_pot_leaves_it", "Salvia", {"sown": "2026-12-10"}, date(2027, 6, 28), _unsaid),
    ("large_seed_is_laid_one_by_one", "Durio zibethinus", {"seeds": 20_000}, date(2026, 10, 1), _broadcast),
    (
        "the_cold_of_a_root_is_cold",
        "Galanthus nivalis",
        {"moisture": "dried", "rooted": 1},
        date(2026, 5, 29),
        noted("Pot root down and move to the cold now, moist at 15 °C, not frozen."),
    ),
]
