"""What is taken for granted of a lot where the grower did not say it: its count, its moisture, its age."""

from __future__ import annotations

from datetime import date, timedelta

from msgspec.structs import replace

from coldspell.arithmetic.seasons import in_months, season_day, season_month
from coldspell.decide.knowledge import Knowledge
from coldspell.decide.practice import Practice
from coldspell.errors import ColdspellError
from coldspell.lot.lot import Lot
from coldspell.records.do import COLD

_MOST_SEEDS = 1_000_000_000
DAYS_PER_YEAR, DAYS_PER_MONTH = 365.25, 30.4


def settled(lot: Lot, knowledge: Knowledge, today: date, practice: Practice) -> Lot:
    """The lot with seeds from kilograms, its age from the day it was gathered, and dried where that says so.

    Where a length of root was said one seed at least has rooted. Seed that was picked green counts as ripe
    once its weeks are over, and moist cold that was broken by warmth counts for as much as is left of it.
    What its record sows where it is to grow is sown in a bed, if nobody asks for pots.

    Raises
    ------
    ColdspellError
        A weight was given, and no record says how many seeds make a kilogram.
    """
    if not lot.stored_years and lot.collected is not None:
        since = (today - lot.collected).days / DAYS_PER_YEAR
        lot = replace(lot, stored_years=round(since, 1)) if since >= practice.stored_dry_years else lot
    if lot.gathered == "ground_spring" and _long_since_spring(lot, today, practice):
        lot = replace(lot, gathered="ripe", moisture="dried" if "moisture" in lot.assumed else lot.moisture)
    if lot.gathered == "green" and not _still_green(lot, knowledge, today, practice):
        lot = replace(lot, gathered="ripe")
    if "moisture" in lot.assumed and _lay_dry(lot, knowledge, today, practice):
        lot = replace(lot, moisture="dried")
    if wintered_untold(lot, knowledge, today, practice):
        lot = replace(lot, cold_days_done=practice.winter_taken_days)
    if lot.cold_break_days and lot.cold_days_done:
        left = round(lot.cold_days_done * _left_of_cold(lot, practice))
        warm = 0 if left else lot.cold_break_days  # what lost its cold has lain moist and warm since
        lot = replace(lot, cold_days_done=left, warm_days_done=lot.warm_days_done + warm)
    sowing = knowledge.value("sowing")
    if "grow_in" in lot.assumed and sowing is not None and sowing.in_place:
        lot = replace(lot, grow_in="bed")
    if lot.root_mm and not lot.rooted:  # a root that was measured is a root; how many there are nobody said
        lot = replace(lot, rooted=1, assumed=(*lot.assumed, "rooted"))
    if lot.kilograms is None:
        return lot
    per_kg = knowledge.value("seeds_per_kg")
    if per_kg is None:
        raise ColdspellError(
            f"nobody says how many seeds of {knowledge.record.name} make a kilogram",
            mend="weigh and count a handful, and give --seeds",
        )
    return replace(lot, seeds=max(1, min(round(lot.kilograms * per_kg.value.middle), _MOST_SEEDS)))


def months_kept(lot: Lot, knowledge: Knowledge, today: date) -> float | None:
    """Months since it was gathered; without a day, since the kind is shed; ``None``: nobody knows."""
    if lot.collected is not None:
        return max((today - lot.collected).days, 0) / DAYS_PER_MONTH
    return months_since_shed(knowledge, today, southern=lot.southern)


def days_lain_dry(lot: Lot, today: date) -> float:
    """Days that it has lain dry, as far as was said: all its time in store, if it was dried."""
    told = float(lot.days_dry or 0)
    if lot.moisture != "dried":
        return told
    since = (today - lot.collected).days if lot.collected else 0
    return max(told, since, lot.stored_years * DAYS_PER_MONTH * 12)


def months_since_shed(knowledge: Knowledge, today: date, *, southern: bool) -> float | None:
    """Months since the kind was last shed, none while it is being shed; ``None``: nobody knows."""
    harvest = knowledge.value("harvest")
    if harvest is None or harvest.months is None:
        return None
    first, last = harvest.months
    if in_months(today, first, last, southern=southern):
        return 0.0
    return float((today.month - season_month(last, southern)) % 12)


def kept_said(lot: Lot) -> bool:
    """Whether the grower said how it was kept: moist, dry, or under treatment."""
    told = lot.days_dry is not None or lot.stored_years > 0 or lot.lain_moist or lot.sown is not None
    told = told or lot.swollen == "some" or lot.smell in ("sour", "rotten")
    return "moisture" not in lot.assumed or told or lot.gathered == "ground_spring"


