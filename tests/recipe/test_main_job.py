"""The questions an adviser is asked every autumn, against handbook pages and common practice.

AH 727 is Bonner & Karrfalt (2008), The Woody Plant Seed Manual, USDA Agriculture Handbook 727.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date

import pages
import pytest

from coldspell.errors import ColdspellError
from coldspell.write.recipe import Recipe
from coldspell.write.recipe_work import Step

Ask = Callable[..., Recipe]
Page = Callable[..., str]


def cold(recipe: Recipe) -> list[Step]:
    """The cold steps of a recipe."""
    return [s for s in recipe.steps if s.do == "cold_moist"]


def used(recipe: Recipe) -> str:
    """The name of the treatment in use."""
    return next(t.name for t in recipe.treatments if t.status == "used")


# -- white oaks: no cold before the root (AH 727, Table 4, p. 936; drying and sprouting, pp. 934-935) --


def test_white_oak_is_sown_or_held_at_once(ask: Ask, page: Page) -> None:
    recipe = ask("white oak", seeds=25, moisture="fresh", today=date(2026, 10, 15))
    assert recipe.route == "sow_now_or_hold"
    assert not cold(recipe)
    said = page("white oak", seeds=25, moisture="fresh", today=date(2026, 10, 15))
    assert "Never let them dry" in said
    assert "90 days" not in said
    assert "three months" not in said.lower()


def test_rooted_white_oak_in_november_is_normal_and_kept_cold(ask: Ask, page: Page) -> None:
    said = {"seeds": 25, "moisture": "fresh", "rooted": 25, "root_mm": 20, "today": date(2026, 11, 15)}
    assert ask("white oak", **said).route == "pot_and_keep_cold"
    text = page("white oak", **said)
    assert "the root comes in autumn, the leaf in spring" in text
    assert "root down" in text
    assert "do not freeze until spring" in text


@pytest.mark.parametrize(("origin", "least", "most"), [("north", 60, 60), ("unknown", 0, 0)])
def test_bur_oak_cold_is_optional_and_longer_for_northern_seed(
    ask: Ask, origin: str, least: float, most: float
) -> None:
    # AH 727 p. 935: northern bur oak gains from 60 days of stratification, the group needs none.
    recipe = ask("bur oak", seeds=25, origin=origin, today=date(2026, 10, 15))
    steps = cold(recipe)
    if origin == "north":
        assert steps[0].need == "optional"
        assert (steps[0].days[0], steps[0].days[2]) == (least, most)
    else:
        assert all(s.need == "optional" for s in steps)


# -- northern red oak (AH 727, Table 4, p. 936: 30-45 days; moisture and frost, pp. 934-935) --


def test_red_oak_bag_layers_and_days(ask: Ask) -> None:
    recipe = ask("northern red oak", seeds=12, moisture="fresh", collected="2026-10-12", sow="2027-04-15",
                 bag="270x280", today=date(2026, 10, 12))  # fmt: skip
    step = cold(recipe)[0]
    assert (step.days[0], step.days[2]) == (30, 45)
    assert step.celsius[0] >= 1
    assert step.celsius[2] <= 5
    assert (step.start, step.end) == (
        "2026-10-13",
        "2026-11-27",
    )  # it must not dry, so its cold begins at once
    assert recipe.hold.until > "2027-04-15"
    assert recipe.medium.form == "bag"
    layout = recipe.layout
    assert layout.gap_mm == 25  # common practice
    assert "25–50 mm" in layout.says  # common practice
    assert layout.layers * layout.per_layer * recipe.medium.containers >= 12


def test_red_oak_area_and_height_both_bind(ask: Ask) -> None:
    """Boxes of like volume: the low one holds one layer only, the narrow one few acorns a layer."""
    low = ask("northern red oak", seeds=24, container="500x500x80").layout
    narrow = ask("northern red oak", seeds=24, container="95x95x2000").layout
    assert low.layers == 1
    assert narrow.per_layer <= (95 // low.pitch_mm + 1) ** 2
    with pytest.raises(ColdspellError, match="no seed of this size fits"):
        ask("northern red oak", seeds=24, container="10x10x10")


def test_dry_red_oak_is_tested_beside_its_cold_and_promised_nothing(ask: Ask, page: Page) -> None:
    """Firm and cream may be dead once dried (common practice): growth on wet paper tells, cold goes on."""
    said = {"seeds": 40, "moisture": "dried", "days_dry": 60}
    recipe = ask("northern red oak", **said)
    assert recipe.verdict.alive == "test_alongside"
    assert cold(recipe)
    assert recipe.expectation is not None
    assert recipe.expectation.plants is None
    text = page("northern red oak", **said)
    assert "ten on wet paper" in text.lower()
    assert "gather anew" in text
    assert not re.search(r"\bare dead\b(?!.*cut)", recipe.verdict.sentence)


def test_dry_red_oak_that_passed_the_cut_test_goes_on(ask: Ask) -> None:
    recipe = ask("northern red oak", seeds=40, moisture="dried", cut="7/10")
    assert recipe.verdict.alive == "revive"
    assert cold(recipe)


# -- hickories (Bonner 1976, Tree Planters' Notes 27(4)) --


@pytest.mark.parametrize("years", [0, 3])
def test_pecan_fresh_and_stored_alike(ask: Ask, years: float) -> None:
    moisture = "dried" if years else "fresh"
    days = cold(ask("pecan", seeds=20, moisture=moisture, stored_years=years))[0].days
    assert (days[0], days[2]) == (30, 60)


@pytest.mark.parametrize(("years", "low", "high"), [(0, 90, 120), (3, 60, 60)])
def test_shagbark_by_years_in_store(ask: Ask, years: float, low: float, high: float) -> None:
    moisture = "dried" if years else "fresh"
    days = cold(ask("shagbark hickory", seeds=20, moisture=moisture, stored_years=years))[0].days
    assert (days[0], days[2]) == (low, high)


# -- pips and stones --


def planned(days: tuple[float, float | None, float]) -> float:
    """The usual days, else the most."""
    return days[2] if days[1] is None else days[1]


def test_apple_pips_in_a_towel_and_why(ask: Ask, page: Page) -> None:
    recipe = ask("apple", seeds=15)
    assert recipe.medium.form == "towel_roll"
    text = page("apple", seeds=15)
    assert "lost in loose medium" in text
    days = cold(recipe)[0].days
    assert 60 <= planned(days) <= 100  # about three months, common practice
    assert "Sow cool" in text
    assert "do not come true" in text
    assert "rootstocks" in text
    assert "graft" in text


@pytest.mark.parametrize("name", ["apple", "pear", "peach", "pecan", "English walnut", "sweet cherry"])
def test_the_one_page_says_what_seedlings_are_good_for(ask: Ask, name: str) -> None:
    # common practice: seedlings of named fruit serve as rootstocks, grafted after a year to three
    said = " ".join(pages.short(ask(name, seeds=15)).split())
    assert re.search(r"serve as rootstocks: graft the wanted variety when the stem is .+ thick", said)


def test_peach_stones_and_kernels_differ(ask: Ask) -> None:
    # AH 727, Table 6, p. 885: 98-105 days intact, 70-105 with the endocarp removed; kernels alone far fewer.
    whole, kernel = ask("peach", seeds=7), ask("peach", seeds=7, shell="kernel")
    assert whole.medium.form == "bag"
    assert kernel.medium.form == "towel_roll"
    first, second = cold(whole)[0].days, cold(kernel)[0].days
    assert planned(second) <= planned(first) - 14


def test_black_cherry_is_too_long_for_a_towel_and_ranges_stay_apart(ask: Ask) -> None:
    # AH 727, Table 6, p. 885: 120 days until ready; 14 warm + 189 cold until sprouted in the cold.
    recipe = ask("black cherry", seeds=100)
    assert recipe.medium.form in ("pouch", "sand_mix")
    step = cold(recipe)[0]
    assert planned(step.days) == 120
    assert step.until == "ready"
    assert [t.name for t in recipe.treatments if t.status == "possible"] == ["warm-then-cold"]
    for each in recipe.steps:
        assert each.days is None or each.days[2] <= 120


def test_hazards_are_shown(page: Page) -> None:
    assert "prussic acid" in page("peach", seeds=5)
    assert "prussic acid" in page("apple", seeds=5)
    assert "Not the edible sweet chestnut" in page("horse-chestnut", seeds=5)
    assert "husk" in page("black walnut", seeds=5).lower()
    assert "allergy" in page("English walnut", seeds=5, children="yes").lower()


def test_hazards_are_shown_on_a_refusal_too(page: Page) -> None:
    assert "prussic acid" in page("peach", seeds=5, heated="yes")


# -- time --


def test_too_little_time_says_which_constraint_by_how_many_days_and_what_then(ask: Ask) -> None:
    recipe = ask("black cherry", seeds=30, sow="2027-01-10", today=date(2026, 11, 25))
    assert recipe.verdict.feasible is False
    assert recipe.timing.constraint == "today"
    assert recipe.timing.days_short == 120 - 46
    assert recipe.timing.ways_out
    assert str(recipe.timing.days_short) in recipe.verdict.sentence


def test_a_short_time_uses_the_shortest_days_and_says_so(ask: Ask) -> None:
    recipe = ask("black cherry", seeds=30, sow="2027-03-10", today=date(2026, 11, 25))
    assert recipe.timing.fits == "tight"
    step = cold(recipe)[0]
    assert step.start == "2026-11-25"
    assert step.end == "2027-03-10"


def test_sowing_before_gathering_is_an_error(ask: Ask) -> None:
    with pytest.raises(ColdspellError, match="before the day the seed was collected"):
        ask("peach", collected="2026-09-01", sow="2026-08-01")


@pytest.mark.parametrize(("celsius", "mend", "wrong"), [(12, "colder", "warmer"), (-5, "warmer", "colder")])
def test_a_refrigerator_that_does_not_serve_is_said_first(
    ask: Ask, celsius: float, mend: str, wrong: str
) -> None:
    # common practice: cold counts between freezing and about ten degrees
    first = ask("peach", seeds=20, fridge_celsius=celsius).notes[0]
    assert f"Set the refrigerator {mend}" in first
    assert wrong not in first


@pytest.mark.parametrize("celsius", [1, 4])
def test_a_refrigerator_that_serves_is_not_spoken_of(ask: Ask, celsius: float) -> None:
    assert not [n for n in ask("peach", seeds=20, fridge_celsius=celsius).notes if "refrigerator" in n]


@pytest.mark.parametrize("seeds", ["0", "-1", "1e10", "nan", "ten"])
def test_impossible_numbers_of_seeds(ask: Ask, seeds: str) -> None:
    with pytest.raises(ColdspellError, match="seeds"):
        ask("peach", seeds=seeds)


def test_a_thousand_million_seeds_are_answered(ask: Ask) -> None:
    recipe = ask("peach", seeds=1e9)
    assert recipe.medium.litres > 1e6


# -- law and tests -------------------------------------------------------------------------------------


def test_law_is_dated_and_turns_stale(page: Page) -> None:
    now = page("black walnut", seeds=5, place="California, USA")
    assert "seen 2026-11-25; ask locally" in now
    assert "more than two years old" not in now
    later = page("black walnut", seeds=5, place="California, USA", today=date(2029, 1, 15))
    assert "more than two years old" in later
    assert "allowed" not in now.split("Law")[1].split("Reckoned")[0]


def test_a_cut_test_says_what_it_can_mean(page: Page) -> None:
    # Exact (Clopper-Pearson) 95 % interval of 8 in 10: 44 to 97 percent (any table of binomial intervals).
    assert "8 of 10, which can mean 44–97 %" in page("peach", seeds=50, cut="8/10")
