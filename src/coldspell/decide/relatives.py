"""What the relatives of a kind want: the species of its genus that are on record."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Literal

from msgspec import Struct

from coldspell.decide.practice import Practice
from coldspell.decide.treatment import said, shape_of
from coldspell.lot.lot import Lot
from coldspell.records.do import COLD, COUNTS_AS
from coldspell.records.model import Quantity, Record, Step, Treatment
from coldspell.records.when import holds

Wants = Literal[
    "nothing", "cold_helps", "cold", "warm_then_cold", "open_coat", "coat_then_cold", "warmth",
    "dry_rest", "outdoors", "never_chill", "other",
]  # fmt: skip
"""What a kind wants, by the first treatment on record that suits the lot."""

_WANTS: dict[str, Wants] = {
    "sow": "nothing",
    "nothing": "nothing",
    "soak_and_sow": "nothing",
    "cold": "cold",
    "cool": "cold",
    "rest_then_cold": "cold",
    "warm_then_cold": "warm_then_cold",
    "cold_warm_cold": "warm_then_cold",
    "repeated": "warm_then_cold",
    "scarify": "open_coat",
    "scarify_then_cold": "coat_then_cold",
    "scarify_then_cool": "coat_then_cold",
    "warm": "warmth",
    "alternate": "warmth",
    "after_ripen": "dry_rest",
    "sow_outdoors": "outdoors",
}
_ALIKE: dict[Wants, Wants] = {"cold_helps": "cold", "never_chill": "nothing"}
"""Classes that ask for the same thing to be done."""


class Relative(Struct, frozen=True):
    """A species of the genus that is on record, and what it wants."""

    record: Record
    wants: Wants
    treatment: Treatment
    cold: Quantity | None
    warm: Quantity | None

    @property
    def dies_dry(self) -> bool:
        """Whether its seed dies when it dries."""
        return self.record.storage is not None and self.record.storage.behaviour == "recalcitrant"

    @property
    def does(self) -> Wants:
        """What is done to it, where two classes come to the same."""
        return _ALIKE.get(self.wants, self.wants)


def relatives(congeners: Iterable[Record], lot: Lot, practice: Practice) -> tuple[Relative, ...]:
    """The species of a genus that have a treatment which suits the lot, in the order given."""
    found = (relative(record, lot, practice) for record in congeners)
    return tuple(each for each in found if each is not None)


def relative(record: Record, lot: Lot, practice: Practice) -> Relative | None:
    """What one species wants; ``None`` where no treatment on record suits the lot."""
    suits = (t for t in record.treatments if all(holds(c, said(lot, fact)) for fact, c in t.when.items()))
    treatment = next(suits, None)
    if treatment is None:
        return None
    cold = [s for s in treatment.steps if s.do in COLD]
    warm = [s for s in treatment.steps if COUNTS_AS.get(s.do) == "warm"]
    wants = _wants(record, treatment, cold, practice)
    return Relative(record, wants, treatment, _sum(cold), _sum(warm))


def agreed(found: Sequence[Relative], practice: Practice) -> Wants | None:
    """What all of them want, those of one species counted once; ``None`` where they differ or are too few."""
    kinds = {" ".join(each.record.name.replace("× ", "×").split()[:2]) for each in found}
    does = {each.does for each in found}
    return next(iter(does)) if len(kinds) >= practice.kin_agree_species and len(does) == 1 else None


def chills(record: Record, practice: Practice) -> bool:
    """Whether temperatures of a refrigerator injure its seed."""
    below = record.killed_by.chilling_celsius if record.killed_by else None
    return below is not None and below.high >= practice.chilling_celsius


def _wants(record: Record, treatment: Treatment, cold: Sequence[Step], practice: Practice) -> Wants:
    if chills(record, practice):
        return "never_chill"
    if any(s.do == "growth_regulator" for s in treatment.steps):
        return "other"
    wants = _WANTS.get(shape_of(treatment.steps), "other")
    if wants == "cold" and not any(s.need == "required" for s in cold):
        return "cold_helps"
    return wants


def _sum(steps: Sequence[Step]) -> Quantity | None:
    """Days of several spells together; ``None`` where any has none, or there are no spells."""
    days = [s.days for s in steps if s.days is not None]
    if not steps or len(days) < len(steps):
        return None
    return Quantity(sum(d.low for d in days), sum(d.high for d in days), sum(d.plan for d in days))
