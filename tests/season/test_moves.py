"""Moves that mend the cold room: against every set of moves on small seasons, and against recipes."""

from __future__ import annotations

import itertools
import random
import re
from collections.abc import Sequence
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest
from seasons import DAY, written
from test_plans import assert_same, planned

import coldspell
from coldspell.cli.main import main
from coldspell.season.lot_plan import LotPlan, Wants
from coldspell.season.moves import WEEKS, Mending, mend
from coldspell.season.planning import Planner
from coldspell.season.room import ColdRoom, up
from coldspell.tables.rows import Own, Row

FIRST = date(2027, 1, 4)


def lot(number: int, start: date, days: int, litres: float, spare: int | None) -> LotPlan:
    """An invented lot that lies in the cold for some days up to its sowing."""
    end = start + timedelta(days=days)
    return LotPlan(
        number, Own(), "invented", "Inventa inventa", 10, "dried", "cold", "plan", "", end, end, None, 0, 0,
        spare, (), (), ((start, end),), Wants(room_litres=litres), None, (), {},
    )  # fmt: skip


def peak(plans: Sequence[LotPlan]) -> float:
    """Most litres on any day, by adding them up day by day."""
    by_day: dict[date, float] = {}
    for plan in plans:
        for start, after in plan.cold:
            for i in range((after - start).days):
                by_day[start + timedelta(days=i)] = by_day.get(start + timedelta(days=i), 0.0) + (
                    plan.wants.room_litres
                )
    return max(by_day.values(), default=0.0)


def applied(plans: Sequence[LotPlan], mending: Mending) -> list[LotPlan]:
    after = {move.before.number: move.after for move in mending.moves}
    large = {plan.number for plan in mending.too_large}
    return [after.get(plan.number, plan) for plan in plans if plan.number not in large]


def drawn(draw: random.Random) -> tuple[list[LotPlan], dict[int, list[LotPlan]], float]:
    """Some lots, for each the plans of later days that can be met, and a capacity about what is needed."""
    plans, others = [], {}
    for number in range(1, draw.randrange(3, 7)):
        start = FIRST + timedelta(days=draw.randrange(50))
        plan = lot(
            number, start, draw.randrange(5, 60), draw.choice((1.0, 2.5, 4.0, 7.3)), draw.choice((None, 0, 9))
        )
        plans.append(plan)
        weeks = sorted(draw.sample(range(1, WEEKS + 1), draw.randrange(4)))
        moved = []
        for week in weeks:
            shift = timedelta(days=7 * week)
            moved.append(
                lot(number, start + shift, (plan.cold[0][1] - start).days, plan.wants.room_litres, None)
            )
        others[number] = moved
    return plans, others, round(peak(plans) * draw.uniform(0.5, 1.0), 2)


@pytest.mark.parametrize("seed", range(4))
def test_moves_are_those_of_trying_every_set(seed: int) -> None:
    draw = random.Random(seed)
    fits = near = 0
    for _ in range(60):
        plans, others, capacity = drawn(draw)

        def replan(before: LotPlan, day: date) -> LotPlan | None:
            return next((plan for plan in others[before.number] if plan.sow == day), None)  # noqa: B023

        mending = mend(plans, capacity, replan)
        small = [plan for plan in plans if plan.wants.room_litres <= capacity]
        assert list(mending.too_large) == [plan for plan in plans if plan not in small]
        sets = [
            (sum(one is not two for one, two in zip(way, small, strict=True)), peak(way))
            for way in itertools.product(*[[plan, *others[plan.number]] for plan in small])
        ]
        reached = peak(applied(plans, mending))
        assert reached == pytest.approx(mending.peak)
        least = min(most for _, most in sets)
        assert mending.fits == (least <= capacity + 1e-6)
        if mending.fits:
            fits += 1
            assert reached <= capacity + 1e-6
            assert len(mending.moves) == min(count for count, most in sets if most <= capacity + 1e-6)
        else:
            near += 1
            assert mending.sure
            assert reached <= least + 0.1
            assert len(mending.moves) == min(count for count, most in sets if most <= up(reached) + 1e-6)
    assert fits > 10
    assert near > 10


