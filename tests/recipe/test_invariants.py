"""What must hold of every recipe, over lots drawn by a seed; and each kind of fault, planted, is found.

``COLDSPELL_FULL=1`` draws 200,000 lots over all records, states, days and sizes; by default some hundred.
A fault that is planted in a recipe shows that its invariant looks; one planted in a copy of the rules, that
the lots that are drawn meet it.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path
from typing import Any

import invariants
import invariants_kept
import invariants_lots
import invariants_meanwhile
import invariants_today
import lots
import planted_places
import planted_winter
import pytest
import rewriting
from meeting import Met, meet
from msgspec.structs import replace

from coldspell.decide.tables import Tables
from coldspell.errors import ColdspellError
from coldspell.library.load import Library
from coldspell.write.recipe import Recipe
from coldspell.write.recipe_work import Step
from coldspell.write.units import spelled_date

FULL = os.environ.get("COLDSPELL_FULL") == "1"
LOTS = 200_000 if FULL else 400
DAY = date(2026, 11, 25)
Change = Callable[[Recipe], Recipe]


def met(drawn: dict[str, Any], library: Library, tables: Tables) -> Met | None:
    """One drawn lot; none where the program refuses it."""
    try:
        return meet(drawn["name"], drawn["said"], date.fromisoformat(drawn["today"]), library, tables)
    except ColdspellError:
        return None


def test_no_drawn_lot_shows_a_fault(library: Library, tables: Tables) -> None:
    found, refused = [], 0
    for drawn in lots.awkward(library.names, LOTS):
        one = met(drawn, library, tables)
        refused += one is None
        found += [f"{drawn}: {fault}" for fault in (invariants.faults(one) if one else ())]
        assert len(found) < 20, "\n".join(found)
    assert not found, "\n".join(found)
    assert refused < LOTS / 20


@pytest.mark.long
def test_what_is_drawn_meets_every_route_and_state(library: Library, tables: Tables) -> None:
    """Some hundred lots meet nearly all routes and verdicts on life, so that nothing goes unseen for long."""
    routes, alive = set(), set()
    for drawn in lots.awkward(library.names, 800):
        one = met(drawn, library, tables)
        if one is not None:
            routes.add(one.recipe.route)
            alive.add(one.recipe.verdict.alive)
    every = tables.book.decisions["route"].answers, tables.book.decisions["alive"].answers
    assert len(routes) > 0.7 * len(every[0])
    assert len(alive) > 0.7 * len(every[1])


COUNTS = (1, 2, 5, 12, 30, 60, 99, 300, 1000, 5000, 20_000)


def test_plants_and_amounts_grow_with_the_count(ask: Callable[..., Recipe], library: Library) -> None:
    found = []
    for name in lots.part(library.names, 1 if FULL else 300):
        for moisture in ("fresh", "dried"):
            asked = [ask(name, DAY, seeds=n, moisture=moisture) for n in COUNTS]
            for grow in (invariants.plants_grow_with_the_count, invariants.amounts_grow_with_the_count):
                found += [f"{name}: {fault}" for fault in grow(asked)]
    assert not found, "\n".join(found)


# --- planted in a recipe ------------------------------------------------------------------------------------


def _steps(recipe: Recipe, do: str, change: Callable[[Step], Step]) -> Recipe:
    return replace(recipe, steps=tuple(change(s) if s.do == do else s for s in recipe.steps))


def _said(recipe: Recipe, do: str, text: str) -> Recipe:
    return _steps(recipe, do, lambda step: replace(step, text=f"{step.text} {text}"))


def _promised(recipe: Recipe) -> Recipe:
    assert recipe.expectation is not None
    return replace(recipe, expectation=replace(recipe.expectation, plants=(1, 2, 3)))


def _later(recipe: Recipe) -> Recipe:
    return _steps(recipe, "sow", lambda step: replace(step, start="2028-01-30", end="2028-01-30"))


def _stirred(recipe: Recipe) -> Recipe:
    assert recipe.checks is not None
    looks = tuple(replace(look, then_do="Sprinkle, mix.") for look in recipe.checks.looks)
    return replace(recipe, checks=replace(recipe.checks, looks=looks))


def _renewed(recipe: Recipe) -> Recipe:
    assert recipe.checks is not None
    looks = tuple(replace(look, then_do="Half new dry medium.") for look in recipe.checks.looks)
    return replace(recipe, checks=replace(recipe.checks, looks=looks))


def _two_springs(recipe: Recipe) -> Recipe:
    other = replace(recipe.offspring[0], text="Keep the pots two springs.")
    return replace(recipe, offspring=(*recipe.offspring, other))


def _bare_at_once(recipe: Recipe) -> Recipe:
    sown = recipe.sowing.date if recipe.sowing else None
    assert sown is not None
    day = spelled_date(date.fromisoformat(sown))
    rows = (replace(w, then_do=f"Bare on {day}.") if "BARE" in w.look_for else w for w in recipe.what_if)
    return replace(recipe, what_if=tuple(rows))


def _next_year(recipe: Recipe) -> Recipe:
    way = replace(recipe.timing.ways_out[0], text="Sow outdoors now.")
    timing = replace(recipe.timing, ways_out=(way,))
    other = replace(recipe.offspring[0], text="Sow outdoors next autumn.")
    return replace(recipe, timing=timing, instead=(other,))


RED, WHITE, REDBUD = "Quercus rubra", "Quercus alba", "Cercis canadensis"
OLD = {"moisture": "fresh", "collected": "2026-06-10"}
SHUT = {"moisture": "dried", "cold_days_done": 90, "swollen": "no"}
def _answers(recipe: Recipe, sentence: str) -> Recipe:
    return replace(recipe, verdict=replace(recipe.verdict, sentence=sentence))


def _kept_long(recipe: Recipe) -> Recipe:
    assert recipe.hold is not None
    return replace(recipe, hold=replace(recipe.hold, until="2027-11-06"))


PLANTED: list[tuple[str, str, dict[str, Any], Change]] = [
    ("none_doubted_and_promised", RED, {"moisture": "dried"}, _promised),
    (
        "nothing_is_promised_below_and_missing",
        RED,
        {"moisture": "dried"},
        lambda r: replace(r, steps=()),
    ),
    (
        "no_dry_wait_of_what_dies_dry",
        WHITE,
        {"moisture": "fresh"},
        lambda r: _said(r, "sow", "Keep them dry."),
    ),
    (
        "no_wet_seed_is_dried",
        "Malus domestica",
        {"moisture": "dried"},
        lambda r: replace(r, steps=(*r.steps[1:], r.steps[0])),
    ),
    (
        "no_sprouting_seed_waits_dry",
        "Zinnia elegans",
        {"root_mm": 3},
        lambda r: _steps(r, "sow", lambda s: replace(s, do="hold", text="Keep it cool and airy.")),
    ),
    (
        "no_long_wait_half_dry",
        "Zinnia elegans",
        {"moisture": "fresh"},
        lambda r: _steps(r, "hold", lambda s: replace(s, text="Keep it cool and airy.")),
    ),
    (
        "nothing_is_promised_of_what_lay_for_ever",
        "Zinnia elegans",
        {"moisture": "fresh", "warm_days_done": 600},
        _promised,
    ),
    (
        "no_test_takes_the_lot",
        "Ulmus glabra",
        {"stored_years": 3, "seeds": 2},
        lambda r: _said(r, "sow", "Cut one (if you can spare it)."),
    ),
    ("no_days_counted_behind_a_shut_coat", REDBUD, SHUT, lambda r: replace(r, route="sow_now_wintered")),
    (
        "no_days_counted_behind_a_shut_coat",
        REDBUD,
        SHUT,
        lambda r: replace(r, steps=tuple(s for s in r.steps if s.do != "cold_moist")),
    ),
    (
        "no_cold_shorter_than_its_source",
        RED,
        {"moisture": "fresh"},
        lambda r: _steps(r, "cold_moist", lambda s: replace(s, end="2026-12-10")),
    ),
    (
        "no_cold_for_what_it_injures",
        "Mangifera indica",
        {"moisture": "fresh"},
        lambda r: _steps(r, "sow", lambda s: replace(s, do="cold_moist")),
    ),
    ("days_in_order", RED, {"moisture": "fresh"}, lambda r: replace(r, steps=r.steps[::-1])),
    (
        "a_day_nobody_gave_is_never_too_late",
        RED,
        {"moisture": "fresh"},
        lambda r: replace(r, timing=replace(r.timing, fits="too_short")),
    ),
    ("no_outdoor_wait_past_its_season", RED, {"moisture": "fresh", "refrigerator": "none"}, _later),
    (
        "text_and_values_name_the_same_days",
        RED,
        {"moisture": "fresh"},
        lambda r: replace(r, verdict=replace(r.verdict, sentence="Sow on 3 May 2031.")),
    ),
    ("text_and_values_name_the_same_days", RED, {"moisture": "fresh"}, _later),
    (
        "place_right_for_the_hemisphere",
        RED,
        {"moisture": "fresh", "southern": True},
        lambda r: replace(r, place="On the shady side, which is the north."),
    ),
    (
        "no_step_contradicts_itself",
        RED,
        {"moisture": "fresh"},
        lambda r: _said(r, "sow", "Lay it root down."),
    ),
    ("no_step_contradicts_itself", RED, {"moisture": "fresh"}, lambda r: _said(r, "sow", "In late autumn.")),
    (
        "intervals_agree",
        RED,
        {"moisture": "fresh"},
        lambda r: _steps(r, "cold_moist", lambda s: replace(s, text="Moist and cold for 10–14 days.")),
    ),
    ("nothing_left_open", RED, {"moisture": "fresh"}, lambda r: _said(r, "sow", "{depth} deep.")),
    (
        "nothing_is_sown_in_the_dark_without_a_word",
        "Robinia pseudoacacia",
        {"swollen": "yes"},
        lambda r: replace(r, notes=(), sowing=None),
    ),
    (
        "what_takes_a_day_has_one",
        REDBUD,
        {"moisture": "dried"},
        lambda r: replace(
            r, steps=tuple(replace(s, end=s.start) if "Soak a day" in s.text else s for s in r.steps)
        ),
    ),
    (
        "no_cold_is_offered_to_what_needs_none",
        "Zinnia elegans",
        {"rooted": 30},
        lambda r: replace(r, notes=("Those not yet rooted stay moist and cold.",)),
    ),
    (
        "nothing_said_is_denied",
        RED,
        {"moisture": "fresh", "sow": "2027-04-15"},
        lambda r: replace(r, notes=("You gave no sowing day.",)),
    ),
    (
        "nothing_said_is_denied",
        "Petunia × atkinsiana",
        {"last_frost": "2027-04-25"},
        lambda r: replace(r, notes=("sowing is set 20 days before it",)),
    ),
    (
        "nothing_is_sown_in_the_dark_without_a_word",
        "Quercus muehlenbergii",
        {"moisture": "dried", "grow_in": "site"},
        lambda r: _steps(replace(r, notes=(), sowing=None), "sow", lambda s: replace(s, text="In a pot.")),
    ),
    (
        "no_acorn_of_last_autumn_waits_for_the_next",
        RED,
        {"moisture": "fresh", "southern": True, "gathered": "ground_autumn"},
        _later,
    ),
    (
        "one_seed_is_one",
        RED,
        {"seeds": 1, "moisture": "fresh"},
        lambda r: _said(r, "sow", "Then dig one up."),
    ),
    (
        "nobody_handles_thousands_singly",
        RED,
        {"seeds": 5000, "moisture": "fresh"},
        lambda r: _said(r, "sow", "One by one in pots."),
    ),
    (
        "no_test_uses_up_the_lot",
        "Fraxinus americana",
        {"moisture": "dried", "stored_years": 30},
        lambda r: _steps(r, "test", lambda step: replace(step, text="Cut 30 open.")),
    ),
    ("looks_speak_of_the_medium_there_is", "Shepherdia argentea", {"moisture": "dried"}, _renewed),
    ("one_answer_how_long_to_wait", "Crataegus monogyna", {"moisture": "dried"}, _two_springs),
    ("a_sown_tray_is_not_stirred", "Primula veris", {"moisture": "dried"}, _stirred),
    (
        "one_day_to_start",
        "Malus domestica",
        {"moisture": "dried"},
        lambda r: replace(r, timing=replace(r.timing, begins="2027-01-15")),
    ),
    (
        "slow_kinds_name_their_spring",
        RED,
        {"moisture": "fresh", "refrigerator": "none"},
        lambda r: replace(r, verdict=replace(r.verdict, sentence="Sow them outdoors."), notes=()),
    ),
    (
        "what_rooted_is_held_to_the_next_spring_alone",
        RED,
        {"rooted": 30},
        lambda r: _answers(r, "Keep the pots cold until you can plant them out on 15 April 2028."),
    ),
    (
        "no_shoot_is_put_off_a_year",
        "Viburnum opulus",
        {"rooted": 30},
        lambda r: _answers(r, "Pot them; the shoot comes in spring 2028."),
    ),
    ("nothing_is_kept_or_put_off_beyond_its_season", RED, {"moisture": "fresh"}, _kept_long),
    (
        "two_parts_come_up_in_two_seasons",
        RED,
        {"moisture": "fresh", "refrigerator": "none"},
        lambda r: replace(r, verdict=replace(r.verdict, sentence="Some may come up this summer.")),
    ),
    ("bare_pots_wait_as_long_as_seedlings_take", "Ruta graveolens", {"moisture": "dried"}, _bare_at_once),
    (
        "now_and_next_year_are_not_both_right",
        "Silphium integrifolium",
        {"moisture": "dried", "sow": "2026-12-20"},
        _next_year,
    ),
    (
        "nothing_is_sown_before_its_cold",
        REDBUD,
        {"moisture": "dried"},
        lambda r: _said(r, "cold_moist", "Take out what has swollen and sow it."),
    ),
    (
        "no_dry_heat_of_wet_seed",
        "Cistus ladanifer",
        {"swollen": "some"},
        lambda r: _steps(r, "dry_heat", lambda s: replace(s, text="Dry heat.")),
    ),
    (
        "nothing_is_shut_up_moist_for_months",
        "Prunus avium",
        {"moisture": "fresh", "sow": "2027-10-15"},
        lambda r: _steps(r, "hold", lambda s: replace(s, text="Until its surface is dry, no more.")),
    ),
    (
        "plants_wanted_get_an_answer",
        "Fraxinus americana",
        {"moisture": "dried", "want": 17},
        lambda r: replace(r, expectation=None, lot=replace(r.lot, said={**r.lot.said, "want": None})),
    ),
    (
        "few_are_not_promised_as_many",
        "Malus domestica",
        {"moisture": "dried"},
        lambda r: replace(r, notes=("Expect few. So expect few.",)),
    ),
    (
        "the_day_that_is_taken_is_that_of_the_sowing",
        "Malus domestica",
        {"moisture": "dried"},
        lambda r: replace(r, notes=("You gave no sowing day; 3 May 2031 is taken (--sow).",)),
    ),
    (
        "a_pit_has_no_plug",
        "Juglans nigra",
        {"moisture": "fresh", "seeds": 3000},
        lambda r: replace(r, what_if=(replace(r.what_if[0], then_do="Add days above 10 °C."),)),
    ),
    (
        "what_had_its_root_waits_for_no_second_spring",
        "Symphoricarpos albus",
        {"rooted": 40},
        lambda r: replace(r, what_if=(replace(r.what_if[0], then_do="Part in a second or third spring."),)),
    ),
    (
        "what_drying_costs_is_said",
        "Corydalis solida",
        {"moisture": "dried"},
        lambda r: replace(r, notes=(), steps=(), what_if=()),
    ),
    (
        "no_acorn_of_last_autumn_waits_for_the_next",
        RED,
        {"moisture": "fresh", "southern": True},
        _later,
    ),
    (
        "an_annual_is_not_waited_for",
        "Raphanus sativus",
        {"sown": "2026-10-05", "southern": True},
        lambda r: replace(r, verdict=replace(r.verdict, sentence="Firm and pale, wait some weeks more.")),
    ),
    (
        "no_knife_for_dust",
        "Dianthus deltoides",
        {"moisture": "dried"},
        lambda r: _said(r, "sow", "Cut some open."),
    ),
    (
        "a_soak_is_over_before_the_sowing",
        "Vitellaria paradoxa",
        {"moisture": "fresh"},
        lambda r: _steps(r, "soak", lambda s: replace(s, start=None, end=None)),
    ),
    (
        "what_is_sown_in_place_is_not_potted",
        "Anethum graveolens",
        {"moisture": "dried", "sow": "2027-04-20"},
        lambda r: _said(r, "sow", "One or two to a pot."),
    ),
    (
        "pots_and_place_do_not_meet",
        "Zinnia elegans",
        {"moisture": "dried"},
        lambda r: _said(r, "sow", "One or two to a pot, where it is to flower."),
    ),
    (
        "nothing_is_tried_before_its_rest",
        "Lobelia cardinalis",
        {"moisture": "dried", "stored_years": 3},
        lambda r: _steps(r, "test", lambda s: replace(s, text="Sown, what lives sprouts within days.")),
    ),
    (
        "one_warmth_at_sowing",
        REDBUD,
        {"moisture": "dried"},
        lambda r: _said(r, "sow", "As hot as 32 to 38 °C."),
    ),
    ("none_is_promised_past_its_life", "Theobroma cacao", OLD, _promised),
    (
        "what_roots_in_its_season_is_sown",
        "Pinus pinaster",
        {"rooted": 20, "cold_days_done": 30, "winter": "none"},
        lambda r: replace(r, notes=("Those not yet rooted stay moist and cold.",)),
    ),
    ("a_few_are_not_dug_up", RED, {"seeds": 3}, lambda r: _said(r, "sow", "Then dig one up.")),
    (
        "no_winter_is_waited_for_where_there_is_none",
        "Aconitum napellus",
        {"moisture": "fresh", "winter": "none"},
        lambda r: replace(r, notes=("The cold of the soil does the rest.".lower(),)),
    ),
    (
        "no_dry_wait_of_what_bears_it_badly",
        "Trillium grandiflorum",
        {"moisture": "dried"},
        lambda r: replace(
            r, steps=(replace(r.steps[0], do="hold", text="Keep it dry.", start=DAY.isoformat()), *r.steps)
        ),
    ),
    (
        "nothing_lay_damp_that_lay_dry",
        "Asimina triloba",
        {"days_dry": 21},
        lambda r: replace(r, notes=("They have been kept damp since they were shed.",)),
    ),
    (
        "nothing_that_lay_moist_is_dried",
        RED,
        {"cold_days_done": 20},
        lambda r: _said(r, "sow", "Spread it thinly until it is dry, then keep it."),
    ),
    (
        "nothing_is_soaked_twice_on_one_day",
        "Artocarpus heterophyllus",
        {"moisture": "dried"},
        lambda r: replace(r, steps=(r.steps[0], *r.steps)),
    ),
    (
        "one_rule_for_roots",
        "Ligustrum vulgare",
        {"rooted": 3},
        lambda r: replace(r, what_if=tuple(replace(w, then_do="Bright, at 10–18 °C.") for w in r.what_if)),
    ),
]


@pytest.mark.parametrize(("name", "kind", "said", "change"), PLANTED, ids=[p[0] for p in PLANTED])
def test_a_planted_fault_is_found(
    name: str, kind: str, said: dict[str, Any], change: Change, library: Library, tables: Tables
) -> None:
    found = meet(kind, {"seeds": 40, **said}, DAY, library, tables)
    holds = invariants.INVARIANTS[name]
    assert not holds(found)
    assert holds(Met(said, DAY, found.plan, change(found.recipe)))


ON_DAYS = [
    *planted_winter.PLANTED,
    *planted_places.PLANTED,
    *invariants_meanwhile.PLANTED,
    *invariants_kept.PLANTED,
    *invariants_lots.PLANTED,
    *invariants_today.PLANTED,
]


@pytest.mark.parametrize(
    ("name", "kind", "said", "day", "change"),
    ON_DAYS,
    ids=[p[0] for p in ON_DAYS],
)
def test_a_planted_fault_on_a_day_is_found(
    name: str,
    kind: str,
    said: dict[str, Any],
    day: date,
    change: planted_winter.Change,
    library: Library,
    tables: Tables,
) -> None:
    found = meet(kind, {"seeds": 40, **said}, day, library, tables)
    holds = invariants.INVARIANTS[name]
    assert not holds(found)
    assert holds(Met(said, day, *change(found.plan, found.recipe)))


def test_every_invariant_has_a_planted_fault() -> None:
    in_rules = {name for name, _ in BROKEN}
    in_rules |= {name for name, *_ in ON_DAYS}
    assert {name for name, *_ in PLANTED} | in_rules == set(invariants.INVARIANTS)


def test_a_planted_fault_in_amounts_is_found(ask: Callable[..., Recipe]) -> None:
    one, other = (ask(RED, DAY, seeds=n, moisture="fresh") for n in (30, 60))
    assert not invariants.plants_grow_with_the_count([one, other])
    assert not invariants.amounts_grow_with_the_count([one, other])
    assert invariants.plants_grow_with_the_count([one, _promised(other)])
    assert one.medium is not None
    more = replace(one.medium, litres=1000.0)
    assert invariants.amounts_grow_with_the_count([replace(one, medium=more), other])


# --- planted in the rules -----------------------------------------------------------------------------------

Rules = dict[str, Any]


def _rule(rules: Rules, file: str, name: str) -> Any:
    return next(each for each in rules[file]["rules"] if each["rule"] == name)


def _kept_dry(rules: Rules) -> None:
    rules["meanwhile.yaml"]["answers"]["leave_cold_never_dry"] = "Keep it dry, airtight and cool."


def _chilled(rules: Rules) -> None:
    _rule(rules, "route.yaml", "cold injures")["when"]["seeds"] = "up to 5"


def _counted_in_doubt(rules: Rules) -> None:
    _rule(rules, "figure.yaml", "in doubt")["when"] = {"alive": "dead"}


def _waits_outdoors(rules: Rules) -> None:
    for name in (
        *("must not dry", "lies moist", "fresh and sown as it falls"),
        *("fresh and not known to bear drying", "not known to stand drying"),
    ):
        _rule(rules, "outdoors_wait.yaml", name)["when"]["shape"] = "heat"


def _sunny_side(rules: Rules) -> None:
    says = rules["place.yaml"]["answers"]["outdoors_mesh"]["says"]
    rules["place.yaml"]["answers"]["outdoors_mesh"]["says"] = says + " The shady side, which is the north."


def _sprouts_wait(rules: Rules) -> None:
    _rule(rules, "keeping.yaml", "has lain moist")["when"]["light"] = "required"
    rules["keeping.yaml"]["given"].append("light")
    _rule(rules, "start.yaml", "wet and cannot wait")["when"]["unit"] = "acorn"


def _up_at_once(rules: Rules) -> None:
    number = next(each for each in rules["practice.yaml"]["practice"] if each["name"] == "up_least_days")
    number["value"] = 0.5


def _longest(rules: Rules) -> None:
    _rule(rules, "span.yaml", "a wide range")["when"] = {"span_times": "over 5000"}


def _a_year_later(rules: Rules) -> None:
    _rule(rules, "span.yaml", "the longest cost a year")["when"]["span_times"] = "over 5000"


def _covered(rules: Rules) -> None:
    rules["finish.yaml"]["answers"]["surface_light"]["says"] += " Keep dark."


BROKEN: list[tuple[str, Callable[[Rules], None]]] = [
    ("no_dry_wait_of_what_dies_dry", _kept_dry),
    ("no_cold_for_what_it_injures", _chilled),
    ("none_doubted_and_promised", _counted_in_doubt),
    ("no_outdoor_wait_past_its_season", _waits_outdoors),
    ("place_right_for_the_hemisphere", _sunny_side),
    ("no_step_contradicts_itself", _covered),
    ("no_sprouting_seed_waits_dry", _sprouts_wait),
    ("up_after_it_was_sown", _up_at_once),
    ("a_wide_range_is_not_planned_by_its_longest", _longest),
    ("no_year_is_lost_to_long_days", _a_year_later),
]


@pytest.mark.long
@pytest.mark.parametrize(("name", "change"), BROKEN, ids=[b[0] for b in BROKEN])
def test_a_rule_that_is_broken_is_found_among_drawn_lots(
    name: str, change: Callable[[Rules], None], library: Library, tmp_path: Path
) -> None:
    rules = rewriting.read()
    change(rules)
    broken = rewriting.tables(rules, tmp_path / "rules")
    assert any(_shown(name, library, broken, 4000))


def _shown(name: str, library: Library, tables: Tables, count: int) -> Iterator[bool]:
    for drawn in lots.awkward(library.names, count):
        one = met(drawn, library, tables)
        yield one is not None and bool(invariants.INVARIANTS[name](one))
