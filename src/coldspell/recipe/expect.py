"""How many plants a lot should give, and how many seeds the plants wanted take."""

from __future__ import annotations

from msgspec import Struct

from coldspell.arithmetic.plants import (
    Expectation,
    Share,
    plants_expected,
    product,
    range_share,
    seeds_for_plants,
    tested_share,
)
from coldspell.arithmetic.samples import clopper_pearson
from coldspell.library.model import Quantity
from coldspell.recipe import practice
from coldspell.recipe.candidate import Candidate
from coldspell.recipe.lot import Lot
from coldspell.recipe.topics import Knowledge

LEVEL = 0.9


class Expected(Struct, frozen=True):
    """Plants expected, seeds for the plants wanted (nine times in ten), and what was assumed."""

    plants: Expectation
    seeds_for_wanted: int | None
    assumed: tuple[str, ...]
    cited: tuple[str, ...]
    """Topics of the records that the shares came from."""


def expected(knowledge: Knowledge, candidate: Candidate | None, lot: Lot) -> Expected:
    """Multiply the shares that are filled, sprout, do not rot, and grow on."""
    shares: list[Share] = []
    assumed: list[str] = []
    cited: list[str] = []
    germination = _germination(knowledge, candidate)
    filled = knowledge.value("filled_percent")
    if lot.cut:
        shares.append(tested_share(*lot.cut))
        low, high = clopper_pearson(*lot.cut)
        between = _percent((round(100 * low), round(100 * high)))
        assumed.append(f"sound: your cut test, {lot.cut[0]} of {lot.cut[1]}, which can mean {between}")
    elif lot.float_test and _floats_tell(knowledge, lot):
        floated, tested = lot.float_test
        shares.append(tested_share(tested - floated, tested))
        assumed.append(f"sound: those that sank, {tested - floated} of {tested}")
    elif filled is not None:
        shares.append(_share(filled.value))
        cited.append("filled_percent")
        assumed.append(f"filled: {_percent(filled.value)}")
    if germination is not None:
        shares.append(_share(germination))
        cited.append("germination")
        assumed.append(f"sprouting: {_percent(germination)} as in the record")
    else:
        shares.append(_practice(practice.SOUND_PERCENT))
        assumed.append(f"sprouting of sound seed: {_percent(practice.SOUND_PERCENT)}, common practice")
    if candidate is not None and candidate.moist_days:
        low, high = practice.ROT_PERCENT
        shares.append(_practice((100 - high, 100 - low)))
        assumed.append(f"lost to rot: {_percent(practice.ROT_PERCENT)}, common practice")
    growing = practice.SEEDLING_TO_PLANT_PERCENT[lot.grow_in]
    shares.append(_practice(growing))
    assumed.append(f"seedlings that become plants: {_percent(growing)}, common practice")
    share = product(*shares)
    wanted = None if lot.want is None else seeds_for_plants(lot.want, LEVEL, share)
    return Expected(plants_expected(lot.seeds, share, LEVEL), wanted, tuple(assumed), tuple(cited))


def _floats_tell(knowledge: Knowledge, lot: Lot) -> bool:
    """Whether a float test says anything: for fresh nuts and stones; dry and winged seed floats anyway."""
    return lot.moisture == "fresh" and knowledge.record.unit in ("nut", "acorn", "stone")


def _germination(knowledge: Knowledge, candidate: Candidate | None) -> Quantity | None:
    if candidate is not None and candidate.treatment.percent is not None:
        return candidate.treatment.percent
    germination = knowledge.value("germination")
    return germination.percent if germination else None


def _share(percent: Quantity) -> Share:
    return _practice((percent.low, percent.high))


def _practice(percent: tuple[float, float]) -> Share:
    return range_share(percent[0] / 100, percent[1] / 100)


def _percent(value: Quantity | tuple[float, float]) -> str:
    low, high = (value.low, value.high) if isinstance(value, Quantity) else value
    return f"{low:g} %" if low == high else f"{low:g}–{high:g} %"
