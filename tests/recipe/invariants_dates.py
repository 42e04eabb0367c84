"""What must hold of the days of every recipe: one day to start, ways out that are open, figures.

Functions from one met lot to the faults it shows, as in `invariants`, which gathers them.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date, timedelta

from meeting import Met

from coldspell.records.do import MOIST
from coldspell.views.days import day_of
from coldspell.write.units import MONTHS

Faults = list[str]

_DAY = rf"(\d{{1,2}}) ({'|'.join(MONTHS)}) (\d{{4}})"
_STARTS = re.compile(rf"\b(?:from|[Ss]tart) {_DAY}")
_SOAK = 3
"""Days that the longest soak of dried seed takes."""
_NOT_HANDS = ("hold", "sow", "light", "dark")


def _named(match: re.Match[str]) -> date:
    return date(int(match[3]), MONTHS.index(match[2]) + 1, int(match[1]))


def one_day_to_start(met: Met) -> Faults:
    """Headline, START and the first dated step of work name one day: that on which hands start."""
    recipe = met.recipe
    hands = [s.start for s in recipe.steps if s.start and s.do not in _NOT_HANDS]
    if not hands or recipe.does.page != "plan" or not any(s.do in MOIST and s.start for s in recipe.steps):
        return []
    start, found = date.fromisoformat(hands[0]), []
    first = met.plan.decisions.schedule.first
    if any(s.do == "soak" and not s.start for s in recipe.steps) and (start - first).days <= _SOAK:
        start = first  # soaked at once, before anything else
    shown = f"START {day_of(start.isoformat(), recipe.asked_on)}"
    if "START " in met.page and shown not in met.page:
        found.append(f"work begins {start}, and the page says “{met.page[met.page.index('START') :][:18]}”")
    named = [_named(match) for match in _STARTS.finditer(recipe.verdict.sentence)]
    found += [f"work begins {start}, and the answer says {day}" for day in named if day != start]
    if start > met.today and re.search(r"\b(?:moist|cold|warm|cool|[Ss]tart) now\b", recipe.verdict.sentence):
        found.append(f"work begins {start}, and the answer says now")
    return found


_WIDE = 3
"""From so many times its shortest days on a range is wide."""


def a_wide_range_is_not_planned_by_its_longest(met: Met) -> Faults:
    """Of a wide range without a usual value the longest days are not planned, and that is said."""
    dated, found = met.plan.decisions.schedule, []
    tight = met.recipe.timing.fits == "tight"  # all that fits is given, and that is said
    if dated.held or not dated.assumed or met.recipe.does.steps != "whole" or tight:
        return []
    for step in met.recipe.steps:
        if step.do not in MOIST or not step.days or not step.start or not step.end or step.until != "ready":
            continue
        low, usual, high = step.days
        lasts = (date.fromisoformat(step.end) - date.fromisoformat(step.start)).days
        wide = usual is None and low > 0 and high >= _WIDE * low and high - low > _SLACK
        if wide and lasts > (low + high) / 2 + _SLACK:
            found.append(f"{step.do}: {lasts} days of {low:g}–{high:g}")
    return found


_SLACK = 22
"""Days that a treatment may begin sooner than it has to."""


def no_year_is_lost_to_long_days(met: Met) -> Faults:
    """Where nobody gave a day, no sowing season passes that the shortest days of the record would meet."""
    dated, chosen = met.plan.decisions.schedule, met.plan.decisions.chosen
    if not dated.assumed or dated.target is None or chosen is None or met.recipe.does.steps != "whole":
        return []
    least = sum(step.least for step in chosen.candidate.timed)
    if dated.season is None or not any(s.do in MOIST and s.need == "required" for s in met.recipe.steps):
        return []
    close = dated.season.last_for(dated.first + timedelta(days=least))
    lost = (dated.target - close).days
    return [f"sown {dated.target}, and {least} days would do for {close}"] if lost > _HALF_YEAR else []


_HALF_YEAR = 183


_SLOW = 100
"""What shows so many days after it was sown is slow, and its season stands in the answer."""


def slow_kinds_name_their_spring(met: Met) -> Faults:
    """What comes up only in another season than that of its sowing says in which, and in which year."""
    up, sown, recipe = met.plan.up, met.plan.sowing_day, met.recipe
    doubted = recipe.verdict.alive in ("test_alongside", "sow_all") or "no time" in recipe.verdict.sentence
    if up is None or sown is None or met.plan.lot.sown or doubted or recipe.does.page != "plan":
        return []
    if (up.up - sown).days <= _SLOW or str(up.up.year) in " ".join((recipe.verdict.sentence, *recipe.notes)):
        return []
    return [f"sown {sown}, up {up.up}: “{recipe.verdict.sentence[:80]}”"]


def two_parts_come_up_in_two_seasons(met: Met) -> Faults:
    """Where some come up sooner than others, the two seasons differ, and the sooner is still to come."""
    sentence = met.recipe.verdict.sentence
    season = r"(in spring \d{4}|from about [\w ]+)"
    seasons = re.search(rf"come up {season}, the others {season}", sentence)
    found = [f"“{seasons[0]}”"] if seasons and seasons[1] == seasons[2] else []
    month = (met.today.month + 5) % 12 + 1 if met.plan.lot.southern else met.today.month
    if "up this summer" in sentence and (month >= _AUTUMN or month < _SPRING):
        found.append(f"this summer, on {met.today}")
    return found


_AUTUMN, _SPRING = 9, 3


def bare_pots_wait_as_long_as_seedlings_take(met: Met) -> Faults:
    """No pot is given up before the record lets its seedlings show in soil, or twice the days of a test."""
    bare = next((w.then_do for w in met.recipe.what_if if "BARE" in w.look_for), "")
    day, sown = re.search(_DAY, bare), met.plan.sowing_day
    soil = met.knowledge.value("emergence")
    if not day or sown is None or soil is None or soil.days is None or (met.plan.up and met.plan.up.spring):
        return []
    given = (_named(day) - sown).days
    return [f"{given} days where soil takes {soil.days.high:g}"] if given < 1.2 * soil.days.high else []


DATES: dict[str, Callable[[Met], Faults]] = {
    holds.__name__: holds
    for holds in (
        one_day_to_start,
        a_wide_range_is_not_planned_by_its_longest,
        no_year_is_lost_to_long_days,
        slow_kinds_name_their_spring,
        two_parts_come_up_in_two_seasons,
        bare_pots_wait_as_long_as_seedlings_take,
    )
}
