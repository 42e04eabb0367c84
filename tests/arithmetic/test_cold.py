"""Cold from logs: against sums done by hand, published responses, and every kind of dirt a logger makes."""

from __future__ import annotations

import math
import tracemalloc
from datetime import date, datetime, timedelta, timezone
from functools import partial

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import integrate

from coldspell.arithmetic.cold import Spell, after_warm_spell
from coldspell.arithmetic.cold import cold_received as received
from coldspell.arithmetic.logs import LogForm, daily_readings, read_log
from coldspell.arithmetic.readings import LogLimits, Reading
from coldspell.arithmetic.responses import RESPONSES, response
from coldspell.errors import ColdspellError

START = datetime(2027, 1, 1)
LIMITS = LogLimits(10, 15, 6, 7 * 24, 15, 3)
cold_received = partial(received, limits=LIMITS)


def steady(celsius: float, days: float, minutes: float = 60, start: datetime = START) -> list[Reading]:
    steps = round(days * 1440 / minutes)
    return [Reading(start + timedelta(minutes=minutes * i), celsius, i + 2) for i in range(steps + 1)]


@pytest.mark.parametrize(
    ("celsius", "share"),
    [(-5, 0), (-0.1, 0), (0, 0), (0.5, 0.5), (1, 1), (4, 1), (7, 1), (8.5, 0.5), (10, 0), (15, 0)],
)
def test_usual_response(celsius, share) -> None:
    """Common practice: full at 1-7 °C, falling to nothing at 10 °C; frozen is paused."""
    assert cold_received(steady(celsius, 10)).counted_days == pytest.approx(10 * share)


def test_published_responses() -> None:
    crab = response("crab_apple")  # SST 34(1) 2006: 0.5 and 4 °C equal, above 9 °C nothing
    assert crab.weight(0.5) == crab.weight(4) == 1
    assert crab.weight(9) == crab.weight(12) == 0
    chestnut = response("horse_chestnut")  # Steadman & Pritchard 2004: 2-16 °C, faster the colder
    assert chestnut.weight(2) > chestnut.weight(6) > chestnut.weight(12) > 0 == chestnut.weight(16)
    for each in RESPONSES.values():
        assert each.weight(-1) == 0
        assert each.basis in ("read", "recalled", "practice")
        assert each.source
    with pytest.raises(ColdspellError, match="crab_apple"):
        response("apple")


@given(st.lists(st.floats(-10, 25), min_size=3, max_size=40), st.data())
@settings(max_examples=200)
def test_irregular_steps_against_scipy(values, data) -> None:
    minutes = data.draw(st.lists(st.integers(1, 59), min_size=len(values), max_size=len(values)))
    time, readings = START, []
    for value, step in zip(values, minutes, strict=True):
        readings.append(Reading(time, value))
        time += timedelta(minutes=step)
    found = cold_received(readings, gap_hours=1)
    if found.spikes:
        return
    weights = [RESPONSES["usual"].weight(v) for v in values]
    hours = [(r.time - START).total_seconds() / 3600 for r in readings]
    assert found.counted_days * 24 == pytest.approx(integrate.trapezoid(weights, hours), abs=1e-9)
    assert found.logged_hours == pytest.approx(hours[-1])
    assert found.lowest_celsius - 1e-9 <= found.mean_celsius <= found.highest_celsius + 1e-9


def test_date_of_the_minimum() -> None:
    found = cold_received(steady(4, 100), wanted_days=60)
    assert found.reached == datetime(2027, 3, 2)
    assert found.days_short == 0
    short = cold_received(steady(4, 50), wanted_days=60)
    assert short.reached is None
    assert short.days_short == pytest.approx(10)


def test_gap_counts_nothing() -> None:
    log = steady(4, 5) + steady(4, 5, start=START + timedelta(days=8))
    found = cold_received(log)
    assert found.counted_days == pytest.approx(10)
    assert (found.gaps, found.missing_hours) == (1, 72)
    bridged = cold_received(log, gap_hours=100)
    assert bridged.counted_days == pytest.approx(13)


def test_daily_log_bridges_one_missing_day() -> None:
    log = steady(4, 20, minutes=1440)
    del log[7]
    assert cold_received(log).counted_days == pytest.approx(20)


@pytest.mark.parametrize(("celsius", "faults"), [(-50.0, 0), (60.0, 0), (-50.1, 3), (60.1, 3)])
def test_the_ends_of_what_a_sensor_may_say_belong_to_it(celsius: float, faults: int) -> None:
    """The limits are our choice; a mutant that left the lower one out passed (tests/mutation)."""
    log = [Reading(r.time, celsius if i in (4, 5, 6) else r.celsius) for i, r in enumerate(steady(4, 2))]
    assert cold_received(log).faults == faults