def hard_coat(knowledge: Knowledge) -> bool:
    """Whether the kind has a coat that lets no water in."""
    dormancy = knowledge.value("dormancy")
    return dormancy is not None and dormancy.class_ in ("physical", "combinational")


def _lay_dry(lot: Lot, knowledge: Knowledge, today: date, practice: Practice) -> bool:
    """Seed stored, laid dry or kept for so long was dried; what must not dry counts as dried sooner."""
    if lot.lain_moist or lot.sown is not None or lot.gathered in ("ground_spring", "green"):
        return False
    foul = lot.smell in ("sour", "rotten") and lot.days_dry is None  # dry seed does not ferment
    if lot.pulp == "yes" or foul:
        return False
    if lot.swollen == "some" and not hard_coat(knowledge):  # the others lay in the same water
        return False
    days_dry = lot.days_dry or 0
    hardly = lot.days_dry is not None and days_dry <= practice.hardly_dry_days
    if hardly and lot.stored_years < practice.stored_dry_years:
        return False
    storage = knowledge.value("storage")
    keeps_dry = storage is None or storage.behaviour not in ("recalcitrant", "intermediate")
    long = practice.dry_soon_days if keeps_dry else practice.stored_dry_days
    if lot.stored_years >= practice.stored_dry_years or days_dry > long:
        return True
    if storage is not None and storage.behaviour == "recalcitrant":
        return days_dry > practice.dried_after_days
    if lot.gathered == "bought":
        return True
    months = months_kept(lot, knowledge, today)
    if months is None and keeps_dry and knowledge.record.plant == "annual":  # nobody gathers it before summer
        return not in_months(today, *map(int, practice.annuals_shed_months), southern=lot.southern)
    return months is not None and months > practice.fresh_months


def wintered_untold(lot: Lot, knowledge: Knowledge, today: date, practice: Practice) -> bool:
    """Whether a hardy kind, never dried as is said, has lain moist over a winter of which nobody told.

    Seed that is moist long after its season was in the cold: warm it would have rotted or come up. Where the
    day of gathering was not told, and its next season is near, it may as well be picked green.
    """
    told = lot.cold_days_done or lot.warm_days_done or lot.stored_years or lot.sown
    dry = lot.moisture == "dried" or (lot.days_dry or 0) > practice.hardly_dry_days
    storage = knowledge.value("storage")
    dies_dry = storage is not None and storage.behaviour == "recalcitrant"  # so it is moist, or dead
    other = lot.gathered in ("green", "ground_spring", "bought")
    other = other or ("moisture" in lot.assumed and not dies_dry)
    if told or dry or other or lot.pulp == "yes" or lot.winter == "none":
        return False
    months = months_kept(lot, knowledge, today)
    known = lot.collected is not None or lot.gathered == "ground_autumn" or bool(lot.rooted)
    if months is None or (months > practice.winter_taken_months and not known):
        return False
    chilled = (s.do in COLD and s.need == "required" for t, _ in knowledge.treatments() for s in t.steps)
    if not any(chilled) or hard_coat(knowledge):
        return False
    over = season_day(today.year, practice.winter_over, lot.southern)
    over = over if over <= today else season_day(today.year - 1, practice.winter_over, lot.southern)
    since = today - timedelta(days=months * DAYS_PER_MONTH)
    return since <= over - timedelta(days=practice.winter_taken_days)


def _long_since_spring(lot: Lot, today: date, practice: Practice) -> bool:
    """Whether seed gathered from the ground in spring has lain in store since, from late summer on."""
    told = lot.collected is not None or lot.sown is not None or lot.lain_moist
    return not told and in_months(today, *map(int, practice.spring_gone_months), southern=lot.southern)


def _still_green(lot: Lot, knowledge: Knowledge, today: date, practice: Practice) -> bool:
    """Whether seed that was picked green can still be green: for some weeks, or around its ripening."""
    if lot.sown is not None:
        return True
    if lot.collected is not None:
        return (today - lot.collected).days <= practice.green_days
    harvest = knowledge.value("harvest")
    if harvest is None or harvest.months is None:
        return True
    first, last = harvest.months
    before = (first - 1 - int(practice.green_months_before)) % 12 + 1
    return in_months(today, before, last, southern=lot.southern)


def _left_of_cold(lot: Lot, practice: Practice) -> float:
    """Share of the cold before a break that still counts (common practice)."""
    if lot.cold_break_days <= practice.break_short_days:
        return 1.0
    return 0.5 if lot.cold_break_days <= practice.break_long_days else 0.0
