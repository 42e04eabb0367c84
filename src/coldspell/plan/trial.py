"""How to learn what a kind wants: the parts into which its seeds are divided, with days. Values only."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import TYPE_CHECKING, Literal

from msgspec import Struct

from coldspell.arithmetic.calendar import add_days
from coldspell.arithmetic.seasons import season_month
from coldspell.decide.decide import Decisions, fields_of
from coldspell.decide.facts import yes
from coldspell.decide.names.asks import Ask, values_of
from coldspell.decide.names.fields import ArmFields, ArmStepFields
from coldspell.decide.practice import Practice
from coldspell.decide.schedule import first_day, sowing_target
from coldspell.decide.sowing_season import sowing_season
from coldspell.decide.tables import Tables
from coldspell.lot.lot import Lot
from coldspell.rules import Firing
from coldspell.rules.model import FactValue

if TYPE_CHECKING:
    from coldspell.decide.names.facts import ArmFacts, TrialFacts

TrialTime = Literal["long", "middle", "short", "cold_only", "wait", "growing"]


class TrialDays(Struct, frozen=True):
    """The days of a trial."""

    time: TrialTime
    asked: date
    start: date
    warm_end: date
    weeks_end: date
    """What grows without cold has come by then."""
    half_year: date
    """What grows in warmth, however slowly, has come by then."""
    target: date
    """The sowing day of what has had its cold."""
    midsummer: date
    """The first after the sowing day; by then it has come up, or waits for another winter."""
    autumn: date
    """The first after the sowing day."""
    next_spring: date
    """The end of the spring after that autumn."""
    springs: date
    """The end of the second spring after the beginning."""


class ArmStep(Struct, frozen=True):
    """One thing to do with a part of the seeds."""

    rule: Firing
    start: date
    end: date


class Arm(Struct, frozen=True):
    """A part of the seeds: its letter, how many, what is done, and what its outcome means."""

    letter: str
    seeds: int
    rule: Firing
    steps: tuple[ArmStep, ...]
    outcomes: tuple[Firing, ...]


class TrialPlan(Struct, frozen=True):
    """What would harm first, the parts, and what is written down."""

    days: TrialDays
    arms: tuple[Arm, ...]
    harm: tuple[Firing, ...]
    size: tuple[Firing, ...]
    write_down: tuple[Firing, ...]

    @property
    def firings(self) -> tuple[Firing, ...]:
        """Every rule that held."""
        of_arms = [f for a in self.arms for f in (a.rule, *(s.rule for s in a.steps), *a.outcomes)]
        unique = {(f.decision, f.rule): f for f in (*self.harm, *self.size, *of_arms, *self.write_down)}
        return tuple(unique.values())


def plan_trial(
    decisions: Decisions, today: date, tables: Tables, noted: Mapping[str, FactValue]
) -> TrialPlan:
    """Divide a lot into parts and date them; ``noted`` is what notes are made by."""
    lot, decide = decisions.lot, tables.session.decide
    days = trial_days(lot, today, tables.practice)
    facts: TrialFacts = {"trial_time": days.time}
    known: dict[str, FactValue] = {**noted, **values_of(facts)}
    chosen = decide(Ask.ARMS, known).firings
    shares = [fields_of(firing, ArmFields).share for firing in chosen]
    counted = [(f, n) for f, n in zip(chosen, divided(lot.seeds, shares), strict=True) if n]
    kinds = [fields_of(firing, ArmFields).arm for firing, _ in counted]
    arms = []
    for place, (firing, seeds) in enumerate(counted):
        others = {*kinds[:place], *kinds[place + 1 :]}
        part: ArmFacts = {
            "arm": kinds[place],
            "beside_sequence": yes("sequence" in others),
        }
        asked = {**known, **values_of(part)}
        steps = _steps(decide(Ask.ARM_STEPS, asked).firings, days)
        arms.append(Arm(_LETTERS[place], seeds, firing, steps, decide(Ask.OUTCOMES, asked).firings))
    harm, size, written = (decide(ask, known).firings for ask in (Ask.HARM, Ask.TRIAL_SIZE, Ask.WRITE_DOWN))
    return TrialPlan(days, tuple(arms), harm, size, written)


_LETTERS = "ABCDEFGH"


def divided(seeds: int, shares: Sequence[float]) -> list[int]:
    """Whole seeds by shares in percent, the largest remainders rounded up, the first part before others.

    >>> divided(40, [50, 50]), divided(7, [80, 20]), divided(1, [50, 50]), divided(100, [40, 20, 20, 20])
    ([20, 20], [6, 1], [1, 0], [40, 20, 20, 20])
    """
    exact = [seeds * share / 100 for share in shares]
    whole = [int(part) for part in exact]
    order = sorted(range(len(exact)), key=lambda i: (whole[i] - exact[i], i))
    for i in order[: seeds - sum(whole) if shares else 0]:
        whole[i] += 1
    return whole


def trial_days(lot: Lot, today: date, practice: Practice) -> TrialDays:
    """What fits before the sowing day: warmth and cold at their long, middle or short lengths, or cold alone.

    Where far more time is left, dry seed waits, for what sprouts in midwinter has no light; moist seed begins
    at once, in the growing season.
    """
    first = first_day(lot, today)
    (short_warm, long_warm), (short_cold, long_cold) = practice.trial_warm_days, practice.trial_cold_days
    season = sowing_season(practice, lot)
    said = sowing_target(lot)
    least = add_days(first, _SOAK + int(short_cold))
    target = said if said is not None and said >= least else season.day_for(least)
    room = (target - first).days
    start, warm = first, int(long_warm)
    time: TrialTime = "long"
    if room > long_warm + long_cold + practice.early_start_days:
        if lot.moisture == "fresh" and not lot.stored_years:
            time = "growing"
        else:
            time = "wait"
            start = add_days(target, -int(long_warm + long_cold))
    elif room < short_warm + short_cold:
        time, warm = "cold_only", 0
    elif room < long_warm + short_cold:
        time, warm = "short", int(short_warm)
    elif room < long_warm + long_cold:
        time = "middle"
    southern, whole = season.southern, int(practice.whole_spring_days)
    autumn = _next(practice.autumn_opens, target, southern=southern)
    weeks_end = add_days(start, int(practice.trial_weeks_days))
    return TrialDays(
        time=time,
        asked=first,
        start=start,
        warm_end=add_days(start, warm),
        weeks_end=weeks_end,
        half_year=add_days(weeks_end, int(practice.trial_half_year_days)),
        target=target,
        midsummer=_next(practice.midsummer, target, southern=southern),
        autumn=autumn,
        next_spring=_next(season.closes, add_days(autumn, whole), southern=southern),
        springs=_next(season.closes, add_days(start, _YEAR + whole), southern=southern),
    )


def _next(northern: Sequence[float], after: date, *, southern: bool) -> date:
    """The first day with a month and day (northern) that is not before another day."""
    month, day = season_month(int(northern[0]), southern), min(int(northern[1]), 28)
    return next(each for year in (0, 1) if (each := date(after.year + year, month, day)) >= after)


_YEAR = 365
_SOAK = 1


def _steps(rules: Sequence[Firing], days: TrialDays) -> tuple[ArmStep, ...]:
    """The steps of a part in the order of their days; where seed soaks, what follows begins a day later."""
    soaks = any(fields_of(rule, ArmStepFields).takes == "day" for rule in rules)
    begin = add_days(days.start, 1) if soaks else days.start
    return tuple(sorted((_step(rule, days, begin) for rule in rules), key=lambda step: step.start))


def _step(rule: Firing, days: TrialDays, begin: date) -> ArmStep:
    start, end = {
        "start": (days.start, days.start),
        "begin": (begin, begin),
        "wait": (days.asked, days.start),
        "warm": (begin, days.warm_end),
        "cold": (days.warm_end, days.target),
        "whole": (begin, days.target),
        "weeks": (begin, days.weeks_end),
        "after_weeks": (days.weeks_end, days.autumn),
        "half_year": (days.weeks_end, days.half_year),
        "target": (days.target, days.target),
        "another_winter": (days.midsummer, days.next_spring),
        "next_winter": (days.autumn, days.next_spring),
        "springs": (days.start, days.springs),
    }[fields_of(rule, ArmStepFields).runs]
    return ArmStep(rule, start, end)
