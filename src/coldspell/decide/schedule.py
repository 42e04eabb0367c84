"""When the steps of a treatment run: back from the sowing date, or forward from a start."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from functools import lru_cache
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from coldspell.arithmetic.calendar import (
    Infeasible,
    Plan,
    StepDays,
    add_days,
    plan_back,
    plan_forward,
    total_days,
)
from coldspell.arithmetic.seasons import season_month, target_from_last_frost
from coldspell.decide.names.fields import SeasonFields
from coldspell.decide.practice import Practice
from coldspell.decide.sowing_season import ANY_YEAR, SowingSeason, day_of_year
from coldspell.lot.lot import Lot
from coldspell.lot.read import LAST_FROST_MONTH
from coldspell.records.do import COLD, MOIST

COATS = "coats"
"""The days on which hard coats are tried and soaked before they are opened: a step of the calendar alone."""
_BRIEF = ("soak", "leach", "dry_back", COATS)


class Schedule(Struct, frozen=True):
    """Dates of a treatment for a lot. Without a target ``plan`` runs forward from ``first``.

    ``target`` is the day to sow that the plan runs to: the one that was ``asked`` for; where that cannot be
    met, or none was given, a day of the sowing season. ``days_spare`` is what is left between the first
    possible day and sowing after the planned treatment, ``days_spare_short`` the same after the shortest;
    negative is too late for the day that was asked for, ``None`` where nothing is to be met.
    """

    target: date | None
    first: date
    plan: Plan
    infeasible: Infeasible | None
    days_spare: float | None
    days_spare_short: float | None
    held: bool = False
    """Whether it is treated at once and then waits, moist and cold, until it is sown."""
    asked: date | None = None
    assumed: bool = False
    """Whether nobody gave a day to sow."""
    season: SowingSeason | None = None
    """When in the year it is sown."""


Begins = Literal["in_time", "early", "at_once"]


class Run(Struct, frozen=True):
    """How a treatment is to run: its steps, how long treated seed may wait, and when it begins."""

    timed: tuple[StepDays, ...]
    hold_days: float | None = None
    begins: Begins = "in_time"
    early_days: float = 0.0
    lost_days: float = 0.0
    """A spell that only helps is left out where the sowing would move by so many days."""
    slack_days: float = 0.0
    """A sowing day that is missed by no more than so many days is moved by them."""
    helps_least: float = 0.0
    """The shortest that the spells take which only help [days]; longer ones do not put off the sowing."""
    season: SowingSeason | None = None
    """From which a day is taken where none was given or the given one cannot be met; ``None``: none is."""
    shortens: bool = False
    """Whether its longest days would cost a season that its shortest meet."""

    @property
    def planned(self) -> int:
        """Days that it takes as planned."""
        return total_days(self.timed)[1]

    @property
    def only_helps(self) -> bool:
        """Whether it has moist spells, and none that the seed needs: then no season is lost for them."""
        spells = [s for s in self.timed if s.name in MOIST]
        return bool(spells) and all(s.low == 0 for s in spells)

    @property
    def _ends_cold(self) -> bool:
        return bool(self.timed) and self.timed[-1].name in COLD

    @property
    def _waits_in_first_cold(self) -> bool:
        """Whether a cold comes first and other spells after it, so that seed may wait there."""
        moist = [s.name for s in self.timed if s.name in MOIST]
        return len(moist) > 1 and moist[0] in COLD and self.timed[0].name == moist[0]

    def holds(self, first: date, back: Plan) -> bool:
        """Whether it is treated on the first day and then waits."""
        return self.begins == "at_once" and back.start > first and not self._waits_in_first_cold

    def to(self, target: date, first: date, back: Plan) -> Plan:
        """The plan to a day, begun sooner than it has to be where it can wait afterwards."""
        if self.begins == "at_once" and back.start > first and self._waits_in_first_cold:
            return replace(back, start=first, steps=(replace(back.steps[0], start=first), *back.steps[1:]))
        if self.begins == "at_once" and back.start > first:
            return _from_the_first_day(target, first, self.timed, self.hold_days)
        least, planned, _ = total_days(self.timed)
        wait = max(0.0, self.early_days - (planned - least))  # a range planned at its long end has slack
        if self.hold_days is not None:
            wait = min(wait, self.hold_days)
        start = max(first, add_days(back.start, -int(wait)))
        if self.begins == "in_time" or start >= back.start or not self._ends_cold:
            return back
        forward = plan_forward(start, self.timed, hold_days=self.hold_days)
        last = replace(forward.steps[-1], end=target)
        steps = (*forward.steps[:-1], last)
        return replace(back, start=start, window_first=start, ready=forward.ready, steps=steps)


def frost_odd(lot: Lot) -> bool:
    """Whether the last frost that was given is none of spring in the half of the world that was said."""
    frost = lot.last_frost
    return frost is not None and season_month(frost.month, lot.southern) > LAST_FROST_MONTH


def sowing_target(lot: Lot, sooner_days: float = 0) -> date | None:
    """The sowing date: as said, or from a last frost of spring by where the seedlings grow.

    ``sooner_days``: how much sooner what is long in fruit is sown before that frost.
    """
    if lot.sow is not None or frost_odd(lot) or lot.last_frost is None:
        return lot.sow
    return add_days(target_from_last_frost(lot.last_frost, lot.grow_in), -int(sooner_days))


def first_day(lot: Lot, today: date) -> date:
    """The first day on which anything can be done."""
    return max(today, lot.collected) if lot.collected else today


def schedule(lot: Lot, today: date, run: Run) -> Schedule:
    """Date the steps of a treatment; where that cannot be by the day asked for, ``infeasible`` says why."""
    return scheduled(sowing_target(lot), first_day(lot, today), today, run)


@lru_cache(maxsize=4096)
def scheduled(asked: date | None, first: date, today: date, run: Run) -> Schedule:
    """`schedule` by all that it looks at: the day asked for, and the first on which anything can be done.

    In a season many lots share these, also of several kinds.
    """
    target = asked
    gone = target is None or target < first
    if gone and run.season is not None and run.only_helps:  # a day that is past loses no season either
        brief = total_days(tuple(s for s in run.timed if s.name not in MOIST))[1]  # soaks come before them
        least = min(int(run.helps_least) + brief, run.planned)
        soon, helped, whole = (run.season.day_for(add_days(first, n)) for n in (0, least, run.planned))
        day = helped if (whole - soon).days < run.lost_days else soon
        found = scheduled(day, first, today, run)
        return replace(found, asked=asked, assumed=asked is None)
    if gone and run.season is not None and run.shortens:
        close = run.season.last_for(add_days(first, total_days(run.timed)[0]))
        found = scheduled(close, first, today, run)
        return replace(found, asked=asked, assumed=asked is None)
    least_ready = add_days(first, total_days(run.timed)[0])
    if target is not None and target >= first and 0 < (least_ready - target).days <= run.slack_days:
        found = scheduled(least_ready, first, today, run)
        return replace(found, asked=asked)
    if target is not None and all(s.name in _BRIEF for s in run.timed):  # nothing has to end on the day
        target = None if target < first else max(target, add_days(first, run.planned))
    if target is None:
        return _undated(first, run, asked)
    least, planned, _ = total_days(run.timed)
    available = (target - first).days
    back = plan_back(target, run.timed, today, first, run.hold_days)
    short = None
    if isinstance(back, Infeasible) and available >= least:
        short = plan_back(target, run.timed, today, first, run.hold_days, shortened=True)
    if isinstance(back, Plan):
        found = Schedule(target, first, run.to(target, first, back), None, 0, 0, asked=asked)
    elif isinstance(short, Plan):
        found = Schedule(target, first, short, back, 0, 0, asked=asked)
    else:
        found = replace(_undated(first, run, asked), infeasible=back)
    held = isinstance(back, Plan) and run.holds(first, back)
    kept = found.plan.target if isinstance(back, Plan) else found.target
    return replace(
        found,
        target=kept,
        held=held or found.held,
        days_spare=float(available - planned),
        days_spare_short=float(available - least),
    )


def _undated(first: date, run: Run, asked: date | None) -> Schedule:
    """Dates where no day is to be met: to a day of the season, or forward from the first possible day."""
    if run.season is None:
        forward = plan_forward(first, run.timed, hold_days=run.hold_days)
        return Schedule(None, first, forward, None, None, None, asked=asked)
    ready = add_days(first, run.planned)
    open_now = run.season.day_for(first) == first and run.planned <= run.slack_days
    target = ready if open_now else run.season.day_for(ready)  # some days of work close no season
    back = plan_back(target, run.timed, first, None, run.hold_days)
    assert isinstance(back, Plan)  # the target lies no sooner than the day on which it can be ready
    plan = run.to(target, first, back)
    spare = float((target - first).days - run.planned)
    held = run.holds(first, back)
    return Schedule(plan.target, first, plan, None, spare, spare, held, asked, asked is None)


def _from_the_first_day(
    target: date, first: date, timed: Sequence[StepDays], hold_days: float | None
) -> Plan:
    """Treat now and hold until the target; the days to hold count from the earliest day it can be ready."""
    forward = plan_forward(first, timed, hold_days=hold_days)
    if hold_days is not None:  # no later than its record lets it wait
        target = max(forward.ready, min(target, forward.hold_until))
    return replace(
        forward,
        target=target,
        window_first=first,
        window_last=first,
        slack_days=0,
        hold_after_days=(target - forward.ready).days,
    )


def next_season(dated: Schedule) -> date | None:
    """The day to sow in the season after the planned one: its first, unless a day of the year was asked for.

    ``None`` where all the days fit, or no later year does.
    """
    short = dated.infeasible
    if short is None:
        return None
    if dated.season is None or not dated.assumed or dated.target is None:
        return short.next_target
    closed = add_days(dated.season.last_for(dated.target), 1)
    return dated.season.day_for(max(closed, short.sow_date))


def outdoor_day(lot: Lot, first: date, season: Season) -> date:
    """Day on which dry seed goes outdoors (common practice): in the season that is running or comes next.

    With a sowing date it is the season before that date. Half a year is added in the south.
    """
    if season.least_days == 0:
        return first
    target = sowing_target(lot)
    limit = None if target is None else add_days(target, -season.least_days)
    for year in range(first.year - 1, first.year + 12):
        start = day_of_year(year, *season.opens, lot.southern)
        end = day_of_year(year + (season.closes < season.opens), *season.closes, lot.southern)
        if end < first:
            continue
        day = max(start, first)
        following = day_of_year(year + 1, *season.opens, lot.southern)
        if limit is None or following > limit:
            return day
    return first


class Season(Struct, frozen=True):
    """When outdoor sowing opens and closes (month and day, northern), and the least days until spring.

    No least days: it is open all year.
    """

    opens: tuple[int, int]
    closes: tuple[int, int]
    least_days: int


def season_of(fields: SeasonFields, practice: Practice) -> Season:
    """The season of an answer, with its days of common practice."""
    opens, closes, least = {
        "always": ((1, 1), (12, 31), 0),
        "late_autumn": (
            practice.late_autumn_opens, practice.late_autumn_closes, practice.late_autumn_least_days
        ),
        "autumn": (practice.autumn_opens, practice.autumn_closes, practice.autumn_least_days),
    }[fields.season]  # fmt: skip
    return Season((int(opens[0]), int(opens[1])), (int(closes[0]), int(closes[1])), int(least))


def as_long_as_cold(season: Season, needed: float | None, practice: Practice) -> Season:
    """The season of a cold so short: it closes as late as so many days of winter are left.

    Nobody sows for a winter of days: three weeks of it are the least that is planned with.
    """
    if needed is None or season.least_days == 0:
        return season
    month, day = map(int, practice.growing_opens)
    days = int(max(needed, practice.winter_short_days))
    last = add_days(date(ANY_YEAR, month, day), -days)
    closes = (last.month, last.day)
    return replace(season, closes=closes) if last.year == ANY_YEAR and closes > season.closes else season