def test_one_by_one_leaves_no_move_that_is_not_needed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where there are too many sets to try: what is found fits, and without any of its moves it does not."""
    monkeypatch.setattr("coldspell.season.moves._MOST_STEPS", 5)
    draw = random.Random(5)
    found = 0
    for _ in range(200):
        plans, others, capacity = drawn(draw)

        def replan(before: LotPlan, day: date) -> LotPlan | None:
            return next((plan for plan in others[before.number] if plan.sow == day), None)  # noqa: B023

        mending = mend(plans, capacity, replan)
        assert peak(applied(plans, mending)) == pytest.approx(mending.peak)
        if not mending.fits or len(mending.moves) < 2:
            continue
        found += 1
        for move in mending.moves:
            fewer = Mending(
                tuple(m for m in mending.moves if m is not move), True, 0, True, mending.too_large
            )
            assert peak(applied(plans, fewer)) > capacity
    assert found > 5


def test_moves_mend_what_they_say(planner: Planner, tmp_path: Path) -> None:
    said = [
        {
            "lot": f"A{i}",
            "name": name,
            "seeds": 40 * i + 200,
            "moisture": "dried",
            "sow": "2027-03-05" if i % 2 else "2027-04-28",
        }
        for i, name in enumerate(["apple", "apple", "Pyrus communis", "Pyrus communis"] * 6, 1)
    ]
    pairs = planned(planner, written(tmp_path / "lots.csv", said))
    rows = {row.number: row for row, _ in pairs if isinstance(row, Row)}
    plans = [found for _, found in pairs if isinstance(found, LotPlan) and found.cold]
    room = ColdRoom()
    for plan in plans:
        room.add(plan.cold, plan.wants.room_litres)
    capacity = 0.8 * room.peak()[0]
    mending = mend(plans, capacity, lambda lot, day: planner.sown_on(rows[lot.number], day))
    assert mending.moves
    assert mending.fits
    by_number = {move.before.number: move.after for move in mending.moves}
    after = ColdRoom()
    for plan in plans:
        moved = by_number.get(plan.number, plan)
        after.add(moved.cold, moved.wants.room_litres)
    assert after.over(capacity) == []
    for move in mending.moves:
        assert move.after.sow is not None
        recipe = coldspell.recipe(
            move.before.name, today=DAY, seeds=move.before.seeds, moisture="dried", sow=move.after.sow
        )
        assert recipe.timing.fits == "fits"
        assert_same(move.after, recipe)


def page_of(path: Path, capacity: float, capsys: pytest.CaptureFixture[str]) -> str:
    said = ["season", str(path), "--today", DAY.isoformat(), "--no-settings", "--capacity", str(capacity)]
    assert main(said) == 0
    return " ".join(capsys.readouterr().out.partition("COLD ROOM")[2].split())


@pytest.mark.parametrize("share", [0.35, 0.5, 0.6, 0.7, 0.8, 0.9])
def test_what_would_do_does(share: float, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """With the moves that the page names the season fits into the litres that the page names."""
    days = ("2027-03-05", "2027-03-05", "2027-03-19", "2027-04-28", "2027-04-09")
    said = [
        {"lot": f"A{i}", "name": "apple", "seeds": 9000 + 4000 * i, "moisture": "dried", "sow": day}
        for i, day in enumerate(days, 1)
    ]
    path = written(tmp_path / "lots.csv", said)
    whole = re.search(r"the most at once is (\d+(?:\.\d+)?)", page_of(path, 999, capsys))
    assert whole is not None
    capacity = round(float(whole[1]) * share, 1)
    page = page_of(path, capacity, capsys)
    needed = re.search(r"(\d+(?:\.\d+)?) litres would do", page)
    assert needed is not None or "It fits when" in page
    moves = re.findall(r"(A\d) apple, \d+\D?\d+: sow (\d+ \w+) instead of", page)
    for label, day in moves:
        moved = datetime.strptime(f"{day} 2027", "%d %b %Y").date()
        said[int(label[1]) - 1]["sow"] = moved.isoformat()
    path = written(tmp_path / "moved.csv", said)
    enough = float(needed[1]) if needed is not None else capacity
    assert "Everything fits" in page_of(path, enough, capsys)
    assert bool(moves) == ("on other days" in page)
