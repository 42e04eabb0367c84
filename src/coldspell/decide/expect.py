"""How many plants a lot should give, and how many seeds the plants wanted take."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

from coldspell.arithmetic.plants import (
    Expectation,
    Share,
    parts_of,
    plants_expected,
    product,
    range_share,
    seeds_for_plants,
    spread_share,
    tested_share,
)
from coldspell.arithmetic.samples import clopper_pearson
from coldspell.decide.knowledge import Knowledge
from coldspell.decide.names.fields import FigureFields
from coldspell.decide.practice import Practice
from coldspell.decide.treatment import Candidate
from coldspell.errors import ColdspellError
from coldspell.lot.lot import Lot
from coldspell.records.model import Quantity

LEVEL = 0.9
TEN = 10
Reckoned = Literal[
    "cut_test", "float_test", "filled", "sprouting", "sound", "aged", "old", "dried", "left_out", "rooted",
    "rot", "plants",
]  # fmt: skip


class Assumed(Struct, frozen=True):
    """One share that was reckoned with [percent]; of a test, how many of how many."""

    what: Reckoned
    low: float = 0.0
    high: float = 0.0
    some: int = 0
    tried: int = 0


class Expected(Struct, frozen=True):
    """Plants expected, seeds for the plants wanted (nine times in ten), and what was assumed."""

    plants: Expectation | None
    """``None`` where nobody can tell before the lot is tested."""
    seeds_for_wanted: int | None
    seeds_for_ten: int | None
    """Seeds of a lot that was cut that give ten plants nine times in ten; ``None`` where no number does."""
    assumed: tuple[Assumed, ...]
    cited: tuple[str, ...]
    """Topics of the records that the shares came from."""
    apart: tuple[Expectation, Expectation] | None = None
    """Where part of the lot has rooted: plants of that part, and of the others."""


class _Reckoning:
    """Shares as they are gathered, with what was assumed and the topics that they came from."""

    def __init__(self) -> None:
        self.shares: list[Share] = []
        self.assumed: list[Assumed] = []
        self.cited: list[str] = []

    def add(
        self, what: Reckoned, percent: tuple[float, float], topic: str = "", share: Share | None = None
    ) -> None:
        """One share that is known as a range [percent]."""
        self.shares.append(share or range_share(percent[0] / 100, percent[1] / 100))
        self.assumed.append(Assumed(what, *percent))
        self.cited.extend([topic] if topic else [])

    def tested(self, what: Reckoned, sound: int, tried: int, percent: tuple[float, float] = (0, 0)) -> None:
        """One share that a test of some seeds told."""
        self.shares.append(tested_share(sound, tried))
        self.assumed.append(Assumed(what, *percent, some=sound, tried=tried))


def expected(
    knowledge: Knowledge,
    candidate: Candidate | None,
    lot: Lot,
    figure: FigureFields | None,
    practice: Practice,
    *,
    plants_only: bool = False,
) -> Expected:
    """Multiply the shares that are filled, sprout, do not rot, and grow on.

    Seed that has rooted has sprouted; of it only what grows on is reckoned. ``figure`` is what the rules say
    of the sprouting figure for this lot; without it nothing is withheld. With ``plants_only`` nothing
    else is told.
    """
    told = figure or FigureFields("record", "none", "usual")
    found, growing, unrooted = _shares(knowledge, candidate, lot, told, practice)
    rooted = min(lot.rooted, lot.seeds)
    share = parts_of((rooted, growing), (lot.seeds - rooted, unrooted))
    withheld = told.sprouting == "withheld" and rooted < lot.seeds
    plants = None if withheld else plants_expected(lot.seeds, share, LEVEL)
    if plants_only:
        return Expected(plants, None, None, (), ())
    assumed, cited, apart = [*found.assumed], [*found.cited], None
    if rooted:
        assumed, cited = ([], []) if rooted == lot.seeds else (assumed, cited)
        assumed.append(Assumed("rooted", some=rooted, tried=lot.seeds))
    assumed.append(Assumed("plants", *_growing_on(lot, practice)))
    wanted = None if lot.want is None or withheld else seeds_for_plants(lot.want, LEVEL, share)
    if 0 < rooted < lot.seeds and not withheld:
        others = plants_expected(lot.seeds - rooted, unrooted, LEVEL)
        apart = plants_expected(rooted, growing, LEVEL), others
    return Expected(
        plants,
        wanted,
        _for_ten(lot, unrooted),
        tuple(assumed),
        tuple(cited),
        apart,
    )


def _shares(
    knowledge: Knowledge, candidate: Candidate | None, lot: Lot, told: FigureFields, practice: Practice
) -> tuple[_Reckoning, Share, Share]:
    """What a kind in such a state is reckoned with, and what grows on of a plant and of a seed."""
    floats = bool(lot.float_test) and _floats_tell(knowledge, lot)
    tests = (lot.cut, lot.float_test if floats else None)
    key = (practice, told, lot.grow_in, _percent(candidate), _moist(candidate), *tests)
    kept: dict[object, tuple[_Reckoning, Share, Share]] = knowledge.once("shares", dict)
    if (known := kept.get(key)) is not None:
        return known
    if len(kept) >= 256:  # memory stays flat over any number of lots
        kept.clear()
    found = _Reckoning()
    growing = range_share(*(p / 100 for p in _growing_on(lot, practice)))
    _filled(found, knowledge, lot)
    _sprouting(found, knowledge, candidate, told, practice)
    if _moist(candidate):
        low, high = practice.rot_percent
        found.add("rot", (low, high), share=range_share((100 - high) / 100, (100 - low) / 100))
    kept[key] = found, growing, product(*found.shares, growing)
    return kept[key]


def _moist(candidate: Candidate | None) -> bool:
    return candidate is not None and bool(candidate.moist_days)


def _percent(candidate: Candidate | None) -> Quantity | None:
    return None if candidate is None else candidate.treatment.percent


def _for_ten(lot: Lot, share: Share) -> int | None:
    """How many seeds give ten plants; asked only of a lot that was cut, since nothing else is told of it."""
    if lot.cut is None:
        return None
    try:
        return seeds_for_plants(TEN, LEVEL, share)
    except ColdspellError:  # next to nothing grows
        return None


def _filled(found: _Reckoning, knowledge: Knowledge, lot: Lot) -> None:
    """The share that is full: from the tests of the lot, else the normal fill on record."""
    filled = knowledge.value("filled_percent")
    if lot.cut:
        low, high = clopper_pearson(*lot.cut)
        found.tested("cut_test", *lot.cut, percent=(round(100 * low), round(100 * high)))
    elif lot.float_test and _floats_tell(knowledge, lot):
        floated, tried = lot.float_test
        found.tested("float_test", tried - floated, tried)
    elif filled is not None:
        found.add("filled", (filled.value.low, filled.value.high), "filled_percent")


def _sprouting(
    found: _Reckoning,
    knowledge: Knowledge,
    candidate: Candidate | None,
    told: FigureFields,
    practice: Practice,
) -> None:
    """The share that sprouts, spread as far as lots of a kind lie apart, less what age or drying took."""
    points = dict(zip(("usual", "wide"), practice.lot_spread_points, strict=True))[told.spread]
    germination = _germination(knowledge, candidate) if told.sprouting == "record" else None
    percent = practice.sound_percent if germination is None else (germination.low, germination.high)
    share = spread_share(percent[0] / 100, percent[1] / 100, points / 100)
    if germination is None:
        found.add("sound", percent, share=share)
    else:
        found.add("sprouting", percent, "germination", share)
    if told.loss != "none":
        losses = {
            "aged": practice.aged_percent,
            "old": practice.old_percent,
            "dried": practice.dried_percent,
            "left_out": practice.left_out_percent,
        }
        found.add(told.loss, losses[told.loss])


def _floats_tell(knowledge: Knowledge, lot: Lot) -> bool:
    """Whether a float test says anything: for fresh nuts and stones; dry and winged seed floats anyway."""
    return lot.moisture == "fresh" and knowledge.record.unit in ("nut", "acorn", "stone")


def _germination(knowledge: Knowledge, candidate: Candidate | None) -> Quantity | None:
    own = _percent(candidate)
    if own is not None:
        return own
    germination = knowledge.value("germination")
    return germination.percent if germination else None


def _growing_on(lot: Lot, practice: Practice) -> tuple[float, float]:
    return {
        "container": practice.plants_container_percent,
        "bed": practice.plants_bed_percent,
        "site": practice.plants_site_percent,
    }[lot.grow_in]
