"""What stands on the page of an answer: the content of the sheet, why, other ways, whole sources."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from coldspell.sheet.content import Adviser, Sheet, Wanted, sheet, without_options
from coldspell.texts import Texts
from coldspell.views.reasons import Why, why
from coldspell.views.short import Row, short_page
from coldspell.views.sources import Sources, Work
from coldspell.views.ways import ways
from coldspell.write.recipe import Recipe
from coldspell.write.units import spelled_date


class Answer(Struct, frozen=True):
    """One answer; ``leads`` are the names that each answer to the question of a mixed genus leads to."""

    sheet: Sheet
    leads: tuple[tuple[str, ...], ...]
    tries: bool
    """Whether a trial is offered in place of the question."""
    why: Why
    ways: tuple[Row, ...]
    works: tuple[Work, ...]
    dated: bool
    """Whether some step has a day, so that there is a calendar."""


def answer(recipe: Recipe, texts: Texts, settings: Mapping[str, Any]) -> Answer:
    """The page of a recipe; works have the numbers that the sheet gives them, further ones follow."""
    adviser = Adviser(*(str(settings.get(key, "")) for key in ("adviser", "office", "note")))
    found = sheet(recipe, texts, Wanted(adviser=adviser, printed=False))
    sources = Sources(recipe.sources, texts)
    short_page(recipe, texts, sources=sources)
    reasons = why(recipe, texts, sources)
    others = tuple(ways(recipe, texts, sources.marked))
    short = found.short
    day = spelled_date(date.fromisoformat(recipe.asked_on))
    printed = replace(short, otherwise="", printed=texts.say("page_printed", day=day))
    words = {**found.words, "tick": texts.say("sheet_look_on")}  # on a screen nothing can be ticked
    return Answer(
        sheet=replace(found, short=printed, words=words),
        leads=tuple(choice.leads_to for choice in recipe.asks.choices) if recipe.asks else (),
        tries=bool(short.otherwise),
        why=replace(reasons, rows=tuple(map(without_options, reasons.rows))),
        ways=others,
        works=sources.works(),
        dated=any(step.start for step in recipe.steps),
    )
