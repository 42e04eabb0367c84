"""How many plants a lot should give, and how many seeds the plants wanted take."""

from __future__ import annotations

from typing import Literal

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
from coldspell.decide.knowledge import Knowledge
from coldspell.decide.practice import Practice
from coldspell.decide.treatment import Candidate
from coldspell.lot.lot import Lot
from coldspell.records.model import Quantity

LEVEL = 0.9
Reckoned = Literal["cut_test", "float_test", "filled", "sprouting", "sound", "rot", "plants"]


class Assumed(Struct, frozen=True):
    """One share that was reckoned with [percent]; of a test, how many of how many."""

    what: Reckoned
    low: float = 0.0
    high: float = 0.0
    some: int = 0
    tried: int = 0


class Expected(Struct, frozen=True):
    """Plants expected, seeds for the plants wanted (nine times in ten), and what was assumed."""

    plants: Expectation
    seeds_for_wanted: int | None
    assumed: tuple[Assumed, ...]
    cited: tuple[str, ...]
    """Topics of the records that the shares came from."""


def expected(knowledge: Knowledge, candidate: Candidate | None, lot: Lot, practice: Practice) -> Expected:
    """Multiply the shares that are filled, sprout, do not rot, and grow on."""
    shares: list[Share] = []
    assumed: list[Assumed] = []
    cited: list[str] = []

    def reckon(what: Reckoned, percent: tuple[float, float], topic: str = "") -> None:
        shares.append(range_share(percent[0] / 100, percent[1] / 100))
        assumed.append(Assumed(what, *percent))
        cited.extend([topic] if topic else [])

    filled = knowledge.value("filled_percent")
    if lot.cut:
        shares.append(tested_share(*lot.cut))
        low, high = clopper_pearson(*lot.cut)
        assumed.append(Assumed("cut_test", round(100 * low), round(100 * high), *lot.cut))
    elif lot.float_test and _floats_tell(knowledge, lot):
        floated, tested = lot.float_test
        shares.append(tested_share(tested - floated, tested))
        assumed.append(Assumed("float_test", some=tested - floated, tried=tested))
    elif filled is not None:
        reckon("filled", (filled.value.low, filled.value.high), "filled_percent")
    germination = _germination(knowledge, candidate)
    if germination is not None:
        reckon("sprouting", (germination.low, germination.high), "germination")
    else:
        reckon("sound", practice.sound_percent)
    if candidate is not None and candidate.moist_days:
        low, high = practice.rot_percent
        shares.append(range_share((100 - high) / 100, (100 - low) / 100))
        assumed.append(Assumed("rot", low, high))
    reckon("plants", _growing_on(lot, practice))
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


def _growing_on(lot: Lot, practice: Practice) -> tuple[float, float]:
    return {
        "container": practice.plants_container_percent,
        "bed": practice.plants_bed_percent,
        "site": practice.plants_site_percent,
    }[lot.grow_in]
