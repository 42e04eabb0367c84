"""How a recipe tells to learn what a kind wants: its relatives, and a trial of several parts.

Declared as :mod:`coldspell.write.recipe` says.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec import Struct

from coldspell.write.recipe_work import Look, Note

if TYPE_CHECKING:  # the full kinds: closed words, units, forms
    from coldspell.decide.relatives import Wants
    from coldspell.write.recipe_kinds import ArmKind, Cites, Counted, Day, DaysRange
else:  # what they are made of: all that making a recipe, or reading one back, needs
    from coldspell.write.recipe_plain import ArmKind, Cites, Counted, Day, DaysRange, Wants


class RelativeAnswer(Struct, frozen=True):
    """A species of the genus that is on record, and what it wants."""

    name: str
    """Accepted botanical name."""
    record: str
    """Path of its record."""
    wants: Wants
    """What it wants, by the first treatment on record that suits the lot."""
    says: str
    """The same in words."""
    warm_days: DaysRange | None
    """Days of moist warmth; null where it has none, or nobody says how many."""
    cold_days: DaysRange | None
    """Days of moist cold; null where it has none, or nobody says how many."""
    dies_dry: bool
    """Whether its seed dies when it dries."""
    cites: Cites


class ArmStep(Struct, frozen=True):
    """One thing to do with one part of the seeds."""

    text: str
    """What is done."""
    start: Day
    """First day."""
    end: Day
    """Last day."""
    rule: str
    """The rule it comes from, as `decision: rule`."""


class Arm(Struct, frozen=True):
    """One part of the seeds of a trial."""

    letter: str
    """The letter that stands on its label."""
    kind: ArmKind
    """What it is."""
    says: str
    """The same in words."""
    seeds: Counted
    """How many seeds."""
    label: str
    """What is written on its label."""
    steps: tuple[ArmStep, ...]
    """What is done, in order."""
    outcomes: tuple[Look, ...]
    """How it may turn out, and what that means."""
    rule: str
    """The rule it comes from, as `decision: rule`."""


class Trial(Struct, frozen=True):
    """How to learn what a kind wants from this lot."""

    first: tuple[Note, ...]
    """What would harm it, before anything else."""
    size: str
    """What was taken of the lot though nobody said it, and how much so many seeds can tell."""
    arms: tuple[Arm, ...]
    """The parts into which the seeds are divided."""
    write_down: tuple[Note, ...]
    """What is written down, and what is left until it is named."""
