"""A season against what it is made of: recipes one by one, sums by brute force, rows in and rows out."""

from __future__ import annotations

import copy
import json
import os
import random
import re
from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from itertools import pairwise
from pathlib import Path
from typing import Any

import lots as drawn
import pytest
from seasons import DAY, some_lots, written

import coldspell
from coldspell.ask import find
from coldspell.cli.main import main
from coldspell.lot.read import make_lot
from coldspell.season.build import Building
from coldspell.season.due import Working, as_worked, looks_as_worked
from coldspell.season.lot_plan import LotPlan
from coldspell.season.planning import Planner, Setting
from coldspell.tables.read import open_lots
from coldspell.tables.rows import Own, Refused, Row
from coldspell.write.recipe import Recipe


def planned(planner: Planner, path: Path) -> list[tuple[Row | Refused, LotPlan | Refused]]:
    with open_lots(str(path)) as table:
        rows = list(table)
    return [(row, row if isinstance(row, Refused) else planner.plan(row)) for row in rows]


def iso(day: date | None) -> str | None:
    return None if day is None else day.isoformat()


FULL = os.environ.get("COLDSPELL_FULL") == "1"


@pytest.mark.parametrize("seed", [1, 2])
def test_every_date_and_amount_is_that_of_the_recipe(planner: Planner, tmp_path: Path, seed: int) -> None:
    said = some_lots(planner, 220 if FULL else 110, seed)
    path = written(tmp_path / "lots.csv", said)
    library = coldspell.Library()
    refused = 0
    for lot, (_, found) in zip(said, planned(planner, path), strict=True):
        facts = {k: v for k, v in lot.items() if k not in ("lot", "name", "bench")}
        try:
            recipe = library.recipe(lot["name"], today=DAY, **facts)
        except coldspell.ColdspellError as error:
            refused += 1
            told = error.what
        else:
            told = ""
        if told:
            assert isinstance(found, Refused)
            assert told in {fault.what for fault in found.faults}
            continue
        assert isinstance(found, LotPlan), str(found)
        assert_same(found, recipe)
        assert found.carried == {"bench": str(lot["bench"])}
    assert refused < 30


def on_day(planner: Planner, day: date) -> Planner:
    """The same planner with another day for today."""
    other = copy.copy(planner)
    other.setting = Setting(day)
    return other


AWKWARD = int(os.environ.get("COLDSPELL_AWKWARD_LOTS", "250" if FULL else "150"))


@pytest.mark.parametrize("seed", [44, 45])
def test_lots_with_any_four_facts_on_any_day_are_those_of_the_recipe(planner: Planner, seed: int) -> None:
    library = coldspell.Library()
    same = refused = 0
    for lot in drawn.awkward(planner.records.names, AWKWARD, seed):
        day, said = date.fromisoformat(lot["today"]), lot["said"]
        told = wanted = ""
        found = recipe = None
        try:
            recipe = library.recipe(lot["name"], today=day, **said)
        except coldspell.ColdspellError as error:
            wanted = error.what
        try:
            row = Row(1, lot["name"], make_lot(said), Own(), said, {}, {})
            found = on_day(planner, day).dated(row, row.lot)
        except coldspell.ColdspellError as error:
            told = error.what
        assert told == wanted, lot
        if found is not None and recipe is not None:
            assert_same(found, recipe)
            same += 1
        refused += bool(told)
    assert same > 0.6 * AWKWARD
    assert refused > 0.01 * AWKWARD


def assert_same(found: LotPlan, recipe: Recipe) -> None:
    steps = sorted((e.day.isoformat(), e.end.isoformat(), e.what) for e in found.events if e.kind != "look")
    assert steps == sorted((s.start, s.end or s.start, s.do) for s in recipe.steps if s.start is not None)
    assert_same_looks(found, recipe)
    undated = [s for s in recipe.steps if s.start is None and s.do != "sow"]
    to_do = [s.do for s in undated if not s.text.startswith("No float test")]
    assert found.first == tuple(dict.fromkeys(to_do))
    assert iso(found.sow) == next((s.start for s in recipe.steps if s.do == "sow"), None)
    assert (found.short, found.late) == (
        recipe.timing.days_short if recipe.timing.fits == "too_short" else 0,
        recipe.timing.days_short if recipe.timing.fits == "tight" else 0,
    )
    w = found.wants
    if recipe.medium is not None and recipe.medium.space_litres is not None:
        assert found.wants.room_litres == pytest.approx(recipe.medium.space_litres, rel=0.006)
        assert sum((w.bags, w.boxes, w.trays, w.rolls)) == (recipe.medium.containers or 0) or (
            recipe.medium.containers is None
        )
    if recipe.expectation is not None:
        assert found.plants == recipe.expectation.plants


