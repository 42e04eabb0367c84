"""Dates: order, bounds, and infeasible exactly when a search over days finds nothing.

Sources beside the checks; the searches are written anew here and share no code with the module.
"""

from __future__ import annotations

import random
from datetime import date, timedelta
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coldspell.arithmetic.calendar import Infeasible, Plan, plan_back, plan_forward
from coldspell.arithmetic.lengths import (
    DatedStep,
    StepDays,
    add_days,
    longest_days,
    same_day,
    total_days,
    whole_days,
)
from coldspell.arithmetic.seasons import (
    in_months,
    months_between,
    season_month,
    target_from_last_frost,
)
from coldspell.errors import ColdspellError

TARGET = date(2027, 4, 15)


@st.composite
def some_steps(draw: st.DrawFn) -> list[StepDays]:
    steps = []
    for i in range(draw(st.integers(0, 3))):
        low = draw(st.integers(0, 12))
        high = low + draw(st.integers(0, 12))
        usual = draw(st.one_of(st.none(), st.integers(low, high)))
        until = draw(st.sampled_from(["ready", "ready", "rooted", "sprouted"]))
        steps.append(StepDays(f"step{i}", low, high, usual, until))
    return steps


def brute_force(steps, today, collected, hold, wait, shortened) -> list[int]:
    """Every start that a grower could choose, as days from the target: from the definitions alone."""
    fits = []
    needs, most = [], []
    for s in steps:
        planned = s.high_days if s.usual_days is None else s.usual_days
        fixed = s.until != "ready"
        needs.append(planned if fixed or not shortened else s.low_days)
        most.append((s.low_days if fixed else s.high_days, s.low_days, planned))
    longest = max(sum(m[0] for m in most), sum(m[1] for m in most) + (hold or 0), sum(m[2] for m in most))
    begin = [x for x in (today, collected) if x is not None]
    since = collected if collected is not None else today
    for start in range(-130, 61):  # no case below takes more than 3 x 24 + 40 days
        long_enough = -start >= sum(needs)
        not_too_long = -start <= longest
        begun = all(start >= x for x in begin)
        if wait is None or since is None:
            if long_enough and begun:
                fits.append(start)
        elif long_enough and begun and not_too_long and start <= since + wait:
            fits.append(start)
    return fits


def a_case(rng: random.Random) -> tuple[list[StepDays], list[int | None], bool]:
    """Steps, and today, gathering, hold and wait; half of the days near a turning point."""
    steps = []
    for i in range(rng.randint(0, 3)):
        low = rng.randint(0, 12)
        high = low + rng.randint(0, 12)
        usual = rng.choice([None, rng.randint(low, high)])
        until = rng.choice(["ready", "ready", "rooted", "sprouted"])
        steps.append(StepDays(f"step{i}", low, high, usual, until))
    hold, wait = (rng.choice([None, rng.randint(0, most)]) for most in (40, 60))
    turns = [-s for s in total_days(steps)] + [-longest_days(steps, hold) - (wait or 0)]
    near = [rng.choice([rng.randint(-60, 60), rng.choice(turns) + rng.randint(-3, 3)]) for _ in range(2)]
    today, collected = (rng.choice([None, max(-60, day)]) for day in near)
    return steps, [today, collected, hold, wait], rng.random() < 0.5


def test_infeasible_exactly_when_no_day_fits() -> None:
    """Each of 20 single mistakes put into the plan by hand is caught by 4 or more of these cases."""
    rng = random.Random(2027)
    for _ in range(3_000):
        steps, (today, collected, hold, wait), shortened = a_case(rng)
        first, gathered = (None if x is None else TARGET + timedelta(days=x) for x in (today, collected))
        found = plan_back(
            TARGET, steps, first, gathered, hold, wait_before_days_max=wait, shortened=shortened
        )
        fits = brute_force(steps, today, collected, hold, wait, shortened)
        case = (steps, today, collected, hold, wait, shortened)
        assert isinstance(found, Plan) == bool(fits), case
        if isinstance(found, Plan):
            assert (found.start - TARGET).days in fits, case
            check_order(found, steps)


def check_order(plan: Plan, steps: list[StepDays]) -> None:
    at = plan.start
    for dated, step in zip(plan.steps, steps, strict=True):
        assert dated.start == at
        assert dated.start_earliest <= dated.start <= dated.start_latest
        assert dated.end_earliest <= dated.end <= dated.end_latest
        assert step.low <= dated.days <= step.high
        assert dated.least_end <= dated.end
        at = dated.end
    assert plan.ready == at <= plan.target
    assert plan.ready_earliest <= plan.ready <= plan.ready_latest
    assert plan.window_first <= plan.start <= plan.window_last
    assert plan.slack_days == (plan.window_last - plan.start).days >= 0
    assert plan.hold_after_days == (plan.target - plan.ready).days
    assert plan.hold_until >= plan.ready
    if not plan.ends_on_event:
        assert plan.ready_earliest == plan.ready_latest == plan.ready


@given(some_steps(), st.integers(-60, 60), st.one_of(st.none(), st.integers(0, 40)))
def test_mends_really_mend(steps, today, hold) -> None:
    first = TARGET + timedelta(days=today)
    found = plan_back(TARGET, steps, first, None, hold)
    if isinstance(found, Plan):
        return
    assert isinstance(plan_back(found.sow_date, steps, first, None, hold), Plan)
    assert isinstance(plan_back(found.sow_date - timedelta(days=1), steps, first), Infeasible)
    assert isinstance(plan_back(found.sow_date_low, steps, first, shortened=True), Plan)
    moved = TARGET + timedelta(days=found.days_short)
    assert isinstance(plan_back(moved, steps, first), Plan)
    later = plan_back(found.next_target, steps, first)
    assert isinstance(later, Plan)
    assert later.wait_before_days == found.next_wait_days
    assert (found.next_target.month, found.next_target.day) == (TARGET.month, TARGET.day)


