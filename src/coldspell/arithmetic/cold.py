"""Cold received by moist seed: counted days from temperature readings, spells, and when enough is reached.

Readings stream through once, so that memory stays flat for a year of minutes. Between two readings the
weight runs straight (trapezium rule); a longer break than ``gap_hours`` counts nothing and is reported.
Orchard chill hours are not seed days, and dry seed counts only once it has swollen: start the count there.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from itertools import chain, islice, pairwise

from coldspell.arithmetic.readings import SECONDS, LogLimits, Reading, plausible, without_spikes
from coldspell.arithmetic.responses import FROZEN_BELOW_CELSIUS, RESPONSES, Response
from coldspell.errors import ColdspellError, Place

SPELLS_KEPT = 20


@dataclass(frozen=True, slots=True)
class Spell:
    """A run of readings too warm or frozen; ``extreme_celsius`` is its warmest or coldest reading.

    ``counted_days`` is the cold received before it began [days], ``hours`` its length [hours].
    """

    kind: str
    start: datetime
    end: datetime
    hours: float
    extreme_celsius: float
    counted_days: float


@dataclass(frozen=True, slots=True)
class ColdReceived:
    """Cold received over a log.

    ``counted_days`` is the sum of weights over time; ``logged_hours`` the time between readings that was
    used, ``missing_hours`` the breaks, ``frozen_hours`` and ``warm_hours`` the time below and above.
    ``reached`` is when the wanted days were complete. ``spells`` are the longest, in time order;
    ``spell_count`` counts all. Units stand in the names; what has none is a count or a moment.
    """

    response: str
    readings: int
    first: datetime
    last: datetime
    counted_days: float
    logged_hours: float
    missing_hours: float
    gaps: int
    frozen_hours: float
    warm_hours: float
    lowest_celsius: float
    highest_celsius: float
    mean_celsius: float
    wanted_days: float | None
    reached: datetime | None
    spells: tuple[Spell, ...]
    spell_count: int
    duplicates: int = 0
    conflicting: int = 0
    clock_set_back: int = 0
    faults: int = 0
    spikes: int = 0
    stuck_hours: float = 0.0
    gap_hours: float = 0.0

    @property
    def days_short(self) -> float:
        """Days of cold still to come, 0 when enough or none is asked for."""
        return max(0.0, (self.wanted_days or 0.0) - self.counted_days)


_LONGEST_ALONE = 48.0
"""Hours between two readings that are bridged where no third shows how often the log was written."""


@dataclass(slots=True)
class _Tally:
    response: Response
    limits: LogLimits
    frozen_below: float
    wanted_days: float | None
    gap_hours: float
    first: datetime | None = None
    last: Reading | None = None
    shift: timedelta = timedelta(0)
    hours: float = 0.0
    logged: float = 0.0
    missing: float = 0.0
    frozen: float = 0.0
    warm: float = 0.0
    degree_hours: float = 0.0
    low: float = math.inf
    high: float = -math.inf
    reached: datetime | None = None
    counts: dict[str, int] = field(default_factory=dict)
    spells: list[Spell] = field(default_factory=list)
    # kind, start, hours, extreme, days counted before it
    open_spell: tuple[str, datetime, float, float, float] | None = None
    same_since: float = 0.0
    weight: float | None = None  # of the last reading
    stuck: float = 0.0

    def count(self, what: str) -> None:
        self.counts[what] = self.counts.get(what, 0) + 1


def cold_received(
    readings: Iterable[Reading],
    response: Response | None = None,
    *,
    limits: LogLimits,
    wanted_days: float | None = None,
    gap_hours: float | None = None,
    frozen_below_celsius: float = FROZEN_BELOW_CELSIUS,
    file: str = "",
) -> ColdReceived:
    """Count the cold in a stream of readings.

    Parameters
    ----------
    readings : iterable of Reading
        In time order, of any number [time, degrees Celsius]; all with or all without an offset from UTC.
    response : Response, optional
        Weight by temperature [0 to 1]; default: full at 1 to 7 °C, falling to nothing at 10 °C.
    limits : LogLimits
        By what a log is read: warm [degrees Celsius], plausible, stuck [hours].
    wanted_days : float, optional
        Cold after which to note the date [days].
    gap_hours : float, optional
        Longest time between readings to bridge [hours]; default 2.5 usual steps, at least one hour; for
        two readings, which show no usual step, at most two days.
    frozen_below_celsius : float
        Below this, time is paused [degrees Celsius].
    file : str
        Name for error messages [path].

    Raises
    ------
    ColdspellError
        When fewer than two readings are usable, or time runs backward by more than an hour.

    >>> start = datetime(2027, 1, 1)
    >>> log = [Reading(start + timedelta(hours=h), 4.0) for h in range(0, 24 * 10 + 1)]
    >>> limits = LogLimits(10, 15, 6, 168, 15, 3)
    >>> cold_received(log, limits=limits).counted_days
    10.0
    """
    stream = iter(readings)
    head = list(islice(stream, 50))
    tally = _Tally(
        response=RESPONSES["usual"] if response is None else response,
        limits=limits,
        frozen_below=frozen_below_celsius,
        wanted_days=wanted_days,
        gap_hours=_usual_gap(head) if gap_hours is None else gap_hours,
    )
    if not tally.gap_hours > 0:
        raise ColdspellError(
            f"the longest gap must be over 0 hours, not {gap_hours}", mend="give hours over 0"
        )
    count = tally.count
    sound = without_spikes(plausible(chain(head, stream), count), count, limits)
    for reading in _in_order(sound, tally, file):
        _add(tally, reading)
    return _result(tally, file)


def _usual_gap(head: list[Reading]) -> float:
    steps = [
        (b.time - a.time).total_seconds() / SECONDS
        for a, b in pairwise(head)
        if (a.time.tzinfo is None) == (b.time.tzinfo is None)
    ]
    forward = sorted(step for step in steps if step > 0)
    if not forward:
        return 1.0
    usual = 2.5 * forward[(len(forward) - 1) // 2]  # of two the shorter: a hole is not the usual step
    return max(1.0, usual if len(forward) > 1 else min(usual, _LONGEST_ALONE))


def _in_order(readings: Iterable[Reading], tally: _Tally, file: str) -> Iterator[Reading]:
    """Readings with rising time: doubles left out, a clock set back by an hour evened out, else an error."""
    last: Reading | None = None
    for reading in readings:
        if last is not None and (reading.time.tzinfo is None) != (last.time.tzinfo is None):
            raise ColdspellError(
                "some times have an offset from UTC and some have none",
                Place(file or "log", reading.line),
                "use one form in the whole file",
            )
        moved = reading
        if tally.shift:
            moved = Reading(reading.time + tally.shift, reading.celsius, reading.line)
        if last is not None and moved.time <= last.time:
            if moved.time == last.time:
                tally.count("duplicates" if moved.celsius == last.celsius else "conflicting")
                continue
            back = last.time - moved.time
            if back > timedelta(hours=1) or moved.time.tzinfo is not None:
                raise ColdspellError(
                    f"time runs backward, from {last.time - tally.shift} to {reading.time}",
                    Place(file or "log", reading.line),
                    "sort the log by time, and count each logger alone",
                )
            tally.count("clock_set_back")
            tally.shift += timedelta(hours=1)
            moved = Reading(reading.time + tally.shift, reading.celsius, reading.line)
            if moved.time <= last.time:
                continue
        last = moved
        yield moved


def _add(tally: _Tally, reading: Reading) -> None:
    celsius = reading.celsius
    assert celsius is not None
    tally.count("readings")
    tally.low, tally.high = min(tally.low, celsius), max(tally.high, celsius)
    last = tally.last
    tally.last = reading
    if last is None or last.celsius is None:
        tally.first = reading.time
        return
    hours = (reading.time - last.time).total_seconds() / SECONDS
    if hours > tally.gap_hours:
        tally.count("gaps")
        tally.missing += hours
        _close_spell(tally, last.time)
        tally.same_since = 0.0
        tally.weight = None
        return
    _add_interval(tally, last, last.celsius, celsius, hours)
    _follow_spells(tally, last.time, reading.time, last.celsius, celsius, hours)
    tally.same_since = tally.same_since + hours if celsius == last.celsius else 0.0
    tally.stuck = max(tally.stuck, tally.same_since)


def _add_interval(tally: _Tally, last: Reading, before: float, after: float, hours: float) -> None:
    if tally.weight is None:
        tally.weight = tally.response.weight(before, tally.frozen_below)
    weight = tally.response.weight(after, tally.frozen_below)
    gained = (tally.weight + weight) / 2 * hours
    tally.weight = weight
    wanted = None if tally.wanted_days is None else tally.wanted_days * 24
    if tally.reached is None and wanted is not None and tally.hours + gained >= wanted - 1e-9:
        part = min(1.0, max(0.0, (wanted - tally.hours) / gained)) if gained > 0 else 0.0
        tally.reached = last.time + timedelta(hours=hours * part)
    tally.hours += gained
    tally.logged += hours
    tally.degree_hours += (before + after) / 2 * hours
    tally.frozen += hours / 2 * ((before < tally.frozen_below) + (after < tally.frozen_below))
    warm = tally.limits.warm_above_celsius
    tally.warm += hours / 2 * ((before > warm) + (after > warm))


def _kind(tally: _Tally, celsius: float) -> str | None:
    if celsius > tally.limits.warm_above_celsius:
        return "warm"
    return "frozen" if celsius < tally.frozen_below else None


def _follow_spells(
    tally: _Tally, start: datetime, end: datetime, before: float, after: float, hours: float
) -> None:
    kind = _kind(tally, before)
    if tally.open_spell is not None and tally.open_spell[0] != kind:
        _close_spell(tally, start)
    if kind is None:
        return
    extreme = before
    if _kind(tally, after) == kind:
        extreme = max(before, after) if kind == "warm" else min(before, after)
    if tally.open_spell is None:
        tally.open_spell = (kind, start, hours, extreme, tally.hours / 24)
    else:
        _, since, so_far, worst, counted = tally.open_spell
        worst = max(worst, extreme) if kind == "warm" else min(worst, extreme)
        tally.open_spell = (kind, since, so_far + hours, worst, counted)


def _close_spell(tally: _Tally, end: datetime) -> None:
    if tally.open_spell is None:
        return
    kind, start, hours, extreme, counted = tally.open_spell
    tally.open_spell = None
    tally.count("spells")
    tally.spells.append(Spell(kind, start, end, hours, extreme, counted))
    if len(tally.spells) > SPELLS_KEPT:
        tally.spells.remove(min(tally.spells, key=lambda spell: (spell.hours, spell.start)))


def _result(tally: _Tally, file: str) -> ColdReceived:
    if tally.last is None or tally.first is None or tally.logged + tally.missing == 0:
        raise ColdspellError(
            "fewer than two usable readings", Place(file or "log"), "the log needs times and temperatures"
        )
    _close_spell(tally, tally.last.time)
    counts = tally.counts
    return ColdReceived(
        response=tally.response.name,
        readings=counts.get("readings", 0),
        first=tally.first,
        last=tally.last.time - tally.shift,
        counted_days=tally.hours / 24,
        logged_hours=tally.logged,
        missing_hours=tally.missing,
        gaps=counts.get("gaps", 0),
        frozen_hours=tally.frozen,
        warm_hours=tally.warm,
        lowest_celsius=tally.low,
        highest_celsius=tally.high,
        mean_celsius=tally.degree_hours / tally.logged if tally.logged else math.nan,
        wanted_days=tally.wanted_days,
        reached=tally.reached,
        spells=tuple(sorted(tally.spells, key=lambda spell: spell.start)),
        spell_count=counts.get("spells", 0),
        duplicates=counts.get("duplicates", 0),
        conflicting=counts.get("conflicting", 0),
        clock_set_back=counts.get("clock_set_back", 0),
        faults=counts.get("faults", 0),
        spikes=counts.get("spikes", 0),
        stuck_hours=tally.stuck if tally.stuck >= tally.limits.stuck_hours else 0.0,
        gap_hours=tally.gap_hours,
    )


def after_warm_spell(spell: Spell, wanted_days: float | None, limits: LogLimits) -> str:
    """What a warm spell means: ``nothing``, ``make_up``, ``look`` or ``warn``.

    ``nothing``: short and cool. ``make_up``: add the time that did not count. ``look``: hot and not short,
    sprouts and mould are likely. ``warn``: the same after half the wanted cold, when warmth most easily
    brings dormancy back (peach: Mahhou & Dennis 1995).

    Parameters
    ----------
    spell : Spell
        A warm spell [hours, degrees Celsius, days counted before it].
    wanted_days : float, optional
        Cold wanted [days].
    limits : LogLimits
        From where on a spell is hot [degrees Celsius], and how long a short one is [hours].

    Raises
    ------
    Nothing is raised.
    """
    if spell.extreme_celsius < limits.hot_from_celsius:
        return "nothing" if spell.hours < limits.short_hours else "make_up"
    if spell.hours < limits.short_hours:
        return "make_up"
    late = wanted_days is not None and spell.counted_days >= wanted_days / 2
    return "warn" if late else "look"
