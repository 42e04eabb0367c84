"""What must hold of every recipe by how far off winter and spring are.

Functions from one met lot to the faults it shows, as in `invariants`, which gathers them. Each would have
caught a cause that readers who knew the page alone had found.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date, timedelta

from meeting import Met

Faults = list[str]

_HELD_BACK = re.compile(
    r"short roots stay in the cold bag|keep the pots moist at [^;.]*until (?:spring|you can)"
)
_MONTHS_HELD = 150
"""Days for which cold holds back what has rooted, at most (common practice)."""


def nothing_rooted_is_held_for_half_a_year(met: Met) -> Faults:
    """What has rooted is not put into the cold and dark in early autumn, to wait there for spring."""
    if not met.plan.lot.rooted or met.plan.lot.winter == "none" or met.recipe.does.page != "plan":
        return []
    if met.plan.decisions.facts["root_first"] == "yes":
        return []  # the root is the sign for the cold
    opens = _next(met.plan.decisions.schedule.first, (10, 1) if met.plan.lot.southern else (4, 1))
    days = (opens - met.plan.decisions.schedule.first).days
    texts = (met.recipe.verdict.sentence, *met.recipe.notes)
    return [f"“{m[0]}” for {days} days" for m in map(_HELD_BACK.search, texts) if m and days > _MONTHS_HELD]


def _next(day: date, month_day: tuple[int, int]) -> date:
    """The next day of a month and day."""
    this = date(day.year, *month_day)
    return this if this >= day else date(day.year + 1, *month_day)


def what_is_sown_in_summer_does_not_wait_for_the_next(met: Met) -> Faults:
    """Biennials whose months end in July are sown until mid September: kept, they flower a year later."""
    facts, lot, first = met.plan.decisions.facts, met.plan.lot, met.plan.decisions.schedule.first
    sown = [date.fromisoformat(s.start) for s in met.recipe.steps if s.do == "sow" and s.start]
    if facts["sown_said"] != "summer" or lot.sow or lot.last_frost or met.recipe.route != "sow_in_season":
        return []
    month = (first.month + 5) % 12 + 1 if lot.southern else first.month
    late = (8, 1) <= (month, first.day) <= (9, 10)
    return [f"sown {day}, asked {met.today}" for day in sown if late and day - first > timedelta(days=30)]


_DRIED = re.compile(r"[Ss]pread (?:it|them) thinly[^.]* until it is dry, then keep")


def nothing_moist_over_a_winter_is_dried(met: Met) -> Faults:
    """What is said to be fresh after a winter, or had a cold that was broken off, is not dried to wait.

    Not without asking how it lay: seed said to be fresh that is months old is dry as often as not, and the
    word on the page is what tells the two apart.
    """
    told, lot, facts = met.said, met.plan.lot, met.plan.decisions.facts
    if (facts["cold_need"] == "none" and not told.get("cold_break_days")) or facts["coat_shut"] == "yes":
        return []
    if facts["plant"] == "annual" and facts["tender"] == "yes":
        return []  # a cold gains it nothing, and lying moist until its warmth it would rot
    if told.get("days_dry") or told.get("stored_years") or told.get("moisture") == "dried" or lot.sown:
        return []
    collected = lot.collected
    over = _next(met.today - timedelta(days=365), (9, 1) if lot.southern else (3, 1))
    wintered = told.get("moisture") == "fresh" and collected and (over - collected).days > _WINTER
    if not (wintered and lot.winter != "none") and not told.get("cold_break_days"):
        return []
    if told.get("gathered") in ("green", "bought", "ground_spring") or lot.pulp == "yes":
        return []
    dormancy = met.knowledge.value("dormancy")
    if lot.rooted and dormancy is not None and dormancy.class_ in ("physical", "combinational"):
        return []  # a coat that is still shut beside those that rooted keeps its seed dry
    if not told.get("cold_break_days") and any(map(_ASKED.search, met.recipe.notes)):
        return []
    return [f"“{m[0]}” of moist seed" for m in map(_DRIED.search, met.sentences) if m]


_ASKED = re.compile(r"if it lay moist say --cold-days-done")
_WINTER = 120


def one_answer_how_long_it_keeps(met: Met) -> Faults:
    """Where nothing keeps any longer no other line holds it for a day, and what grows is not kept cold."""
    hold, texts = met.recipe.hold.says if met.recipe.hold else "", list(met.sentences)
    over = [text for text in texts if re.search(r"can be kept if|keep them moist and cold at once", text)]
    found = [f"“{hold[:30]}” and “{text[:50]}”" for text in over if hold.startswith("No longer; it has lain")]
    grows = any("let it grow" in text for text in texts)
    cold = [text for text in texts if re.search(r"root down, and keep it cold", text)]
    return found + [f"“let it grow” and “{text[:50]}”" for text in cold if grows]


def no_winter_is_left_unused(met: Met) -> Faults:
    """While the short cold of a kind is still to be had outdoors nobody is sent to the next autumn for it."""
    chosen, lot = met.plan.decisions.chosen, met.plan.lot
    if chosen is None or chosen.candidate.shape != "cold" or lot.winter in ("none", "mild") or lot.sown:
        return []
    first = met.plan.decisions.schedule.first
    month = (first.month + 5) % 12 + 1 if lot.southern else first.month
    left = (_next(first, (10, 1) if lot.southern else (4, 1)) - first).days
    steps = [s for s in chosen.candidate.treatment.steps if s.do == "cold_moist" and s.days]
    # days that end with the sprout are not cut short: the slowest take the longest
    needs = sum(s.days.low if s.until == "ready" else s.days.high for s in steps if s.days)
    if month not in (1, 2) or not needs or left < max(needs, 22) + _CLOSE:
        return []
    texts = [each.text for each in met.recipe.instead]
    found = [f"“{t[:40]}”, and {left} days of winter for {needs:g}" for t in texts if "next autumn" in t]
    outdoors = met.recipe.route == "sow_outdoors"
    waits = [s.start for s in met.recipe.steps if s.do == "sow" and s.start and outdoors]
    late = [day for day in waits if (date.fromisoformat(day) - first).days > _MONTHS_HELD]
    if lot.sow and lot.sow > first + timedelta(days=left + 365):  # the winter before the year that is wanted
        late = []
    return found + [f"sown outdoors {day}, and {left} days of winter for {needs:g}" for day in late]


_CLOSE = 7
"""A winter that is a week longer than the cold that is needed, in a soil that lags behind, is no safe way."""


def what_is_not_gathered_is_not_sown_now(met: Met) -> Faults:
    """Of seed that is yet to be gathered nothing is sown outdoors now, and its age is no slip."""
    if met.plan.lot.collected is None or met.plan.lot.collected <= met.today:
        return []
    texts = [each.text for each in met.recipe.instead]
    found = [f"“{t[:40]}” before it is gathered" for t in texts if re.search(r"\bnow\b", t)]
    slip = not met.said.get("stored_years") and any("cannot lie longer" in note for note in met.recipe.notes)
    return found + (["an age that nobody told is called wrong"] if slip else [])


WINTER: dict[str, Callable[[Met], Faults]] = {
    holds.__name__: holds
    for holds in (
        nothing_rooted_is_held_for_half_a_year,
        what_is_sown_in_summer_does_not_wait_for_the_next,
        nothing_moist_over_a_winter_is_dried,
        one_answer_how_long_it_keeps,
        no_winter_is_left_unused,
        what_is_not_gathered_is_not_sown_now,
    )
}
