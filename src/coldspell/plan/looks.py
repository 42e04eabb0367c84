"""When the lot is looked at, and to which day it may wait."""

from __future__ import annotations

from datetime import date

from msgspec import Struct

from coldspell.arithmetic.calendar import add_days
from coldspell.decide.decide import Decisions, fields_of
from coldspell.decide.names.asks import Ask
from coldspell.decide.names.fields import IdentityFields, MediumFields, PreparationFields
from coldspell.decide.practice import Practice
from coldspell.decide.state import DAYS_PER_MONTH
from coldspell.records.do import MOIST


class Looks(Struct, frozen=True):
    """Days after the start, the dates that they fall on, and how often it is looked at beyond them."""

    days: tuple[int, ...]
    dates: tuple[date, ...]
    every_days_after: int | None


def plan_looks(decisions: Decisions, practice: Practice) -> Looks:
    """When to look at a lot in its medium; without dates where none was asked for."""
    dated, medium = decisions.schedule, decisions.fields(Ask.MEDIUM, MediumFields)
    moist = [s for s in dated.plan.steps if s.name in MOIST]
    days: tuple[int, ...] = ()
    if moist and medium is not None and decisions.route.steps == "whole":
        total = treated = (moist[-1].end - moist[0].start).days
        if dated.held and dated.target:
            total = (dated.target - moist[0].start).days
        last = (moist[-1].end - moist[-1].start).days  # it may end with the sowing, though complete before
        least = treated - last + max(0, (moist[-1].least_end - moist[-1].start).days)
        if moist[-1].until != "ready":  # the seed decides, so look weekly from early on
            early = total // int(practice.look_weekly_from_share)
            least = min(least, early + int(practice.look_weekly_within_days))
        identity = decisions.fields(Ask.IDENTITY, IdentityFields)
        if identity is not None and identity.looks == "early":
            least = min(least, int(practice.look_root_days + practice.look_weekly_within_days))
        soon = practice.look_after_cleaning_days if _cleaned(decisions) else medium.first_look_days
        days = look_days(total, least, int(min(medium.first_look_days, soon)), practice)
        if medium.holder == "pit":  # nobody digs it up before it is nearly done
            days = tuple(day for day in days if day >= least - practice.look_weekly_within_days)
    first = moist[0].start if moist else dated.first
    offset = (first - dated.plan.start).days if moist else 0
    dates = tuple(add_days(first, day) for day in days) if moist else ()
    route = decisions.route  # what it lies in may not be made for it, and what waits from gathering may root
    dug = medium is not None and medium.holder == "pit"
    weekly = days or route.lies == "as_it_lies" or (route.waits_from == "gathered" and not dug)
    every = practice.look_weekly_days if weekly else practice.look_every_days
    testing = decisions.route.page == "test"
    return Looks(tuple(offset + d for d in days), dates, None if testing else int(every))


def _cleaned(decisions: Decisions) -> bool:
    """Whether spoilt seed is sorted out or mould washed off before it goes on."""
    sorting = decisions.rules(Ask.SORTING)
    return any(fields_of(firing, PreparationFields).do == "clean" for firing in sorting)


def look_days(total: int, least: int, first: int, practice: Practice) -> tuple[int, ...]:
    """Days after the start on which to look: a first look, then every two weeks, weekly near the end.

    Common practice: towels first after about a week, bags after two; weekly within three weeks of the least
    treatment.
    """
    weekly = least - practice.look_weekly_within_days
    days: list[int] = []
    day = first
    while day < total and len(days) < 100:
        days.append(day)
        day += int(practice.look_weekly_days if day >= weekly else practice.look_every_days)
    return (*days, total) if total > 0 else ()


def hold_until(decisions: Decisions) -> date | None:
    """Last day to which the recorded days to hold reach.

    Seed that is sown at once waits from the day it was gathered (where none was given, from the month in
    which the kind is shed), treated seed from the earliest day it is ready. Where the day to sow was taken
    from the season it is the end of that at the latest.
    """
    chosen, dated = decisions.chosen, decisions.schedule
    hold = chosen.candidate.hold_days if chosen else None
    if hold is None:
        return None
    if decisions.route.waits_from == "gathered":
        until = add_days(_gathered(decisions), int(hold))
        return until if until > dated.first else None
    last = dated.plan.hold_until if dated.target and dated.infeasible is None else None
    if last is None or dated.target is None or dated.season is None or dated.asked is not None:
        return last
    return min(last, dated.season.last_for(dated.target))  # a day on which nobody sows it is none


def _gathered(decisions: Decisions) -> date:
    """The day it was gathered, or about the day the kind was shed."""
    first, months = decisions.schedule.first, decisions.facts["kept_months"]
    if decisions.lot.collected is not None or not months:
        return decisions.lot.collected or first
    return add_days(first, -int(months * DAYS_PER_MONTH))
