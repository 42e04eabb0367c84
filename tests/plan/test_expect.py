"""Which shares are multiplied for a lot. The sums themselves are held against scipy in tests/arithmetic."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import pytest

from coldspell.decide.practice import Practice
from coldspell.plan.plan import Plan

Planned = Callable[..., Plan]


def shares(plan: Plan) -> dict[str, tuple[float, float]]:
    return {one.what: (one.low, one.high) for one in plan.expected.assumed}


def test_a_cut_test_stands_in_for_the_share_that_is_filled(planned: Planned) -> None:
    plan = planned("peach", seeds=50, cut="8/10")
    assert "filled" not in shares(plan)
    # Exact (Clopper-Pearson) 95 % interval of 8 in 10: 44 to 97 percent (any table of binomial intervals)
    assert shares(plan)["cut_test"] == (44, 97)
    (cut,) = (one for one in plan.expected.assumed if one.what == "cut_test")
    assert (cut.some, cut.tried) == (8, 10)


def test_a_float_test_counts_for_fresh_nuts_only(planned: Planned) -> None:
    fresh = planned("northern red oak", seeds=40, moisture="fresh", float="4/20")
    (sank,) = (one for one in fresh.expected.assumed if one.what == "float_test")
    assert (sank.some, sank.tried) == (16, 20)
    assert "float_test" not in shares(planned("English walnut", seeds=40, moisture="dried", float="4/20"))
    assert "float_test" not in shares(planned("apple", seeds=40, moisture="fresh", float="4/20"))


def test_rot_is_reckoned_where_seed_lies_moist(planned: Planned, practice: Practice) -> None:
    assert shares(planned("apple", seeds=40))["rot"] == practice.rot_percent
    assert "rot" not in shares(planned("white oak", seeds=40, moisture="fresh"))


@pytest.mark.parametrize("place", ["container", "bed", "site"])
def test_plants_are_lost_by_where_they_grow(planned: Planned, practice: Practice, place: str) -> None:
    found = shares(planned("apple", seeds=40, grow_in=place))["plants"]
    assert found == getattr(practice, f"plants_{place}_percent")


def test_plants_lie_within_the_seeds_and_more_seeds_give_more(planned: Planned) -> None:
    few, many = (planned("apple", seeds=n).expected.plants for n in (20, 200))
    assert 0 <= few.low <= few.mean <= few.high <= 20
    assert few.mean < many.mean


def test_seeds_for_the_plants_wanted_give_them_nine_times_in_ten(planned: Planned) -> None:
    wanted = planned("apple", seeds=40, want=20).expected.seeds_for_wanted
    assert wanted > 20
    enough = planned("apple", seeds=wanted).expected.plants
    assert enough.low <= 20 <= enough.mean
    assert planned("apple", seeds=40).expected.seeds_for_wanted is None


def test_plants_wanted_without_a_count_are_a_lot_of_as_many_seeds_as_they_take(planned: Planned) -> None:
    for kind in ("silver birch", "Corylus avellana", "apple"):
        plan = planned(kind, want=500)
        assert plan.decisions.size.seeds == plan.lot.seeds == plan.expected.seeds_for_wanted
        assert plan.expected.plants.low <= 500 <= plan.expected.plants.mean
    assert planned("apple", seeds=40, want=500).lot.seeds == 40


def test_without_the_cold_that_helps_fewer_are_expected(planned: Planned) -> None:
    """What the page says in words: silver birch of many lots, 36 % without cold and light, AH 727 p. 309."""
    for kind in ("silver birch", "Scots pine", "lilac", "purple coneflower", "Sitka spruce"):
        whole = planned(kind, seeds=1000, moisture="dried", sow=date(2028, 4, 15), today=date(2027, 11, 1))
        short = planned(kind, seeds=1000, moisture="dried", sow=date(2027, 6, 28), today=date(2027, 6, 21))
        assert short.decisions.chosen.left_out, kind
        assert not whole.decisions.chosen.left_out, kind
        assert short.expected.plants.mean < whole.expected.plants.mean, kind
