"""What must hold of every recipe by how large the lot is and what of it has rooted: the few, the many.

Functions from one met lot to the faults it shows, as in `invariants`, which gathers them. Each would have
caught a cause that readers who knew the page alone had found; each has a fault that is planted for it.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date, datetime
from typing import Any

from meeting import Met
from msgspec.structs import replace
from planted_winter import Change, noted

from coldspell.plan.plan import Plan
from coldspell.write.recipe import Recipe

Faults = list[str]

_CUT = re.compile(r"\b[Cc]ut (?:one|two|a few|some)\b(?! fruit)")


def of_a_few_none_is_cut(met: Met) -> Faults:
    """Of five or fewer none is cut open to see, not even of those that show nothing."""
    if met.plan.lot.seeds > 5 or met.recipe.does.page != "plan":
        return []
    rows = [each.then_do for each in met.recipe.what_if]
    return [f"“{m[0]}” of {met.plan.lot.seeds}" for m in map(_CUT.search, rows) if m]


_UNTIL_SPRING = re.compile(r"at \S+ °C and unfrozen till spring")
_LIGHT = re.compile(r"bright place at [^.]*until spring")


def pots_in_autumn_have_one_place(met: Met) -> Faults:
    """Where pots are said to stand in the light until spring, what roots is not kept cold."""
    light = any(map(_LIGHT.search, (met.recipe.verdict.sentence, *met.recipe.notes)))
    rows = [each.then_do for each in met.recipe.what_if]
    return [f"“{m[0]}” beside a bright place" for m in map(_UNTIL_SPRING.search, rows) if m and light]


_POTS = re.compile(r"take pots|[Ss]ow them (?:now )?in pots|go into pots in a bright place")
_VESSEL = re.compile(r"\b(?:pots?|trays?|cells|boxes|mix|mud)\b")


def pots_and_open_ground_are_not_both_told(met: Met) -> Faults:
    """Where an answer or note has it sown in pots, its sowing step knows of pots or trays."""
    steps = [s.text for s in met.recipe.steps if s.do == "sow"]
    told = [m[0] for m in map(_POTS.search, (met.recipe.verdict.sentence, *met.recipe.notes)) if m]
    ground = steps and not any(map(_VESSEL.search, steps))
    return [f"“{told[0]}” and “{steps[0][:50]}”"] if told and ground else []


_SINGLY = re.compile(r"pot (?:them root down|what roots|each)")


def hundreds_that_root_are_sown_whole(met: Met) -> Faults:
    """Of more than five hundred hardy seeds that have begun to root in the cold none is potted by itself."""
    facts, rooted = met.plan.decisions.facts, met.plan.lot.rooted
    if not 0 < 2 * rooted <= met.plan.lot.seeds or met.plan.lot.seeds <= 500 or facts["tender"] == "yes":
        return []
    if facts["root_first"] == "yes" or facts["spring_far"] == "yes" or facts["growing_now"] == "yes":
        return []
    if met.recipe.does.lies not in ("cold", "as_it_lies"):
        return []
    said = (met.recipe.verdict.sentence, *met.recipe.notes)
    return [f"“{m[0]}” of {met.plan.lot.seeds}" for m in map(_SINGLY.search, said) if m]


def the_rest_of_what_grows_is_sown(met: Met) -> Faults:
    """In the growing season the few that have not rooted are not sent back into the cold."""
    facts = met.plan.decisions.facts
    grows = facts["growing_now"] == "yes" and met.plan.lot.mostly_rooted and facts["root_first"] == "no"
    if not grows or facts["roots_warm"] == "yes":
        return []
    back = [note for note in met.recipe.notes if "stay moist and cold" in note]
    return [f"“{note[:40]}” in the growing season" for note in back]


def no_bed_before_the_sample(met: Met) -> Faults:
    """More than five hundred that are called probably dead get no bed before a sample has shown life."""
    if met.plan.lot.seeds <= 500 or not re.search(r"robably dead, for they die", met.recipe.verdict.sentence):
        return []
    embryo = "embryo has grown" in met.recipe.verdict.sentence  # no paper shows it
    dried = met.plan.lot.moisture == "dried"
    return [f"“{s.text[:50]}”" for s in met.recipe.steps if s.do == "sow" and dried and not embryo]


def annuals_are_sown_anew_in_time(met: Met) -> Faults:
    """Annuals that do not rest are given six weeks in bare soil, or as long as the slowest test took."""
    facts, sowing = met.plan.decisions.facts, met.recipe.sowing
    if facts["plant"] != "annual" or facts["shape"] not in ("sow", "soak_and_sow") or not sowing:
        return []
    if met.recipe.does.sown not in ("first_day", "target") or sowing.date is None:
        return []
    germination, emergence = met.knowledge.value("germination"), met.knowledge.value("emergence")
    if emergence is not None or germination is None or germination.days is None or facts["shows"] != "tests":
        return []
    row = next((w.then_do for w in met.recipe.what_if if "BARE" in w.look_for), "")
    day = re.search(r"Bare on (\d+ \w+ \d+)", row)
    if day is None or (met.plan.up is not None and met.plan.up.spring):
        return []
    waits = (datetime.strptime(day[1], "%d %B %Y").date() - date.fromisoformat(sowing.date)).days
    most = max(42, germination.days.high)
    return [f"{waits} days bare, and {germination.days.high:g} in tests"] if waits > most else []


def what_is_dry_is_wetted(met: Met) -> Faults:
    """Seed that is called dried is not drained for its bag before it was soaked."""
    drained = [s for s in met.recipe.steps if s.text.startswith("Drain and spread")]
    soaked = any(s.do in ("soak", "leach") for s in met.recipe.steps)
    dried = re.search(r", dried\b", met.page.split("Printed")[0])
    return ["dried, drained and never soaked"] if drained and dried and not soaked else []


def what_is_long_in_fruit_is_sown_early(met: Met) -> Faults:
    """Peppers and their like, asked of in autumn and for pots, are sown eight weeks before the last frost."""
    facts, lot, sowing = met.plan.decisions.facts, met.plan.lot, met.recipe.sowing
    if facts["sown_said"] != "early" or lot.grow_in != "container" or lot.seeds > 5000:
        return []
    if lot.sow or lot.last_frost or lot.usual_frost or sowing is None or sowing.date is None:
        return []
    day = date.fromisoformat(sowing.date)
    month = (met.today.month + 5) % 12 + 1 if lot.southern else met.today.month
    late = ((day.month + 5) % 12 + 1 if lot.southern else day.month, day.day) > (3, 20)
    kept = met.recipe.route == "sow_in_season" and month > 7
    return [f"sown {sowing.date}, asked {met.today}"] if kept and late else []


def no_frost_is_feared_in_summer(met: Met) -> Faults:
    """Where seedlings stand outdoors on the day of sowing nobody waits for the end of the frosts."""
    months = (12, 1) if met.plan.lot.southern else (6, 7)
    sowing = met.recipe.sowing
    if sowing is None or sowing.date is None or met.plan.lot.last_frost or met.plan.lot.usual_frost:
        return []
    summer = date.fromisoformat(sowing.date).month in months
    return [f"“{sowing.warmth}” on {sowing.date}"] if summer and _FROSTS.search(sowing.warmth or "") else []


def none_is_tended_that_is_dead(met: Met) -> Faults:
    """Where what has not come up is called dead no step keeps it damp."""
    dead = "has not come by now is dead" in met.recipe.verdict.sentence
    return [f"“{s.text[:40]}” of dead seed" for s in met.recipe.steps if dead and "damp" in s.text]


_FROSTS = re.compile(r"only once frosts are over")

LOTS: dict[str, Callable[[Met], Faults]] = {
    holds.__name__: holds
    for holds in (
        of_a_few_none_is_cut,
        pots_in_autumn_have_one_place,
        pots_and_open_ground_are_not_both_told,
        hundreds_that_root_are_sown_whole,
        the_rest_of_what_grows_is_sown,
        no_bed_before_the_sample,
        annuals_are_sown_anew_in_time,
        what_is_dry_is_wetted,
        what_is_long_in_fruit_is_sown_early,
        no_frost_is_feared_in_summer,
        none_is_tended_that_is_dead,
    )
}


# --- planted ------------------------------------------------------------------------------------------------


def _row(head: str, text: str) -> Change:
    """The recipe with other words in one row of what may happen meanwhile."""

    def said(plan: Plan, recipe: Recipe) -> tuple[Plan, Recipe]:
        rows = (replace(w, then_do=text) if head in w.look_for else w for w in recipe.what_if)
        return plan, replace(recipe, what_if=tuple(rows))

    return said


def _bedded(plan: Plan, recipe: Recipe) -> tuple[Plan, Recipe]:
    return plan, replace(recipe, steps=(*recipe.steps, replace(recipe.steps[0], do="sow")))


def _on(day: str) -> Change:
    """The recipe with its sowing on another day."""

    def said(plan: Plan, recipe: Recipe) -> tuple[Plan, Recipe]:
        assert recipe.sowing is not None
        return plan, replace(recipe, sowing=replace(recipe.sowing, date=day))

    return said


def _dead(plan: Plan, recipe: Recipe) -> tuple[Plan, Recipe]:
    sentence = "They are late: what has not come by now is dead."
    return plan, replace(recipe, verdict=replace(recipe.verdict, sentence=sentence))


def _frosty(plan: Plan, recipe: Recipe) -> tuple[Plan, Recipe]:
    assert recipe.sowing is not None
    warmth = "Indoors and warm; outdoors only once frosts are over."
    return plan, replace(recipe, sowing=replace(recipe.sowing, warmth=warmth))


def _called_dried(plan: Plan, recipe: Recipe) -> tuple[Plan, Recipe]:
    said = {**recipe.lot.said, "cold_break_days": 0}
    return plan, replace(recipe, lot=replace(recipe.lot, said=said))


PLANTED: list[tuple[str, str, dict[str, Any], date, Change]] = [
    (
        "of_a_few_none_is_cut",
        "Viburnum opulus",
        {"moisture": "dried", "seeds": 1},
        date(2027, 6, 15),
        _row("NOTHING", "What has no root stays where it is; cut one to see."),
    ),
    (
        "pots_in_autumn_have_one_place",
        "Chionanthus virginicus",
        {"moisture": "dried", "warm_days_done": 10},
        date(2027, 3, 30),
        _row("ROOTED", "Pot root down, at 1–5 °C and unfrozen till spring."),
    ),
    (
        "pots_and_open_ground_are_not_both_told",
        "Ilex verticillata",
        {"cold_days_done": 200, "grow_in": "site"},
        date(2026, 3, 30),
        noted("Summer is well on when they are sown: take pots."),
    ),
    (
        "hundreds_that_root_are_sown_whole",
        "Acer negundo",
        {"seeds": 2000, "cold_days_done": 15, "rooted": 400},
        date(2027, 1, 20),
        noted("The 400 that have rooted: pot them root down."),
    ),
    (
        "the_rest_of_what_grows_is_sown",
        "Larix laricina",
        {"rooted": 30},
        date(2027, 6, 15),
        noted("Those not yet rooted stay moist and cold."),
    ),
    (
        "no_bed_before_the_sample",
        "Quercus cerris",
        {"moisture": "dried", "seeds": 20_000},
        date(2027, 6, 15),
        _bedded,
    ),
    (
        "annuals_are_sown_anew_in_time",
        "Pisum sativum",
        {"sow": "2028-04-15"},
        date(2027, 6, 15),
        _row("BARE", "Bare on 26 June 2028, sow anew."),
    ),
    (
        "what_is_dry_is_wetted",
        "Cedrus atlantica",
        {"seeds": 289, "moisture": "dried", "cold_break_days": 10},
        date(2026, 11, 12),
        _called_dried,
    ),
    (
        "what_is_long_in_fruit_is_sown_early",
        "Capsicum annuum",
        {"moisture": "dried"},
        date(2026, 8, 20),
        _on("2027-04-15"),
    ),
    (
        "no_frost_is_feared_in_summer",
        "Solanum lycopersicum",
        {"sow": "2027-06-10"},
        date(2027, 5, 20),
        _frosty,
    ),
    (
        "none_is_tended_that_is_dead",
        "Ocimum basilicum",
        {"sown": "2027-05-20"},
        date(2027, 5, 25),
        _dead,
    ),
]
