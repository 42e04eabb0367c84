"""Every stage of a treatment stands on the page, in its order, for every record.

By turns a part of the records is met, fresh or dried; ``COLDSPELL_FULL=1`` meets each in both.
"""

from __future__ import annotations

import os
import re
from collections.abc import Callable
from datetime import date
from itertools import pairwise

import lots
import pages

from coldspell.library.load import Library
from coldspell.records.do import MOIST
from coldspell.records.model import Hazard
from coldspell.write.recipe import Recipe
from coldspell.write.recipe_work import Step

FULL = os.environ.get("COLDSPELL_FULL") == "1"
EVERY = 7
DAY = date(2026, 11, 25)
STAGES = (*MOIST, "scarify_mechanical", "scarify_hot_water", "crack_shell", "after_ripen", "growth_regulator")
TREATED = ("treat_indoors", "warm_indoors", "treat_and_sow", "after_ripen")


def test_every_stage_of_the_treatment_is_printed_in_its_order(
    ask: Callable[..., Recipe], library: Library
) -> None:
    seen = 0
    for turn, name in enumerate(lots.part(library.names, 1 if FULL else EVERY)):
        record = library.get(name)
        for moisture in ("fresh", "dried") if FULL else (("fresh", "dried")[turn % 2],):
            recipe = ask(name, DAY, seeds=30, moisture=moisture)
            used = [t for t in recipe.treatments if t.status == "used"]
            if recipe.route not in TREATED or not used:
                continue
            chosen = next((t for t in record.treatments if t.name == used[0].name), None)
            if chosen is None:  # the treatment of the genus
                continue
            wanted = [s.do for s in chosen.steps if s.do in STAGES]
            stages = [s for s in recipe.steps if s.do in STAGES]
            told = " ".join(pages.render(recipe, 110).split())
            if "spell that would help is left out" in told:
                wanted = [s.do for s in chosen.steps if s.do in STAGES and s.need == "required"]
            assert [s.do for s in stages] == wanted, name
            _follow_each_other(stages, name)
            at = 0
            for stage in stages:
                found = told.find(stage.text, at)
                assert found >= 0, f"{name}: {stage.text}"
                at = found + len(stage.text)
            seen += len(stages)
    assert seen > (1000 if FULL else 150)


def _follow_each_other(stages: list[Step], name: str) -> None:
    days = [(s.start_day, s.end_day) for s in stages if s.start_day is not None and s.end_day is not None]
    for (_, end), (start, _) in pairwise(days):
        assert start >= end, name


def test_hazards_of_the_genus_are_shown_with_those_of_the_species(
    ask: Callable[..., Recipe], library: Library
) -> None:
    """Hazards are the union: one of the genus is left out only where the species names half of its parts."""
    for name in lots.part(library.names, 1 if FULL else EVERY):
        record, genus = library.get(name), library.genus(name)
        wanted = list(record.hazards)
        wanted += [h for h in (genus.hazards if genus and genus is not record else ()) if h.says]
        shown = " ".join(note.text for note in ask(name, DAY, seeds=30).cautions)
        for hazard in wanted:
            if hazard in record.hazards or not any(_tells(own, hazard) for own in record.hazards):
                assert (hazard.says or "").rstrip(".") in shown, f"{name}: {hazard.kind}, {hazard.part}"


def _tells(own: Hazard, other: Hazard) -> bool:
    """Whether a hazard of the species tells one of its genus: same kind, and at least half of its parts."""
    mine, theirs = (set(re.findall(r"[a-z]{4,}", (h.part or "").casefold())) for h in (own, other))
    mine, theirs = ({word.rstrip("s") for word in words} for words in (mine, theirs))
    return (own.kind, own.to) == (other.kind, other.to) and 2 * len(mine & theirs) >= len(theirs)