def assert_same_looks(found: LotPlan, recipe: Recipe) -> None:
    """Looks on the days of the recipe; where it only says how often, never further apart."""
    if recipe.checks is None or recipe.checks.dates or not found.looks:
        assert [iso(day) for day in found.looks] == list(recipe.checks.dates if recipe.checks else ())
        return
    (wait,) = [e for e in found.events if e.what == "hold"]
    days = (wait.day, *found.looks)
    assert days[-1] == wait.end
    assert recipe.checks.every_days_after is not None
    apart = [(two - one).days for one, two in pairwise(days)]
    assert all(0 < gap <= recipe.checks.every_days_after for gap in apart)


def plan_of(planner: Planner, path: Path, day: date, **lot: Any) -> LotPlan:
    ((_, found),) = planned(on_day(planner, day), written(path, [lot]))
    assert isinstance(found, LotPlan), str(found)
    return found


@pytest.mark.parametrize("name", ["northern red oak", "apple", "Prunus avium"])
def test_a_lot_whose_cold_is_done_lies_in_the_cold_until_it_is_sown(
    planner: Planner, tmp_path: Path, name: str
) -> None:
    """As its recipe says: moist and cold, looked at weekly; the room is what the same lot took before."""
    lot = {"name": name, "seeds": 250, "moisture": "fresh", "sow": "2027-04-15"}
    whole = plan_of(planner, tmp_path / "a.csv", DAY, **lot)
    today = date(2027, 3, 5)
    found = plan_of(planner, tmp_path / "b.csv", today, **lot, cold_days_done=150)
    assert found.route == "sow_now_wintered"
    assert found.cold == ((today, date(2027, 4, 15)),)
    assert found.wants.room_litres == pytest.approx(whole.wants.room_litres)
    assert found.wants.room_litres > 0
    assert [day.isoformat() for day in found.looks] == [
        "2027-03-12", "2027-03-19", "2027-03-26", "2027-04-02", "2027-04-09", "2027-04-15",
    ]  # fmt: skip
    untold = plan_of(planner, tmp_path / "c.csv", today, **lot, collected="2026-10-05")
    if untold.route == found.route:  # what is taken to have wintered lies in as much
        assert untold.wants.room_litres == pytest.approx(whole.wants.room_litres)
    worked = as_worked(found, Working(4, ((date(2027, 3, 24), date(2027, 3, 29)),)))
    assert date(2027, 3, 26) not in worked.looks
    assert {date(2027, 3, 23), date(2027, 3, 30)} <= set(worked.looks)


def test_what_is_not_to_be_done_is_no_task(planner: Planner, tmp_path: Path) -> None:
    """Dry stones float though they are sound: the recipe warns of the test, and the season asks for none."""
    lot = {"name": "Prunus avium", "seeds": 200, "moisture": "dried", "sow": "2027-04-15"}
    assert "test" not in plan_of(planner, tmp_path / "a.csv", DAY, **lot).first
    fresh = plan_of(planner, tmp_path / "b.csv", DAY, **{**lot, "name": "Juglans regia", "moisture": "fresh"})
    assert "test" in fresh.first


