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
from planted_winter import instead, later, noted

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


_STARVES = re.compile(r"until spring, not on a warm windowsill|short roots stay in the cold bag")


def no_small_herb_starves_in_the_dark(met: Met) -> Faults:
    """A small hardy herb that has rooted shows its leaf at once: it goes into light, not into the cold."""
    record, facts = met.knowledge.record, met.plan.decisions.facts
    herb = record.plant in ("perennial", "annual", "grass") and facts["size"] in ("small", "fine")
    other = facts["root_first"] == "yes" or facts["tender"] == "yes" or facts["chilling_injures"] == "yes"
    if not herb or not met.plan.lot.rooted or met.plan.lot.seeds > 500 or other:
        return []
    return [f"“{m[0]}”" for m in map(_STARVES.search, met.sentences) if m]


def no_root_of_spring_waits_for_spring(met: Met) -> Faults:
    """What roots in the growing season at the soonest, and is sown in it, waits for no other spring."""
    cold = next((s for s in met.recipe.steps if s.do == "cold_moist" and s.start), None)
    day = met.plan.sowing_day
    if cold is None or cold.start is None or day is None or met.plan.decisions.facts["root_first"] == "yes":
        return []
    shows = date.fromisoformat(cold.start) + timedelta(days=28)  # by practice, the fourth week
    if not 4 <= _month(shows, met) <= _month(day, met) <= 8 or (day - shows).days > 183:
        return []
    rows = [w.then_do for w in met.recipe.what_if if "ROOTED" in w.look_for]
    return [f"“{m[0]}”, rooted from {shows}" for m in map(_TILL_SPRING.search, rows) if m]


_TILL_SPRING = re.compile(r"till spring|until spring")


def no_half_year_is_waited_for_what_only_helps(met: Met) -> Faults:
    """In spring nobody without a refrigerator is sent to autumn for a cold that is not needed."""
    facts = met.plan.decisions.facts
    if facts["cold_need"] != "optional" or not 4 <= _month(met.today, met) <= 6 or met.plan.lot.collected:
        return []
    return [f"“{each.text[:60]}”" for each in met.recipe.instead if re.search(r"in autumn", each.text)]


_MOIST_WAIT = re.compile(r"Leave them moist and cold")


def what_lay_dry_for_weeks_is_not_held_moist(met: Met) -> Faults:
    """Seed that lay dry for weeks, and that a cold only helps, does not lie moist for months."""
    told, facts = met.said, met.plan.decisions.facts
    dry = (told.get("days_dry") or 0) > 14 and not (told.get("cold_days_done") or told.get("warm_days_done"))
    if not dry or facts["cold_need"] != "optional" or facts["behaviour"] != "intermediate":
        return []
    if met.plan.lot.lain_moist or told.get("swollen") or told.get("smell"):
        return []
    return [
        f"moist from {s.start} to {s.end}"
        for s in met.recipe.steps
        if s.start and s.end and _MOIST_WAIT.search(s.text) and _days(s.start, s.end) > _SLOW
    ]


def _days(start: str, end: str) -> int:
    return (date.fromisoformat(end) - date.fromisoformat(start)).days


def no_bed_for_thousands_that_are_probably_dead(met: Met) -> Faults:
    """Thousands of which the answer says that they are dead get no trays or beds before a sample."""
    dead = re.search(r"(?:Probably|Most likely) dead", met.recipe.verdict.sentence)
    if met.plan.lot.seeds < 1000 or not dead or met.plan.decisions.facts["coat_shut"] == "yes":
        return []
    return [f"“{m[0]}”" for m in map(_AREA.search, (s.text for s in met.recipe.steps)) if m]


_AREA = re.compile(r"Broadcast them[^.]*")


def no_soak_of_what_water_harms(met: Met) -> Faults:
    """Where a record says that water harms what is opened, no page soaks what was opened."""
    handling = met.knowledge.value("handling")
    if handling is None or not handling.no_soak:
        return []
    return [f"“{m[0]}”" for m in map(_OPEN_AND_SOAK.search, met.sentences) if m]


_OPEN_AND_SOAK = re.compile(r"open (?:their|the) coats? and soak")


def no_cool_leaf_is_sent_up_in_summer(met: Met) -> Faults:
    """A kind whose root comes first and whose soil stays cool is not sown after its spells in summer."""
    facts, recipe = met.plan.decisions.facts, met.recipe
    cool = facts["sow_max"] is not None and facts["sow_max"] <= 16 and facts["root_first"] == "yes"
    warm = any(s.do == "warm_moist" for s in recipe.steps)
    start = next((s.start for s in recipe.steps if s.do == "sow" and s.start), None)
    if not cool or not warm or start is None or facts["begun"] == "yes" or met.plan.lot.winter == "none":
        return []
    day = date.fromisoformat(start)
    late = 7 <= _month(day, met) <= 8 and met.plan.decisions.schedule.asked is None
    return [f"sown {day} at {facts['sow_max']:g} °C"] if late and facts["tender"] == "no" else []