@given(some_steps(), st.integers(0, 20), st.integers(0, 30))
def test_seed_that_cannot_wait_so_long(steps, wait, hold) -> None:
    collected = TARGET - timedelta(days=150)
    found = plan_back(TARGET, steps, None, collected, hold, wait_before_days_max=wait)
    if isinstance(found, Infeasible):
        assert found.constraint == "wait_before"
        longer = wait + found.days_short
        assert isinstance(plan_back(TARGET, steps, None, collected, hold, wait_before_days_max=longer), Plan)
        less = wait + found.days_short - 1
        again = plan_back(TARGET, steps, None, collected, hold, wait_before_days_max=less)
        assert isinstance(again, Infeasible)
        nearer = plan_back(found.sow_date, steps, None, collected, hold, wait_before_days_max=wait)
        assert isinstance(nearer, Plan)


@given(some_steps(), st.integers(0, 40))
def test_forward_is_the_reverse_of_back(steps, hold) -> None:
    forward = plan_forward(date(2026, 11, 1), steps, hold_days=hold)
    back = plan_back(forward.ready, steps, hold_days=hold)
    assert isinstance(back, Plan)
    assert back.start == forward.start
    assert back.steps == forward.steps


def test_black_cherry_events_give_ranges() -> None:
    """Two end points never merged (trade trap 6): 14 warm + up to 189 cold until sprouted."""
    steps = [StepDays("warm_moist", 14, 14), StepDays("cold_moist", 120, 189, until="sprouted")]
    plan = plan_back(date(2027, 5, 1), steps)
    assert isinstance(plan, Plan)
    assert plan.ends_on_event
    assert (plan.ready_latest - plan.ready_earliest).days == 69
    assert plan.ready == plan.ready_latest == date(2027, 5, 1)
    cold: DatedStep = plan.steps[1]
    assert cold.start_earliest == cold.start_latest


def test_red_oak_window_as_in_the_sample() -> None:
    """30-45 days, may wait 60: window from the hold or the high end, whichever is longer."""
    plan = plan_back(
        date(2027, 4, 15),
        [StepDays("cold_moist", 30, 45)],
        date(2026, 10, 12),
        date(2026, 10, 12),
        60,
    )
    assert isinstance(plan, Plan)
    assert plan.start == date(2027, 3, 1)
    assert plan.window_first == date(2027, 1, 15)
    assert plan.window_last == date(2027, 3, 16)
    assert plan.slack_days == 15
    assert plan.wait_before_days == 140


def test_too_late_says_by_how_much() -> None:
    found = plan_back(date(2027, 4, 15), [StepDays("cold_moist", 90, 120)], date(2027, 1, 20))
    assert isinstance(found, Infeasible)
    assert (found.constraint, found.available_days, found.needed_days) == ("today", 85, 120)
    assert (found.days_short, found.days_short_low) == (35, 5)
    assert found.sow_date == date(2027, 5, 20)
    assert found.sow_date_low == date(2027, 4, 20)
    assert found.next_target == date(2028, 4, 15)


def test_target_before_collection() -> None:
    found = plan_back(date(2026, 4, 1), [StepDays("cold", 30, 30)], date(2026, 3, 1), date(2026, 10, 1))
    assert isinstance(found, Infeasible)
    assert found.constraint == "collected"
    assert found.target_passed


def test_shortened_gives_days_to_the_last_step_first() -> None:
    steps = [StepDays("warm", 30, 60), StepDays("cold", 90, 120)]
    plan = plan_back(TARGET, steps, TARGET - timedelta(days=140), shortened=True)
    assert isinstance(plan, Plan)
    assert plan.shortened
    assert [s.days for s in plan.steps] == [30, 110]


@pytest.mark.parametrize(
    "make",
    [
        lambda: StepDays("x", 5, 3),
        lambda: StepDays("x", -1, 3),
        lambda: StepDays("x", 1, float("nan")),
        lambda: StepDays("x", 1, 3, 9),
        lambda: StepDays("x", 1, 3, until="done"),
        lambda: add_days(date(9999, 12, 31), 1),
        lambda: same_day(date(2028, 2, 29), 10000),
        lambda: season_month(13, southern=True),
        lambda: target_from_last_frost(date(2027, 5, 1), "roof"),
        lambda: plan_back(date(1, 1, 5), [StepDays("x", 90, 90)]),
    ],
)
def test_one_clear_error(make) -> None:
    with pytest.raises(ColdspellError) as caught:
        make()
    assert "Traceback" not in str(caught.value)


@given(st.floats(0, 1000))
def test_whole_days_are_near(days: float) -> None:
    assert days - 0.5 <= whole_days(days) < days + 1


def test_hemispheres() -> None:
    for month, southern in product(range(1, 13), (False, True)):
        assert season_month(season_month(month, southern), southern) == month
    assert months_between(11, 2) == (11, 12, 1, 2)
    assert len(months_between(5, 4)) == 12
    assert in_months(date(2027, 1, 31), 11, 1)
    assert not in_months(date(2027, 2, 1), 11, 1)
    assert in_months(date(2027, 5, 1), 11, 1, southern=True)
