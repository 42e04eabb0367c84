"""What is measured of a lot where the grower did not say it: its moisture, its age, how long it was kept."""

from __future__ import annotations

from datetime import date

from coldspell.arithmetic.seasons import in_months, season_month
from coldspell.decide.knowledge import Knowledge
from coldspell.decide.practice import Practice
from coldspell.lot.lot import Lot

DAYS_PER_YEAR, DAYS_PER_MONTH = 365.25, 30.4


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


def lay_dry(lot: Lot, knowledge: Knowledge, today: date, practice: Practice) -> bool:
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


def long_since_spring(lot: Lot, today: date, practice: Practice) -> bool:
    """Whether seed gathered from the ground in spring has lain in store since, from late summer on."""
    told = lot.collected is not None or lot.sown is not None or lot.lain_moist
    return not told and in_months(today, *map(int, practice.spring_gone_months), southern=lot.southern)


def still_green(lot: Lot, knowledge: Knowledge, today: date, practice: Practice) -> bool:
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


def left_of_cold(lot: Lot, practice: Practice) -> float:
    """Share of the cold before a break that still counts (common practice)."""
    if lot.cold_break_days <= practice.break_short_days:
        return 1.0
    return 0.5 if lot.cold_break_days <= practice.break_long_days else 0.0
