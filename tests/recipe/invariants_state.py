"""What must hold of every recipe, by the state of the lot: what is done to wet, dry, swollen, old seed.

Functions from one met lot to the faults it shows, as in `invariants`, which gathers them. Each would have
caught a cause that readers who knew the page alone had found.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date

from meeting import Met

from coldspell.records.do import MOIST, OPENING

Faults = list[str]

_SOWN_AT_ONCE = re.compile(r"swollen and sow it|sow those that did|sow what swells")


def nothing_is_sown_before_its_cold(met: Met) -> Faults:
    """What swells goes on with the others where a moist spell comes after the opening of the coat."""
    chosen = met.plan.decisions.chosen
    steps = chosen.candidate.treatment.steps if chosen else ()
    opened = next((i for i, step in enumerate(steps) if step.do in OPENING), None)
    if opened is None or not any(step.do in MOIST for step in steps[opened:]):
        return []
    return [f"“{m[0]}” before its cold" for m in map(_SOWN_AT_ONCE.search, met.sentences) if m]


def no_dry_heat_of_wet_seed(met: Met) -> Faults:
    """Dry heat is for dry seed: swollen seed gets none, and what lay moist is dried before it."""
    heated = [step.text for step in met.recipe.steps if step.do == "dry_heat"]
    if not heated:
        return []
    if met.said.get("swollen") == "yes":
        return ["dry heat of swollen seed"]
    wet = met.plan.lot.lain_moist or met.said.get("swollen") in ("some", "no") or met.said.get("float_test")
    return ["dry heat of moist seed, and no word on drying it"] if wet and "dry seed" not in heated[0] else []


_SHUT_UP_MOIST = re.compile(r"surface is dry, no more")
_WEEKS = 60
"""Days for which surface-dried seed may lie closed up (common practice)."""


def nothing_is_shut_up_moist_for_months(met: Met) -> Faults:
    """Seed whose surface alone is dry is not kept closed up for months."""
    long = [
        (date.fromisoformat(step.end) - date.fromisoformat(step.start)).days
        for step in met.recipe.steps
        if step.start and step.end and _SHUT_UP_MOIST.search(step.text)
    ]
    return [f"shut up moist for {days} days" for days in long if days > _WEEKS]


_SPROUTS = re.compile(r"what lives sprouts within")


def nothing_is_tried_before_its_rest(met: Met) -> Faults:
    """Seed is tried on paper only where nothing that it must have first is still to come."""
    chosen = met.plan.decisions.chosen
    steps = chosen.candidate.treatment.steps if chosen else ()
    before = {*MOIST, *OPENING, "after_ripen", "dry_heat"}
    first = [s.do for s in steps if s.need == "required" and s.do in before]
    if not first:
        return []
    return [f"“{m[0]}” before {first}" for m in map(_SPROUTS.search, met.sentences) if m]


_AT_MOST = re.compile(r"at most (\d+)")
_DEGREES = re.compile(r"(\d+)(?: to |–)?(\d+)? ?°C")


def one_warmth_at_sowing(met: Met) -> Faults:
    """The steps of sowing name no warmth that the line on warmth forbids."""
    warmth = met.recipe.sowing.warmth if met.recipe.sowing else None
    most = _AT_MOST.search(warmth or "")
    if most is None:
        return []
    own = [step.text for step in met.recipe.steps if step.do in ("sow", "light", "dark")]
    named = [int(m[2] or m[1]) for text in own for m in _DEGREES.finditer(text.replace(warmth or "", ""))]
    return [f"{high} °C, and “{most[0]}”" for high in named if high > int(most[1])]


def none_is_promised_past_its_life(met: Met) -> Faults:
    """Of seed that dies dry and is older than it lives, as it lies, no number of plants is promised."""
    lot, told = met.plan.lot, met.said
    storage, plants = met.knowledge.value("storage"), met.recipe.expectation
    if storage is None or storage.behaviour != "recalcitrant" or lot.collected is None or plants is None:
        return []
    cold_hurts = met.plan.decisions.facts["chilling_injures"] == "yes"
    life = storage.years.high if storage.years else 0.25 if cold_hurts else 1.0
    years = (met.today - lot.collected).days / 365.25
    looked = told.get("cut") or told.get("rooted") or told.get("root_mm") or lot.sown
    if looked or years <= life or plants.plants is None:
        return []
    return [f"{plants.plants[1]:g} plants of seed {years:.1f} years old that lives {life:g}"]


_PATIENT = re.compile(r"as near to .* as you can until the soil|worst frost is over|stay moist and cold")


def what_roots_in_its_season_is_sown(met: Met) -> Faults:
    """In the growing season a chilled lot of which a fifth has rooted is not kept cold any longer."""
    lot, facts = met.plan.lot, met.plan.decisions.facts
    many = lot.rooted * 5 >= lot.seeds and lot.cold_days_done > 0 and facts["growing_now"] == "yes"
    if not many or facts["root_first"] == "yes" or lot.sown or met.recipe.does.page != "plan":
        return []
    cold = [s.do for s in met.recipe.steps if s.do == "cold_moist"]
    return [f"“{m[0]}” in the growing season" for m in map(_PATIENT.search, met.sentences) if m] + cold


def a_few_are_not_dug_up(met: Met) -> Faults:
    """Of three seeds or fewer none is dug up for the others, and none is one in ten."""
    if met.plan.lot.seeds > 3 or met.recipe.route == "already_sown":
        return []
    return [f"“{m[0]}” of {met.plan.lot.seeds}" for m in [re.search(r"dig one up|one in ten", met.page)] if m]


_WINTER = re.compile(
    r"cold of the soil does the rest|once frosts are over|on the (?:north|south) side, drained"
)


def no_winter_is_waited_for_where_there_is_none(met: Met) -> Faults:
    """Who said that there is no winter is not told to let one do it."""
    if met.said.get("winter") != "none" or met.said.get("refrigerator") == "none":
        return []
    return [f"“{m[0]}” without a winter" for m in map(_WINTER.search, met.sentences) if m]


def no_dry_wait_of_what_bears_it_badly(met: Met) -> Faults:
    """A dried lot of a kind that bears it badly does not wait dry past the next spring for two winters."""
    facts, chosen = met.plan.decisions.facts, met.plan.decisions.chosen
    if facts["bears_drying"] != "no" or chosen is None or chosen.candidate.shape != "cold_warm_cold":
        return []
    holds = [s for s in met.recipe.steps if s.do == "hold" and s.start == met.today.isoformat()]
    return [f"“{s.text[:50]}” until {s.end}" for s in holds if re.search(r"dry", s.text)]


def nothing_lay_damp_that_lay_dry(met: Met) -> Faults:
    """Of a lot that is said to have lain dry nothing says that it was kept damp."""
    if (met.said.get("days_dry") or 0) <= 14:
        return []
    return [f"“{m[0]}”" for m in [re.search(r"kept damp since", " ".join(met.recipe.notes))] if m]


def nothing_that_lay_moist_is_dried(met: Met) -> Faults:
    """Seed that had moist cold or warmth, in coats that let water in, is not spread to dry and kept."""
    told, facts = met.said, met.plan.decisions.facts
    wet = (told.get("cold_days_done") or 0) + (told.get("warm_days_done") or 0) > 0
    if not wet or facts["coat_shut"] == "yes" or met.plan.lot.sown:
        return []
    return [f"“{m[0]}” of moist seed" for m in map(_DRIED.search, met.sentences) if m]


_DRIED = re.compile(r"[Ss]pread (?:it|them) thinly[^.]* until it is dry, then keep")


def nothing_is_soaked_twice_on_one_day(met: Met) -> Faults:
    """What is soaked before all else is not soaked again by the steps of its record."""
    soaks = [s for s in met.recipe.steps if s.do == "soak"]
    days = [s.start for s in soaks]
    return [f"{len(days)} soaks from {day or 'the first day'} on" for day in set(days) if days.count(day) > 1]


_COLD_POT, _BRIGHT_POT = re.compile(r"pot them root down, and keep the pots moist"), re.compile(r"10–18 °C")


def one_rule_for_roots(met: Met) -> Faults:
    """What has rooted and what roots later is handled in one way on a page."""
    cold = any(map(_COLD_POT.search, met.recipe.notes))
    later = [each.then_do for each in met.recipe.what_if if _BRIGHT_POT.search(each.then_do)]
    return [f"rooted seed is potted cold, and “{text}”" for text in later if cold]


_SOURCE_SAYS = re.compile(
    r"bears? (?:badly|drying)|die when they dry|dies when it dries|may be dead|loses? life"
)


def what_drying_costs_is_said(met: Met) -> Faults:
    """Of a kind that bears drying badly, by its record, a lot that is dry is told what that costs."""
    facts = met.plan.decisions.facts
    badly = facts["bears_drying"] == "no" and facts["behaviour"] != "recalcitrant"
    if not badly or met.plan.lot.moisture != "dried" or met.recipe.does.page != "plan":
        return []
    if met.said.get("cut") or met.plan.lot.sown or met.recipe.expectation is None:
        return []
    if met.plan.lot.mostly_rooted:  # what it cost is over: these live
        return []
    return [] if any(map(_SOURCE_SAYS.search, met.sentences)) else ["dried, and no word on what that costs"]


def no_acorn_of_last_autumn_waits_for_the_next(met: Met) -> Faults:
    """What dies dry and lies moist in the next growing season is sown in it, and not chilled anew."""
    lot, facts, kept = met.plan.lot, met.plan.decisions.facts, met.plan.decisions.facts["kept_months"]
    # nobody told the day: from the ninth month on it may as well be that of the autumn to come
    most = 10 if lot.collected else 8
    late = kept is not None and 4 < kept <= most and facts["growing_now"] == "yes"
    if not _wintered(met, kept) and any(map(_ASKED.search, met.recipe.notes)):
        return []  # it had a part of a winter at most: where it lay since is asked, and the plan hangs on it
    if facts["wants_warmth"] == "yes":  # its winter did not count, for its warmth comes first
        return []
    if not late or not met.dies_dry or lot.moisture != "fresh" or lot.winter == "none":
        return []
    told = ("cold_days_done", "warm_days_done", "rooted", "root_mm", "sown", "sow", "last_frost", "swollen")
    told = (*told, "cold_break_days")
    if lot.gathered == "green" and lot.collected is None:  # green on the tree in summer is the crop to come
        return []
    if any(map(met.said.get, told)) or met.recipe.does.page != "plan" or facts["chilling_injures"] == "yes":
        return []
    sown = next((s.start for s in met.recipe.steps if s.do == "sow" and s.start), None)
    days = 0 if sown is None else (date.fromisoformat(sown) - met.today).days
    return [f"sown in {days} days, {kept:.0f} months after it was shed"] if days > 60 else []


def _wintered(met: Met, months: float | None) -> bool:
    """Whether it was shed so long ago that December to February lie behind it."""
    month = (met.today.month + 5) % 12 + 1 if met.plan.lot.southern else met.today.month
    since_winter = (month - 3) % 12 + met.today.day / 30.4  # from the first of March on
    return (months or 0) >= since_winter + 3


_ASKED = re.compile(r"those days count, and the days below change|[Hh]ow have they lain")


def an_annual_is_not_waited_for(met: Met) -> Faults:
    """Of an annual without rest that is weeks late nobody is told to wait."""
    facts = met.plan.decisions.facts
    quick = facts["plant"] == "annual" and facts["cold_need"] == "none"
    quick = quick and facts["shape"] in ("sow", "soak_and_sow") and facts["autumn_sown"] != "yes"
    if not quick or met.recipe.route != "already_sown" or facts["up_state"] != "late":
        return []
    return [f"“{m[0]}”" for m in map(_WAITED_FOR.search, met.sentences) if m]


_WAITED_FOR = re.compile(r"wait some weeks|leave the rest")
_KNIFE = re.compile(r"\b[Cc]ut (?:\w+ )?(?:open|across|some)")


def no_knife_for_dust(met: Met) -> Faults:
    """Seed of which two million weigh a kilogram is not cut open."""
    per_kg = met.knowledge.value("seeds_per_kg")
    if per_kg is None or per_kg.value.low <= 2_000_000:
        return []
    return [f"“{m[0]}”" for m in map(_KNIFE.search, met.sentences) if m]


STATE: dict[str, Callable[[Met], Faults]] = {
    holds.__name__: holds
    for holds in (
        nothing_is_sown_before_its_cold,
        no_dry_heat_of_wet_seed,
        nothing_is_shut_up_moist_for_months,
        nothing_is_tried_before_its_rest,
        one_warmth_at_sowing,
        none_is_promised_past_its_life,
        what_roots_in_its_season_is_sown,
        a_few_are_not_dug_up,
        no_winter_is_waited_for_where_there_is_none,
        no_dry_wait_of_what_bears_it_badly,
        nothing_lay_damp_that_lay_dry,
        nothing_that_lay_moist_is_dried,
        nothing_is_soaked_twice_on_one_day,
        one_rule_for_roots,
        what_drying_costs_is_said,
        no_acorn_of_last_autumn_waits_for_the_next,
        an_annual_is_not_waited_for,
        no_knife_for_dust,
    )
}
