"""What is taken for granted of a lot where the grower did not say it: its count and its moisture."""

from __future__ import annotations

from msgspec.structs import replace

from coldspell.decide.knowledge import Knowledge
from coldspell.decide.practice import Practice
from coldspell.errors import ColdspellError
from coldspell.lot.lot import Lot

_MOST_SEEDS = 1_000_000_000


def settled(lot: Lot, knowledge: Knowledge, practice: Practice) -> Lot:
    """The lot with seeds from kilograms, and dried where its time in store or on a shelf says so.

    Raises
    ------
    ColdspellError
        A weight was given, and no record says how many seeds make a kilogram.
    """
    if "moisture" in lot.assumed and _lay_dry(lot, knowledge, practice):
        lot = replace(lot, moisture="dried")
    if lot.kilograms is None:
        return lot
    per_kg = knowledge.value("seeds_per_kg")
    if per_kg is None:
        raise ColdspellError(
            f"nobody says how many seeds of {knowledge.record.name} make a kilogram",
            mend="weigh and count a handful, and give --seeds",
        )
    return replace(lot, seeds=max(1, min(round(lot.kilograms * per_kg.value.middle), _MOST_SEEDS)))


def _lay_dry(lot: Lot, knowledge: Knowledge, practice: Practice) -> bool:
    """Seed stored or laid dry for so long was dried; what must not dry counts as dried sooner."""
    days_dry = lot.days_dry or 0
    if lot.stored_years >= practice.stored_dry_years or days_dry > practice.stored_dry_days:
        return True
    storage = knowledge.value("storage")
    must_not_dry = storage is not None and storage.behaviour == "recalcitrant"
    return must_not_dry and days_dry > practice.dried_after_days
