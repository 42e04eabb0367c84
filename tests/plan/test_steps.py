"""Steps as values: kinds, order and days, without any text. Kinds are real, days those of their records."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from itertools import pairwise

import pytest

from coldspell.plan.plan import Plan
from coldspell.plan.steps import PlanStep, soak_hours
from coldspell.records.do import MOIST

Planned = Callable[..., Plan]


def days(plan: Plan) -> list[tuple[str, date | None, date | None]]:
    return [(step.do, step.start, step.end) for step in plan.steps if step.start is not None]


def test_a_dated_treatment_ends_on_the_sowing_day(planned: Planned) -> None:
    plan = planned("peach", seeds=12, moisture="dried", sow="2027-04-15")
    assert days(plan) == [
        ("hold", date(2026, 11, 25), date(2026, 12, 14)),
        ("soak", date(2026, 12, 14), date(2026, 12, 17)),  # 72 hours at most, common practice
        # 105 days, AH 727, Table 6, p. 885, begun two weeks early: it can wait in the cold (common practice)
        ("cold_moist", date(2026, 12, 17), date(2027, 4, 15)),
        ("sow", date(2027, 4, 15), date(2027, 4, 15)),
    ]
    assert plan.sowing_day == date(2027, 4, 15)


def test_without_a_date_a_spring_day_is_taken(planned: Planned) -> None:
    plan = planned("peach", seeds=12, moisture="dried")
    assert plan.lot.sow is None
    assert days(plan) == days(planned("peach", seeds=12, moisture="dried", sow="2027-04-15"))
    assert plan.sowing_day == date(2027, 4, 15)


def test_spells_follow_each_other_without_a_gap(planned: Planned) -> None:
    plan = planned("Viburnum opulus", seeds=50, moisture="fresh", sow="2028-04-15")
    moist = [step for step in plan.steps if step.do in MOIST]
    assert len(moist) >= 2
    for one, two in pairwise(moist):
        assert one.end == two.start
    assert moist[-1].end <= plan.sowing_day


def test_what_must_not_dry_is_cold_first_and_waits_afterwards(planned: Planned) -> None:
    plan = planned("northern red oak", seeds=40, moisture="fresh", collected="2026-10-12", sow="2027-04-15",
                   today=date(2026, 10, 12))  # fmt: skip
    order = [step.do for step in plan.steps if step.start is not None]
    assert order == ["soak", "cold_moist", "hold", "sow"]
    soak = next(step for step in plan.steps if step.do == "soak")
    assert soak.start == date(2026, 10, 12)


def test_a_lot_under_way_is_not_cleaned_again(planned: Planned) -> None:
    fresh = [step.do for step in planned("apple", seeds=50, moisture="fresh").steps]
    begun = [step.do for step in planned("apple", seeds=50, moisture="fresh", cold_days_done=30).steps]
    assert "remove_pulp" in fresh
    assert "remove_pulp" not in begun


def test_undated_steps_stand_before_dated_ones_and_once(planned: Planned) -> None:
    plan = planned("peach", seeds=12, moisture="fresh", sow="2027-04-15")
    timeless = [step.timeless for step in plan.steps]
    assert timeless == sorted(timeless, reverse=True)
    known = [step.known_by for step in plan.steps if step.timeless]
    assert len(known) == len(set(known))


def test_every_step_has_the_rule_or_the_record_that_it_comes_from(planned: Planned) -> None:
    for name in ("peach", "apple", "northern red oak", "Viburnum opulus", "black locust"):
        for step in planned(name, seeds=12, moisture="dried").steps:
            assert step.rules, (name, step.do)


@pytest.mark.parametrize(
    ("name", "hours"),
    [("northern red oak", (12, 24)), ("pecan", (24, 72)), ("peach", (24, 72)), ("apple", (12, 24)),
     ("Pinus strobus", (24, 48))],
)  # fmt: skip
def test_hours_of_soaking_are_common_practice(
    planned: Planned, practice, name: str, hours: tuple[float, float]
) -> None:  # type: ignore[no-untyped-def]
    assert soak_hours(planned(name, seeds=9).decisions, practice) == hours


def test_a_step_is_known_by_what_is_done_and_not_by_its_day() -> None:
    one, two = PlanStep("soak", (), start=date(2026, 1, 1)), PlanStep("soak", (), start=date(2026, 2, 1))
    assert one.known_by == two.known_by
    assert one != two
    assert PlanStep("soak", ()).timeless
    assert not one.timeless