def what_is_sown_outdoors_is_told_so_by_the_test(met: Met) -> Faults:
    """A page that ends with a test names the season in which its kind is sown outdoors, not a spring day."""
    chosen = met.plan.decisions.chosen
    if met.recipe.does.page != "test" or chosen is None or not chosen.candidate.outdoor_sowing:
        return []
    return [f"“{m[0]}”" for m in [_GO_ON.search(met.page)] if m]


_GO_ON = re.compile(r"Go on[^.;]*, sow (?!outdoors)[^,;.]*")


_LIT = re.compile(r"[Ii]n (?:the )?light\b|, lit\b")
_THEN = re.compile(r"[Tt]hen |after it|once it")


def no_light_in_a_lidded_box(met: Met) -> Faults:
    """What is chilled in light does not lie in a lidded box in a refrigerator."""
    if "lidded box" not in met.page:
        return []
    cold = (s.text for s in met.recipe.steps if s.do == "cold_moist")
    own = (text.split("lidded box")[0] for text in cold)
    return [f"“{m[0]}” in a lidded box" for m in map(_LIT.search, own) if m and not _THEN.search(m.string)]


TODAY: dict[str, Callable[[Met], Faults]] = {
    holds.__name__: holds
    for holds in (
        what_rests_not_is_up_within_weeks,
        a_shut_coat_in_the_ground_is_named,
        nothing_stands_in_winter_when_winter_is_over,
        no_small_herb_starves_in_the_dark,
        no_root_of_spring_waits_for_spring,
        no_half_year_is_waited_for_what_only_helps,
        what_lay_dry_for_weeks_is_not_held_moist,
        no_bed_for_thousands_that_are_probably_dead,
        no_soak_of_what_water_harms,
        no_cool_leaf_is_sent_up_in_summer,
        what_is_sown_outdoors_is_told_so_by_the_test,
        no_light_in_a_lidded_box,
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


def rooted(text: str) -> Change:
    """The recipe with another line on roots."""
    return lambda plan, recipe: (
        plan,
        replace(
            recipe,
            what_if=tuple(
                replace(w, then_do=text) if "ROOTED" in w.look_for else w for w in recipe.what_if
            ),
        ),
    )


def waits(text: str) -> Change:
    """The recipe whose first step says something else."""
    return lambda plan, recipe: (
        plan,
        replace(recipe, steps=(replace(recipe.steps[0], text=text), *recipe.steps[1:])),
    )


def chilled(text: str) -> Change:
    """The recipe with another text of its cold."""
    return lambda plan, recipe: (
        plan,
        replace(
            recipe,
            steps=tuple(replace(s, text=text) if s.do == "cold_moist" else s for s in recipe.steps),
        ),
    )


def tested(text: str) -> Change:
    """The recipe whose test ends with another line."""

    def told(plan: Plan, recipe: Recipe) -> tuple[Plan, Recipe]:
        assert recipe.checks is not None
        looks = (replace(recipe.checks.looks[0], then_do=text), *recipe.checks.looks[1:])
        return plan, replace(recipe, checks=replace(recipe.checks, looks=looks))

    return told


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
    (
        "no_small_herb_starves_in_the_dark",
        "Aquilegia vulgaris",
        {"rooted": 3, "cold_days_done": 40},
        date(2026, 12, 10),
        noted("Those that have rooted: short roots stay in the cold bag."),
    ),
    (
        "no_root_of_spring_waits_for_spring",
        "Pinus monophylla",
        {"moisture": "dried"},
        date(2027, 3, 13),
        rooted("Pot it: till spring at 1–5 °C."),
    ),
    (
        "no_half_year_is_waited_for_what_only_helps",
        "Andropogon gerardii",
        {"moisture": "dried"},
        date(2027, 4, 4),
        instead("Sow outdoors in autumn under mesh."),
    ),
    (
        "what_lay_dry_for_weeks_is_not_held_moist",
        "Zelkova serrata",
        {"days_dry": 45},
        date(2026, 10, 12),
        waits("Leave them moist and cold."),
    ),
    (
        "no_bed_for_thousands_that_are_probably_dead",
        "Silene dioica",
        {"seeds": 20_000, "warm_days_done": 90},
        date(2027, 10, 29),
        done("Broadcast them thinly."),
    ),
    (
        "no_soak_of_what_water_harms",
        "Baptisia australis",
        {"seeds": 104},
        date(2026, 8, 20),
        done("First open their coats and soak them."),
    ),
    (
        "no_cool_leaf_is_sent_up_in_summer",
        "Galanthus nivalis",
        {"moisture": "dried"},
        date(2026, 8, 20),
        later(100),
    ),
    (
        "what_is_sown_outdoors_is_told_so_by_the_test",
        "Delphinium consolida",
        {"seeds": 104, "cut": "0/12"},
        date(2027, 8, 1),
        tested("Go on, sow on 15 April 2028."),
    ),
    (
        "no_light_in_a_lidded_box",
        "Solidago nemoralis",
        {"seeds": 60},
        date(2027, 1, 13),
        chilled("In light, a clear bag or box."),
    ),
]
