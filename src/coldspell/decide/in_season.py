"""A mixed genus whose question the month answers: what is shed now is of the kinds that ripen now."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date

from msgspec.structs import replace

from coldspell.arithmetic.seasons import in_months
from coldspell.decide.knowledge import Knowledge, Season
from coldspell.decide.practice import Practice
from coldspell.decide.relatives import relatives
from coldspell.decide.state import kept_said
from coldspell.lot.lot import Lot
from coldspell.records.model import AskAnswer, Harvest, Record, Step, Treatment


def in_season(
    knowledge: Knowledge, lot: Lot, today: date, record_of: Callable[[str], Record | None], practice: Practice
) -> Knowledge:
    """The kinds of a mixed genus that are shed when the lot was gathered, where all of them are sown at once.

    Its question is asked where the month does not answer it, where the lot may be of another season, or where
    those kinds want anything before they are sown.

    Parameters
    ----------
    record_of
        Gives the record of an accepted name, if there is one.
    """
    asks = knowledge.asks if knowledge.mixed else None
    day = _gathered(lot, today)
    if asks is None or day is None or any(answer.ripens is None for answer in asks.answers):
        return knowledge
    ripe = [one for one in asks.answers if one.ripens and in_months(day, *one.ripens, southern=lot.southern)]
    named = [record_of(name) for answer in ripe for name in answer.then]
    records = tuple(record for record in named if record is not None)
    found = relatives(records, lot, practice)
    if not records or len(found) < len(named) or any(one.wants != "nothing" for one in found):
        return knowledge
    season = Season(day, tuple(ripe))
    return knowledge.in_season(season, _as_one(knowledge.record, ripe), records, _SOWN)


_SOWN = Treatment(name="as-its-relatives", steps=(Step("sow"),), cite=())


def _gathered(lot: Lot, today: date) -> date | None:
    """The day it was gathered; today, where nothing was said of how it was kept or it has never dried."""
    if lot.collected is not None:
        return lot.collected
    fresh = "moisture" not in lot.assumed and lot.moisture == "fresh"
    past = lot.lain_moist or lot.sown is not None or lot.stored_years > 0 or lot.days_dry is not None
    elsewhere = lot.gathered in ("bought", "ground_spring")
    return None if past or elsewhere or (kept_said(lot) and not fresh) else today


def _as_one(genus: Record, ripe: Sequence[AskAnswer]) -> Record:
    """The record of the genus without its question, with the months in which those kinds ripen."""
    months = [one.ripens for one in ripe if one.ripens]
    cite = tuple(dict.fromkeys(note for one in ripe for note in one.cite))
    harvest = genus.harvest or Harvest(
        months=(min(first for first, _ in months), max(last for _, last in months)), cite=cite
    )
    return replace(genus, asks=None, harvest=harvest)
