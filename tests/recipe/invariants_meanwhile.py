"""What must hold of every recipe, of the time while seed lies or stands: what keeps it, how late, how long.

Functions from one met lot to the faults it shows, as in `invariants`, which gathers them; the faults that
are planted for them stand below.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date, datetime
from typing import Any

from meeting import Met
from msgspec.structs import replace

from coldspell.plan.plan import Plan
from coldspell.records.do import COLD, MOIST
from coldspell.write.recipe import Recipe

Faults = list[str]
Change = Callable[[Plan, Recipe], tuple[Plan, Recipe]]


def what_lies_warm_is_not_cooled(met: Met) -> Faults:
    """Seed that is kept warm alone is not held near freezing, and does not sprout in the cold."""
    recipe = met.recipe
    cold = any(step.do in COLD for step in recipe.steps)
    if recipe.does.lies != "warm" or recipe.hold is None or cold:
        return []
    return [f"kept warm, and “{recipe.hold.says}”"] if _CHILLED.search(recipe.hold.says) else []


_CHILLED = re.compile(r"near 0 °C|near freezing|in the cold\b")


def a_late_start_leaves_its_days(met: Met) -> Faults:
    """Begun on the last day that is named, the shortest treatment is still done by the sowing."""
    recipe, dated = met.recipe, met.plan.decisions.schedule
    told = recipe.hold and _BY.search(recipe.hold.says)
    moist = [step for step in recipe.steps if step.do in MOIST and step.days]
    if not told or dated.target is None or not moist:
        return []
    last = datetime.strptime(told[1], "%d %B %Y").date()
    least = sum(step.days[0] for step in moist if step.days)
    left = (dated.target - last).days
    return [f"{told[0]}: {left} days left of {least:g}"] if left < least else []


_BY = re.compile(r"Start by (\d+ \w+ \d+)")


def none_is_given_up_that_a_winter_may_bring(met: Met) -> Faults:
    """Where cold that helps was left out nobody sows anew: the winter that comes is that cold."""
    recipe, plant = met.recipe, met.knowledge.record.plant
    if met.plan.decisions.facts.get("left_out") != "yes" or plant == "annual":
        return []
    return [f"“{row.then_do}”" for row in recipe.what_if if "sow anew" in row.then_do]


def no_second_spring_for_what_had_its_root(met: Met) -> Faults:
    """What has sprouted comes up within weeks or is dead; it falls into no rest."""
    lot = met.plan.lot
    if not lot.mostly_rooted or met.recipe.does.lies not in ("pot", "cold_pot"):
        return []
    told = [row.then_do for row in met.recipe.what_if if "BARE" in row.look_for]
    told += [met.recipe.sowing.warmth] if met.recipe.sowing and met.recipe.sowing.warmth else []
    return [f"rooted, and “{text}”" for text in told if _RESTS.search(text)]


def one_seed_has_no_others(met: Met) -> Faults:
    """Of a single seed nothing is said of others."""
    if met.plan.lot.seeds > 1:
        return []
    told = [row.then_do for row in met.recipe.what_if]
    return [f"one seed, and “{text}”" for text in told if re.search(r"\b[Tt]he others\b", text)]


_RESTS = re.compile(r"second spring|wait a year|back to rest")


def a_foul_lot_is_not_promised(met: Met) -> Faults:
    """Of a lot that smells of rot and was not cut nobody knows how much lives, but for what shows a root.

    Where most have rooted the plants are reckoned from the roots, which somebody counted.
    """
    expect, lot = met.recipe.expectation, met.plan.lot
    if met.said.get("smell") != "rotten" or met.said.get("cut") or expect is None or expect.plants is None:
        return []
    counted = lot.mostly_rooted and expect.plants[2] <= lot.rooted
    return [] if counted else [f"smells of rot, and {expect.plants} plants"]


MEANWHILE: dict[str, Callable[[Met], Faults]] = {
    holds.__name__: holds
    for holds in (
        what_lies_warm_is_not_cooled,
        a_late_start_leaves_its_days,
        none_is_given_up_that_a_winter_may_bring,
        no_second_spring_for_what_had_its_root,
        a_foul_lot_is_not_promised,
        one_seed_has_no_others,
    )
}


def _holds(text: str) -> Change:
    """The recipe with another word on how long it may wait."""

    def said(plan: Plan, recipe: Recipe) -> tuple[Plan, Recipe]:
        assert recipe.hold is not None
        return plan, replace(recipe, hold=replace(recipe.hold, says=text))

    return said


def _bare(text: str) -> Change:
    """The recipe with another word on pots that stay bare."""

    def said(plan: Plan, recipe: Recipe) -> tuple[Plan, Recipe]:
        rows = (replace(w, then_do=text) if "BARE" in w.look_for else w for w in recipe.what_if)
        return plan, replace(recipe, what_if=tuple(rows))

    return said


def _promised(plan: Plan, recipe: Recipe) -> tuple[Plan, Recipe]:
    assert recipe.expectation is not None
    return plan, replace(recipe, expectation=replace(recipe.expectation, plants=(1, 2, 3)))


DAY = date(2026, 11, 25)
PLANTED: list[tuple[str, str, dict[str, Any], date, Change]] = [
    (
        "what_lies_warm_is_not_cooled",
        "Viburnum rufidulum",
        {"moisture": "fresh"},
        DAY,
        _holds("Some weeks, as near 0 °C as you can."),
    ),
    (
        "a_late_start_leaves_its_days",
        "Asclepias syriaca",
        {"moisture": "dried"},
        DAY,
        _holds("Start by 20 March 2027 at the latest."),
    ),
    (
        "none_is_given_up_that_a_winter_may_bring",
        "Spiraea alba",
        {"moisture": "dried", "sow": "2027-04-15"},
        date(2027, 6, 15),
        _bare("Bare on 14 August 2027, sow anew."),
    ),
    (
        "no_second_spring_for_what_had_its_root",
        "Cercis canadensis",
        {"rooted": 35},
        date(2027, 5, 20),
        _bare("Bare on 1 July 2027, wait a year."),
    ),
    (
        "one_seed_has_no_others",
        "Prunus persica",
        {"moisture": "dried", "seeds": 1},
        DAY,
        _bare("Bare on 14 July 2027, the others wait."),
    ),
    (
        "a_foul_lot_is_not_promised",
        "Primula veris",
        {"moisture": "fresh", "smell": "rotten"},
        DAY,
        _promised,
    ),
]
