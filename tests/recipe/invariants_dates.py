"""What must hold of the days of every recipe: one day to start, ways out that are open, figures.

Functions from one met lot to the faults it shows, as in `invariants`, which gathers them.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date

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


DATES: dict[str, Callable[[Met], Faults]] = {holds.__name__: holds for holds in (one_day_to_start,)}