def test_sensor_faults_and_spikes() -> None:
    log = steady(4, 2)
    faulty = [
        Reading(r.time, {5: None, 9: 85.0, 12: -127.0, 20: 30.0}.get(i, r.celsius)) for i, r in enumerate(log)
    ]
    found = cold_received(faulty)
    assert (found.faults, found.spikes) == (3, 1)
    assert found.counted_days == pytest.approx(2)
    assert found.highest_celsius == 4


def test_a_real_warming_is_no_spike() -> None:
    log = [Reading(r.time, 20.0 if 10 <= i <= 12 else 4.0) for i, r in enumerate(steady(4, 2))]
    found = cold_received(log)
    assert found.spikes == 0
    assert [s.kind for s in found.spells] == ["warm"]
    assert found.spells[0].hours == 3


def test_doubles_and_the_clock_set_back() -> None:
    log = steady(4, 1)
    doubled = [*log[:5], log[4], Reading(log[4].time, 9.0), *log[5:]]
    found = cold_received(doubled)
    assert (found.duplicates, found.conflicting) == (1, 1)
    assert found.counted_days == pytest.approx(1)
    autumn = log[:4] + [Reading(r.time - timedelta(hours=1), 4.0) for r in log[4:]]
    set_back = [*autumn[:4], Reading(autumn[3].time - timedelta(minutes=30), 4.0), *autumn[5:]]
    assert cold_received(set_back).clock_set_back == 1


def test_time_running_backward_is_an_error() -> None:
    log = steady(4, 2)
    with pytest.raises(ColdspellError, match="backward") as caught:
        cold_received([*log[10:], *log[:5]], file="log.csv")
    assert str(caught.value).startswith("log.csv:2: ")


def test_offsets_from_utc() -> None:
    zone = timezone(timedelta(hours=2))
    log = [Reading(r.time.replace(tzinfo=zone), 4.0) for r in steady(4, 3)]
    assert cold_received(log).counted_days == pytest.approx(3)
    with pytest.raises(ColdspellError, match="offset"):
        cold_received([*log, Reading(datetime(2027, 1, 5), 4.0)])


def test_spells_and_advice() -> None:
    values = [4.0] * 100 + [-4.0] * 10 + [4.0] * 50 + [18.0] * 12 + [4.0] * 20
    found = cold_received(
        [Reading(START + timedelta(hours=i), v) for i, v in enumerate(values)], wanted_days=8
    )
    assert [(s.kind, s.extreme_celsius) for s in found.spells] == [("frozen", -4), ("warm", 18)]
    assert found.frozen_hours == pytest.approx(10)
    assert after_warm_spell(found.spells[1], 8, LIMITS) == "warn"
    assert after_warm_spell(found.spells[1], 60, LIMITS) == "look"
    short = Spell("warm", START, START, 2, 12, 40)
    assert after_warm_spell(short, 60, LIMITS) == "nothing"
    assert after_warm_spell(Spell("warm", START, START, 20, 12, 40), 60, LIMITS) == "make_up"
    assert after_warm_spell(Spell("warm", START, START, 2, 22, 40), 60, LIMITS) == "make_up"


@pytest.mark.parametrize(
    ("hours", "counted", "missing"),
    [
        ((0, 1, 3624), 1, 3623),  # of two steps the longer is a hole, not the usual one
        ((0, 3624), 0, 3624),
        ((0, 24), 24, 0),
        ((0, 168, 336), 336, 0),  # read by hand once a week
        ((0, 1, 2, 500, 501), 3, 498),
    ],
)
def test_a_hole_is_never_the_usual_step(hours: tuple[int, ...], counted: int, missing: int) -> None:
    start = datetime(2026, 1, 1)
    found = cold_received([Reading(start + timedelta(hours=h), 4.0) for h in hours])
    assert (24 * found.counted_days, found.missing_hours) == (pytest.approx(counted), missing)


def test_many_spells_keep_the_longest() -> None:
    values = [v for i in range(200) for v in [4.0, 4.0, *([12.0] * (1 + i % 30)), 4.0]]
    found = cold_received([Reading(START + timedelta(hours=i), v) for i, v in enumerate(values)])
    assert found.spell_count == 200
    assert len(found.spells) == 20
    assert min(s.hours for s in found.spells) >= 26


def test_stuck_sensor() -> None:
    assert cold_received(steady(4, 10)).stuck_hours == 240
    wobbling = [Reading(r.time, 4 + 0.1 * (i % 2)) for i, r in enumerate(steady(4, 10))]
    assert cold_received(wobbling).stuck_hours == 0


