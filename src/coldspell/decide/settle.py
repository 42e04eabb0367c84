"""A lot as it is understood: what the grower did not say is measured, or taken as the rules say."""

from __future__ import annotations

from datetime import date, timedelta
from typing import TYPE_CHECKING

from msgspec import Struct
from msgspec.structs import replace

from coldspell.arithmetic.seasons import season_day
from coldspell.decide.facts import lot_facts, yes
from coldspell.decide.knowledge import Knowledge
from coldspell.decide.names.asks import Ask, values_of
from coldspell.decide.names.fields import GrownInFields, UntoldWinterFields, as_fields
from coldspell.decide.practice import Practice
from coldspell.decide.record_facts import record_facts
from coldspell.decide.state import (
    DAYS_PER_MONTH,
    DAYS_PER_YEAR,
    lay_dry,
    left_of_cold,
    long_since_spring,
    months_kept,
    still_green,
)
from coldspell.decide.tables import Tables
from coldspell.errors import ColdspellError
from coldspell.lot.lot import Lot
from coldspell.records.do import COLD
from coldspell.rules import Decided
from coldspell.rules.model import FactValue

if TYPE_CHECKING:
    from coldspell.decide.names.closed import YesNoUnknown
    from coldspell.decide.names.facts import UntoldFacts

_MOST_SEEDS = 1_000_000_000


class Settled(Struct, frozen=True):
    """A lot as it is understood, and what the rules took for granted of it."""

    lot: Lot
    winter_taken: bool
    """Whether days of moist cold are taken for it that nobody told."""
    decided: tuple[Decided, ...]


def settled(lot: Lot, knowledge: Knowledge, today: date, tables: Tables) -> Settled:
    """The lot with seeds from kilograms, its age from the day it was gathered, and dried where that says so.

    Where a length of root was said one seed at least has rooted. Seed that was picked green counts as ripe
    once its weeks are over, and moist cold that was broken by warmth counts for as much as is left of it.
    Whether a winter is taken for it, and where it is grown, the rules say.

    Raises
    ------
    ColdspellError
        A weight was given, and no record says how many seeds make a kilogram.
    """
    practice = tables.practice
    lot = _of_its_age(lot, knowledge, today, practice)
    facts = _facts(lot, knowledge, today, tables)
    winter, place = (tables.session.decide(ask, facts) for ask in (Ask.UNTOLD_WINTER, Ask.GROWN_IN))
    taken = as_fields(UntoldWinterFields, winter.fields).taken == "winter"
    if taken:
        lot = replace(lot, cold_days_done=practice.winter_taken_days)
    if lot.cold_break_days and lot.cold_days_done:
        left = round(lot.cold_days_done * left_of_cold(lot, practice))
        warm = 0 if left else lot.cold_break_days  # what lost its cold has lain moist and warm since
        lot = replace(lot, cold_days_done=left, warm_days_done=lot.warm_days_done + warm)
    grown = as_fields(GrownInFields, place.fields).place
    if grown != "as_said":
        lot = replace(lot, grow_in=grown)
    if lot.root_mm and not lot.rooted:  # a root that was measured is a root; how many there are nobody said
        lot = replace(lot, rooted=1, assumed=(*lot.assumed, "rooted"))
    return Settled(_counted(lot, knowledge), taken, (winter, place))


def _of_its_age(lot: Lot, knowledge: Knowledge, today: date, practice: Practice) -> Lot:
    """The lot with its age, what ripened since it was gathered, and what dried since."""
    if not lot.stored_years and lot.collected is not None:
        since = (today - lot.collected).days / DAYS_PER_YEAR
        lot = replace(lot, stored_years=round(since, 1)) if since >= practice.stored_dry_years else lot
    if lot.gathered == "ground_spring" and long_since_spring(lot, today, practice):
        lot = replace(lot, gathered="ripe", moisture="dried" if "moisture" in lot.assumed else lot.moisture)
    if lot.gathered == "green" and not still_green(lot, knowledge, today, practice):
        lot = replace(lot, gathered="ripe")
    long_dry = (lot.days_dry or 0) > practice.stored_dry_days and not lot.lain_moist and lot.sown is None
    if long_dry or ("moisture" in lot.assumed and lay_dry(lot, knowledge, today, practice)):
        lot = replace(lot, moisture="dried")
    return lot


def _counted(lot: Lot, knowledge: Knowledge) -> Lot:
    if lot.kilograms is None:
        return lot
    per_kg = knowledge.value("seeds_per_kg")
    if per_kg is None:
        raise ColdspellError(
            f"nobody says how many seeds of {knowledge.record.name} make a kilogram",
            mend="weigh and count a handful, and give --seeds",
        )
    return replace(lot, seeds=max(1, min(round(lot.kilograms * per_kg.value.middle), _MOST_SEEDS)))


def _facts(lot: Lot, knowledge: Knowledge, today: date, tables: Tables) -> dict[str, FactValue]:
    practice, months = tables.practice, months_kept(lot, knowledge, today)
    told: UntoldFacts = {
        "sown": yes(lot.sown),
        "days_told": yes(lot.cold_days_done or lot.warm_days_done),
        "lay_dry": yes(lot.moisture == "dried" or (lot.days_dry or 0) > practice.hardly_dry_days),
        "moisture_said": yes("moisture" not in lot.assumed),
        "chills": yes(knowledge.once("chills", lambda: _chills(knowledge))),
        "winter_passed": _winter_passed(months, lot, today, practice),
        "next_near": yes(months is not None and months > practice.winter_taken_months),
        "collected_said": yes(lot.collected),
        "frost_told": yes(lot.last_frost or lot.usual_frost),
        "grow_in_said": yes("grow_in" not in lot.assumed),
    }
    known = record_facts(knowledge, tables.book, practice)
    return values_of({**known, **lot_facts(lot, shut=False, sour=False), **told})


def _chills(knowledge: Knowledge) -> bool:
    """Whether a treatment of the record has a moist cold that it needs."""
    steps = (step for treatment, _ in knowledge.treatments() for step in treatment.steps)
    return any(step.do in COLD and step.need == "required" for step in steps)


def _winter_passed(months: float | None, lot: Lot, today: date, practice: Practice) -> YesNoUnknown:
    """Whether it was gathered, or shed, so long before a winter was over that it had the days of one."""
    if months is None:
        return "unknown"
    over = season_day(today.year, practice.winter_over, lot.southern)
    over = over if over <= today else season_day(today.year - 1, practice.winter_over, lot.southern)
    since = today - timedelta(days=months * DAYS_PER_MONTH)
    return yes(since <= over - timedelta(days=practice.winter_taken_days))
