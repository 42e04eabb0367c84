"""What must hold of the days of every recipe: one day to start, ways out that are open, figures.

Functions from one met lot to the faults it shows, as in `invariants`, which gathers them.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date, timedelta

from meeting import Met

from coldspell.decide.schedule import COATS
from coldspell.records.do import COLD, MOIST
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
    least += sum((s.end - s.start).days for s in dated.plan.steps if s.name == COATS)  # tried before the cold
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
    # what has sprouted and is held back by cold waits for the next spring, and is told so in words
    doubted = doubted or (recipe.does.lies == "cold_pot" and "spring" in recipe.verdict.sentence)
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


_OPENS, _CLOSES = range(3, 7), (6, 15)
_LAST_DAYS = 20
"""A season that is a year away is not begun in its last days."""


def _in_spring(day: date, met: Met) -> bool:
    """Whether a day lies between the first spring month and the middle of the first summer month."""
    month = (day.month + 5) % 12 + 1 if met.plan.lot.southern else day.month
    return month in _OPENS and (month, day.day) <= _CLOSES


def _taken_from_spring(met: Met) -> bool:
    """Whether the day to sow was taken from the usual spring, and not asked for, nor set by a frost."""
    facts = met.plan.decisions.facts
    return (
        met.plan.decisions.schedule.asked is None
        and met.plan.lot.usual_frost is None
        and facts["sown_when"] in ("spring", "frost_free")
    )


def what_rooted_is_held_to_the_next_spring_alone(met: Met) -> Faults:
    """What has rooted is planted out in the next spring, whatever the others of its lot still need."""
    said = re.search(rf"plant them out on {_DAY}", met.recipe.verdict.sentence)
    asked = met.plan.decisions.schedule.asked
    far = asked is not None and (asked - met.today).days > 300
    if said is None or not (far or _taken_from_spring(met)):
        return []
    day = _named(said)
    return [f"rooted on {met.today}, planted out on {day}"] if (day - met.today).days > 300 else []


def no_shoot_is_put_off_a_year(met: Met) -> Faults:
    """Where the cold of the shoot is over before sowing closes, the shoot comes in that year."""
    said = re.search(r"the shoot comes in spring (\d{4})", met.recipe.verdict.sentence)
    ends = [t.steps[-1].days for t, _ in met.knowledge.treatments() if t.steps and t.steps[-1].do in COLD]
    longest = max((days.high for days in ends if days), default=None)
    if said is None or longest is None:
        return []
    ready, southern = met.today + timedelta(days=longest), met.plan.lot.southern
    closes = date(int(said[1]) - 1, 12 if southern else _CLOSES[0], _CLOSES[1])
    return [f"its cold is over on {ready}, and “{said[0]}”"] if ready <= closes else []


def nothing_is_kept_or_put_off_beyond_its_season(met: Met) -> Faults:
    """The last day to wait and the day of the next season lie in spring where the plan is for spring."""
    dated, found = met.plan.decisions.schedule, []
    if not _taken_from_spring(met) or dated.target is None or not _in_spring(dated.target, met):
        return []
    until = met.recipe.hold.until if met.recipe.hold else None
    treated = met.plan.decisions.route.waits_from != "gathered"
    if until and treated and not _in_spring(date.fromisoformat(until), met):
        found.append(f"sown {dated.target}, and kept until {until}")
    dry = next((way.date for way in met.recipe.timing.ways_out if "dry and cool" in way.text), None)
    if dry and not _in_spring(date.fromisoformat(dry) + timedelta(days=_LAST_DAYS), met):
        found.append(f"put off to {dry}, when sowing closes")
    return found


DATES: dict[str, Callable[[Met], Faults]] = {
    holds.__name__: holds
    for holds in (
        one_day_to_start,
        a_wide_range_is_not_planned_by_its_longest,
        no_year_is_lost_to_long_days,
        slow_kinds_name_their_spring,
        two_parts_come_up_in_two_seasons,
        bare_pots_wait_as_long_as_seedlings_take,
        what_rooted_is_held_to_the_next_spring_alone,
        no_shoot_is_put_off_a_year,
        nothing_is_kept_or_put_off_beyond_its_season,
    )
}