@pytest.mark.long
def test_memory_does_not_grow_with_the_log() -> None:
    def minutes(count: int):
        for i in range(count):
            yield Reading(START + timedelta(minutes=i), 4 + 8 * math.sin(i / 700))

    peaks = []
    for count in (6_000, 60_000):
        tracemalloc.start()
        cold_received(minutes(count))
        peaks.append(tracemalloc.get_traced_memory()[1])
        tracemalloc.stop()
    assert peaks[1] < peaks[0] * 1.5 + 50_000


def test_outdoors_from_lowest_and_highest() -> None:
    day = list(daily_readings(date(2027, 1, 1), -2, 8))
    values = [r.celsius for r in day if r.celsius is not None]
    assert (min(values), max(values)) == pytest.approx((-2, 8), abs=0.05)
    assert sum(values) / 24 == pytest.approx(3)
    deep = [r.celsius for r in daily_readings(date(2027, 1, 1), -2, 8, depth_mm=100) if r.celsius is not None]
    assert max(deep) - min(deep) == pytest.approx(10 * math.exp(-1), abs=0.1)
    with pytest.raises(ColdspellError):
        list(daily_readings(date(2027, 1, 1), 5, 2))


@pytest.mark.parametrize(
    ("lines", "form", "expected"),
    [
        (["time,temperature °C", "2027-01-01 00:00,4.0"], None, 4.0),
        (["Serial 7", "", "Date,Time,Temp (°F)", "2027-01-01,06:00,39.2"], None, 4.0),
        (["Zeit;Wert", "2027-01-01 00:00;4,0"],
         LogForm(unit="celsius", time_column="Zeit", temperature_column="wert", decimal_comma=True), 4.0),
        (["\ufefftimestamp\tcelsius", "2027-01-01T00:00:00+01:00\t4"], None, 4.0),
        (["datetime,temp_c", "31/01/2027 05:00,4"], LogForm(date_format="%d/%m/%Y %H:%M"), 4.0),
        (["2027-01-01 00:00,4.0"], LogForm(unit="c"), 4.0),
        (['"time","temp \udcb0C"', '"2027-01-01 00:00","4.0"'], None, 4.0),
        (["time,temp_c", "2027-01-01 00:00,ERR"], None, None),
        (["time,temp_c", "2027-01-01 00:00,nan"], None, None),
    ],
)  # fmt: skip
def test_forms_of_logs(lines, form, expected) -> None:
    found = list(read_log(lines, "log.csv", form))
    assert [r.celsius for r in found] == [pytest.approx(expected) if expected is not None else None]


@pytest.mark.parametrize(
    ("lines", "form", "where"),
    [
        (["time,temperature", "2027-01-01 00:00,4.0"], None, "log.csv:1: the temperature has no unit"),
        (["time,temp_f", "2027-01-01 00:00,40"], LogForm(unit="celsius"), "log.csv:1: the heading says"),
        (["time,temp_c", "01/02/2027 00:00,4"], None, "log.csv:2: '01/02/2027 00:00' is not an ISO"),
        (["time,temp_c", "2027-02-31 00:00,4"], None, "log.csv:2: '2027-02-31 00:00' is no date"),
        (["time,temp_c", "2027-01-01 00:00,warm"], None, "log.csv:2: 'warm' is not a temperature"),
        (["time;temp_c", "2027-01-01 00:00;4,5"], None, "log.csv:2: '4,5' is not a temperature"),
        (["time,temp_c", "2027-01-01 00:00"], None, "log.csv:2: the line has 1 of 2"),
        (["time,temp 1 °C,temp 2 °C", "2027-01-01 00:00,4,5"], None, "log.csv:1: several temperatures"),
        (["what,ever"], None, "log.csv:1: no heading"),
        ([], None, "log.csv: no heading"),
        (["time,temp_c", "x" * 30_000], None, "log.csv:2: this is not a text table"),
        (["time,temp_c", "a\0b"], None, "log.csv:2: this is not a text table"),
        (["time,temp_c"], LogForm(temperature_column="bag"), "log.csv: no heading has"),
        (["time,temp_c"], LogForm(decimal_comma=True), "log.csv: a decimal comma"),
    ],
)
def test_each_mistake_names_its_line(lines, form, where) -> None:
    with pytest.raises(ColdspellError) as caught:
        list(read_log(lines, "log.csv", form))
    assert str(caught.value).startswith(where)
    assert caught.value.mend


def test_log_of_days() -> None:
    lines = ["date,min °C,max °C", *(f"2027-01-{d:02},2,6" for d in range(1, 11))]
    found = cold_received(read_log(lines, "days.csv"))
    assert found.counted_days == pytest.approx(10, abs=0.05)


@pytest.mark.parametrize("log", [[], steady(4, 0), [Reading(START, None)] * 5])
def test_too_little_to_count(log) -> None:
    with pytest.raises(ColdspellError, match="fewer than two"):
        cold_received(log)
