"""Which of a range of days a plan takes: the rules say whether the longest, the middle or the shortest."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from functools import lru_cache
from typing import TYPE_CHECKING, Literal

from msgspec.structs import replace

from coldspell.arithmetic.calendar import StepDays, add_days, total_days
from coldspell.decide.facts import yes
from coldspell.decide.practice import Practice
from coldspell.decide.sowing_season import SowingSeason
from coldspell.decide.treatment import Candidate
from coldspell.records.do import MOIST, TIMED

if TYPE_CHECKING:
    from coldspell.decide.names.facts import SpanFacts

Takes = Literal["long", "middle", "short"]


@lru_cache(maxsize=4096)
def span_facts(
    candidate: Candidate, first: date, asked: date | None, season: SowingSeason, practice: Practice
) -> SpanFacts:
    """How wide its ranges without a usual value are, and whether their long ends cost a year.

    Where a day to sow was ``asked`` for that is to come, it is that day that counts.
    """
    times = [step.high / max(low, 1.0) for step, low in _ranges(candidate)]
    least, planned, _ = total_days(candidate.timed)
    helps = all(step.low == 0 for step in candidate.timed if step.name in MOIST)
    dated = asked is not None and asked >= first
    costs = False
    if not (helps or dated):
        close = season.last_for(add_days(first, least))
        lost = (season.day_for(add_days(first, planned)) - close).days
        costs = lost >= practice.season_lost_days
    return {"span_times": max(times, default=None), "long_costs_year": yes(costs)}


def planned_by(candidate: Candidate, takes: Takes) -> Candidate:
    """The candidate with its ranges without a usual value planned as the rules say."""
    if takes == "long":
        return candidate
    lows = {id(step): low for step, low in _ranges(candidate)}
    share = 0.5 if takes == "middle" else 0.0
    timed = tuple(
        replace(step, usual_days=round(low + share * (step.high - low)))
        if (low := lows.get(id(step))) is not None
        else step
        for step in candidate.timed
    )
    moist = sum(step.plan for step in timed if step.name in MOIST)
    return replace(
        candidate, timed=timed, moist_days=None if candidate.moist_days is None else float(moist)
    )


def _ranges(candidate: Candidate) -> Iterator[tuple[StepDays, float]]:
    """Moist spells that are given as a range without a usual value, with their shortest days.

    Of a spell that only helps the shortest are those of its record, for none is planned with no days.
    """
    steps = [s for s in candidate.treatment.steps if s.do in TIMED and (s.days or s.hours or s.minutes)]
    for timed, step in zip(candidate.timed, steps, strict=True):
        days = step.days
        if timed.name not in MOIST or days is None or timed.ends_on_event:
            continue
        if days.usual is None and days.low < days.high:
            yield timed, min(timed.high, days.low * timed.high / days.high)