def test_looks_that_are_not_on_the_look_day_are_named_with_their_weekday(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    lot = {"lot": "A1", "name": "apple", "seeds": 100, "moisture": "dried", "sow": "2027-04-15"}
    path = str(written(tmp_path / "lots.csv", [lot, {**lot, "lot": "A2", "sow": "2027-03-10"}]))
    usual = ["season", path, "--today", "2026-11-30", "--look-day", "friday"]
    assert main([*usual, "--closed", "2026-12-21..2027-01-03"]) == 0
    page = " ".join(capsys.readouterr().out.split())
    assert "Mon 4 Jan" in page
    assert "20 Dec" not in page  # the Friday before is soon enough, and that is no day of the week to work on
    assert "none later than its kind allows" not in page


def test_litres_by_day_are_the_sum_over_the_lots(planner: Planner, tmp_path: Path) -> None:
    path = written(tmp_path / "lots.csv", some_lots(planner, 400, 3))
    plans: list[LotPlan] = []

    def keep(found: LotPlan | Refused) -> None:
        if isinstance(found, LotPlan):
            plans.append(found)

    building = Building(planner, None, (keep,))
    with open_lots(str(path)) as table:
        building.run(table)
    room = building.totals.room
    assert sum(bool(p.cold) for p in plans) > 100
    by_day: dict[date, float] = {}
    for plan in plans:
        for first, after in plan.cold:
            day = first
            while day < after:
                by_day[day] = by_day.get(day, 0.0) + plan.wants.room_litres
                day += timedelta(days=1)
    spread: dict[date, float] = {}
    for first_ordinal, after_ordinal, litres in room.spans():
        for ordinal in range(first_ordinal, after_ordinal):
            spread[date.fromordinal(ordinal)] = litres
    for day in by_day.keys() | spread.keys():
        assert spread.get(day, 0.0) == pytest.approx(by_day.get(day, 0.0), abs=1e-3)
    most = max(by_day.values())
    assert room.peak()[0] == pytest.approx(most, abs=1e-3)
    over = {day for day, litres in by_day.items() if litres > most / 2}
    runs = [spell for spell, _ in room.over(most / 2)]
    assert over == {a + timedelta(days=i) for a, b in runs for i in range((b - a).days)}


def test_rows_in_are_rows_planned_and_refused(planner: Planner, tmp_path: Path) -> None:
    said: list[dict[str, Any]] = some_lots(planner, 60, 4)
    for i in (5, 17, 40):
        said[i] = {**said[i], "sow": "never"}
    said[20] = {**said[20], "name": "no such plant"}
    building = Building(planner)
    with open_lots(str(written(tmp_path / "lots.csv", said))) as table:
        building.run(table)
    assert building.totals.planned + building.refused_count == 60
    assert {7, 19, 22, 42} <= {row.place.line for row in building.refused}


@pytest.mark.parametrize("name", ["Zilpherium blotwoodii", "unknown"])
def test_what_nothing_is_known_of_is_refused(planner: Planner, tmp_path: Path, name: str) -> None:
    """No day can be planned by a name alone; a kind of a genus on record is planned, or says why not."""
    known = {"lot": "B", "name": "Quercus ilicifolia Wangenh.", "moisture": "fresh"}
    lots = [{"lot": "A", "name": name, "moisture": "dried"}, known]
    (_, found), (_, other) = planned(planner, written(tmp_path / "lots.csv", lots))
    assert isinstance(found, Refused)
    assert name in found.faults[0].what
    assert found.faults[0].mend
    assert isinstance(other, LotPlan)


@pytest.mark.parametrize("weekday", range(7))
def test_looks_on_a_fixed_day_are_never_later(planner: Planner, tmp_path: Path, weekday: int) -> None:
    path = written(tmp_path / "lots.csv", some_lots(planner, 80, 5 + weekday))
    seen = 0
    for _, found in planned(planner, path):
        if not isinstance(found, LotPlan) or not found.looks:
            continue
        due = found.looks
        starts = [e.day for e in found.events if e.kind in ("start", "move") and e.day < due[0]]
        if not starts:
            continue
        seen += 1
        start = max(starts)
        looks, unseen = looks_as_worked(start, due, Working(weekday))
        assert not unseen
        assert looks[-1] == due[-1]
        assert all(one < two for one, two in zip((start, *looks), looks, strict=False))
        # on every day the time since the last look is no longer than the plan allows there
        for day in range(1, (due[-1] - start).days + 1):
            at = start + timedelta(days=day)
            since = (at - max(d for d in (start, *looks) if d < at)).days
            before = max(d for d in (start, *due) if d < at)
            after = min(d for d in due if d >= at)
            assert since <= max((after - before).days, 7)
        fixed = sum(day.weekday() == weekday for day in looks[:-1])
        assert fixed >= len(looks[:-1]) - 2
    assert seen > 10


def test_nobody_looks_on_closed_days_or_it_says_so(planner: Planner, tmp_path: Path) -> None:
    spell = (date(2026, 12, 19), date(2027, 1, 5))
    working = Working(4, (spell,))
    path = written(tmp_path / "lots.csv", some_lots(planner, 150, 20))
    told = 0
    for _, found in planned(planner, path):
        if isinstance(found, Refused):
            continue
        worked = as_worked(found, working)
        sown = {e.day for e in worked.events if e.kind == "sow"}
        on_closed = [e for e in worked.tasks if spell[0] <= e.day < spell[1] and e.kind != "keep"]
        assert all(e in worked.closed or e.day in sown or e.day == found.looks[-1] for e in on_closed)
        told += bool(worked.unseen)
        others = [e for e in worked.events if e.kind != "look"]
        assert others == [e for e in found.events if e.kind != "look"]
    assert told > 5


def gaps(start: date, due: Sequence[date]) -> Iterator[tuple[date, date, int]]:
    """The spells between looks as planned, and the longest time without a look in each."""
    for before, after in pairwise((start, *due)):
        yield before, after, max((after - before).days, 7 if after == due[-1] else 0)


@pytest.mark.parametrize("look_day", [None, 0, 4])
def test_looks_around_closed_days_are_neither_late_nor_doubled(look_day: int | None) -> None:
    """Against the days themselves: over none is the time since a look longer than planned, or it is said."""
    draw = random.Random(17)
    told = moved = 0
    for _ in range(800):
        start = DAY + timedelta(days=draw.randrange(40))
        first = draw.choice((7, 14))
        steps = [first, *[14] * draw.randrange(5), *[7] * draw.randrange(8), draw.randrange(1, 8)]
        due = [start + timedelta(days=sum(steps[: i + 1])) for i in range(len(steps))]
        shut = start + timedelta(days=draw.randrange(60))
        spells = ((shut, shut + timedelta(days=draw.randrange(1, 25))),)
        working = Working(look_day, spells, draw.random() < 0.5)
        looks, unseen = looks_as_worked(start, due, working)
        assert looks[-1] == due[-1]
        assert all(one < two for one, two in pairwise((start, *looks)))
        assert not any(working.shut(day) for day in looks[:-1])
        allowed = {
            before + timedelta(days=i): gap
            for before, after, gap in gaps(start, due)
            for i in range(1, (after - before).days + 1)
        }
        for one, two in pairwise((start, *looks)):
            if (one, two) in unseen:
                told += 1
                inside = (one + timedelta(days=i) for i in range(1, (two - one).days))
                rest = [day for day in inside if working.worked(day)]
                waits = 2 if look_day is not None and two.weekday() == look_day else 0  # for the look day
                rest = [day for day in rest if (two - day).days > waits]
                assert all(2 * (day - one).days <= 14 for day in rest), "a day with people was passed over"
                continue
            for i in range(1, (two - one).days + 1):
                assert i <= max(allowed[one + timedelta(days=i)], 7)
        moved += looks != tuple(due)
        if look_day is None:
            others = [(one, two) for one, two in pairwise((start, *looks[:-1])) if two not in due]
            assert all((two - one).days >= 3 for one, two in others)
    assert told > 100
    assert moved > 300


def test_no_second_look_just_before_closed_days() -> None:
    start = date(2026, 12, 4)
    due = [start + timedelta(days=7 * week) for week in range(1, 8)]
    looks, unseen = looks_as_worked(start, due, Working(4, ((date(2026, 12, 21), date(2027, 1, 7)),)))
    assert [day.isoformat() for day in looks] == [
        "2026-12-11", "2026-12-18", "2027-01-08", "2027-01-15", "2027-01-22",
    ]  # fmt: skip
    assert unseen == ((date(2026, 12, 18), date(2027, 1, 8)),)


def test_weekends_may_be_closed(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What falls on a Saturday is named with a sowing day that mends it; no look falls on one."""
    lot = {"lot": "A1", "name": "apple", "seeds": 100, "moisture": "dried", "sow": "2027-04-17"}
    path = written(tmp_path / "lots.csv", [lot])
    assert main(["season", str(path), "--today", "2026-11-30", "--closed", "weekends", "-o",
                 str(tmp_path / "s.jsonl")]) == 0  # fmt: skip
    page = " ".join(capsys.readouterr().out.split())
    assert "FALLS ON CLOSED DAYS" in page
    assert "sow or plant Sat 17 Apr" in page
    (told,) = (json.loads(line) for line in (tmp_path / "s.jsonl").read_text("utf-8").splitlines())
    assert all(date.fromisoformat(day).weekday() < 5 for day in told["looks"][:-1])


def test_jobs_give_the_same_plans_in_the_same_order(tmp_path: Path, planner: Planner) -> None:
    from coldspell.season.planning import planned as stream

    path = written(tmp_path / "lots.csv", some_lots(planner, 450, 30))
    with open_lots(str(path)) as table:
        one = list(stream(table, Planner(Setting(DAY))))
    with open_lots(str(path)) as table:
        two = list(stream(table, Planner(Setting(DAY)), jobs=2))
    assert one == two


def test_names_that_are_offered_for_a_refused_row_are_parted(planner: Planner, tmp_path: Path) -> None:
    """What is listed on lines of its own elsewhere stands in one cell here, and still reads as names."""
    path = written(tmp_path / "lots.csv", [{"name": name} for name in ("Appel", "Quercus zzz", "cherry")])
    for _, found in planned(planner, path):
        assert isinstance(found, Refused)
        with pytest.raises(coldspell.ColdspellError) as error:
            find(found.name, planner.records, in_row=True)
        said = found.faults[0].mend
        lines = error.value.mend.splitlines()
        listed = [line.strip().split("   ")[0] for line in lines if line.startswith("    ")]
        assert len(listed) >= 1
        for name in listed:
            assert re.search(rf"{re.escape(name)}( \([^)]*\))?([,.]|$)", said), (name, said)
        assert "\n" not in said
        assert "   " not in said
