"""When seed in the ground comes up: the seasons that must pass, and the day on which it has failed."""

from __future__ import annotations

from datetime import date
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from coldspell.arithmetic.calendar import add_days
from coldspell.arithmetic.seasons import season_day
from coldspell.decide.knowledge import Knowledge
from coldspell.decide.names.fields import EmergenceFields
from coldspell.decide.practice import Practice

UpState = Literal["waiting", "due", "late"]


class Emergence(Struct, frozen=True):
    """The first day on which it can come up, and the day by which even late ones of that year are up."""

    up: date
    failed: date
    spring: bool
    """Whether it comes with the spring, and not some weeks after it was sown."""

    def state(self, today: date) -> UpState:
        """How it stands on a day."""
        if today < self.up:
            return "waiting"
        return "due" if today <= self.failed else "late"


def comes_up(
    rests: EmergenceFields,
    day: date,
    knowledge: Knowledge,
    practice: Practice,
    *,
    southern: bool,
    needs: float | None = None,
) -> Emergence:
    """When seed of a kind that is sown on a day comes up.

    ``needs``: the days of winter that it needs, where its treatment tells; else those of common practice.
    """
    least = max(needs, practice.winter_short_days) if needs is not None else practice.winter_least_days
    practice = replace(practice, winter_least_days=min(least, practice.winter_least_days))
    germination, in_soil = knowledge.value("germination"), knowledge.value("emergence")
    tested = (germination.days if germination else None) or (in_soil.days if in_soil else None)
    usual = practice.up_weeks_days
    if knowledge.record.plant == "annual" and rests.rests in ("none", "warm"):
        usual = practice.up_annual_days
    days = tested.high if tested else usual
    soonest = add_days(day, int(tested.low if tested else practice.up_least_days))
    if rests.rests == "warm":
        return Emergence(soonest, add_days(day, int(2 * days)), False)
    found = emergence(rests, day, days, practice, southern=southern)
    if found.spring:  # the soil warms first
        return found
    if rests.rests == "next_spring":  # tests count the root, and the shoot comes after it
        soonest = add_days(day, int(max(days, practice.up_weeks_days)))
        return replace(found, up=soonest, failed=add_days(soonest, int(practice.up_weeks_days)))
    return replace(found, up=soonest)


def emergence(
    rests: EmergenceFields, day: date, weeks: float, practice: Practice, *, southern: bool
) -> Emergence:
    """When seed that is sown on a day comes up.

    Parameters
    ----------
    rests
        The seasons that must pass, as the rules say.
    day
        Day of sowing.
    weeks
        Days from warm soil to seedlings [days].
    """
    if rests.rests in ("none", "warm", "next_spring"):
        from_day = max(day, _spring_of(day, practice, southern))
        waits = (from_day - day).days > practice.season_near_days
        least = practice.late_up_days if waits else 0.0  # the soil warms all spring
        return Emergence(from_day, add_days(from_day, int(max(2 * weeks, least))), waits)
    if rests.rests == "summer_winter":
        year = _year_after(day, practice.summer_closes, southern)
        up = season_day(year + 1, practice.growing_opens, southern)
    else:
        up = _spring_after(day, practice, southern)
        if rests.rests == "two_winters":
            up = up.replace(year=up.year + 1)
    return Emergence(up, add_days(up, int(practice.late_up_days)), True)


def shoot(day: date, cold_days: float, practice: Practice, *, southern: bool) -> Emergence:
    """When the shoot comes of seed that rooted by a day and wants so many days of cold first [days].

    That is the spring that runs or comes next where the cold is over before sowing closes; else one later.
    """
    ready, years = add_days(day, int(cold_days)), (day.year - 1, day.year, day.year + 1, day.year + 2)
    for year in years:
        opens = season_day(year, practice.growing_opens, southern)
        closes = season_day(year, practice.sowing_closes, southern)
        if ready <= max(closes, opens):
            break
    up = max(opens, ready)
    return Emergence(up, add_days(up, int(practice.late_up_days)), True)


def _spring_of(day: date, practice: Practice, southern: bool) -> date:
    """The start of the growing season that runs on a day or comes next."""
    for year in (day.year - 1, day.year, day.year + 1):
        opens = season_day(year, practice.growing_opens, southern)
        closes = season_day(year + (southern and opens.month > 6), practice.growing_closes, southern)
        if day < closes:
            return opens
    return day


def _spring_after(day: date, practice: Practice, southern: bool) -> date:
    """The spring after the first winter of which enough is left on a day."""
    for year in (day.year, day.year + 1, day.year + 2):
        opens = season_day(year, practice.growing_opens, southern)
        if (opens - day).days >= practice.winter_least_days:
            return opens
    return season_day(day.year + 2, practice.growing_opens, southern)


def _year_after(day: date, limit: tuple[float, float], southern: bool) -> int:
    """The year of the first summer that is not over on a day."""
    year = day.year
    while season_day(year, limit, southern) < day:
        year += 1
    return year - 1 if southern else year
