"""What a recipe understood and decided: the kind, the lot, the answer, treatments, time, sources, the trace.

Declared as :mod:`coldspell.write.recipe` says.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec import Struct

if TYPE_CHECKING:  # the full kinds: closed words, units, forms
    from coldspell.decide.knowledge import KnownBy
    from coldspell.records.do import Do
    from coldspell.records.terms import Basis, Behaviour, DormancyClass, Plant, Rank, Unit
    from coldspell.write.recipe_kinds import (
        Cites,
        Constraint,
        Counted,
        Day,
        DayNumber,
        Days,
        Lengths,
        Status,
        Timings,
    )
else:  # what they are made of: all that making a recipe, or reading one back, needs
    from coldspell.write.recipe_plain import (
        Basis,
        Behaviour,
        Cites,
        Constraint,
        Counted,
        Day,
        DayNumber,
        Days,
        Do,
        DormancyClass,
        KnownBy,
        Lengths,
        Plant,
        Rank,
        Status,
        Timings,
        Unit,
    )


class Species(Struct, frozen=True):
    """The kind found, and for each topic the record it came from."""

    asked: str
    """The name that was asked for, at most 200 characters of it."""
    known_by: KnownBy
    """By whose record the kind is known."""
    matched_as: str
    """The name of the record, synonym or common name that it was taken for."""
    variety: str
    """The garden variety that was named with it; empty where none was."""
    others: tuple[str, ...]
    """Botanical names of other plants on record that the name may mean."""
    note: str
    """What has to be said of the name; empty where it is a whole name of this plant alone."""
    name: str
    """Accepted botanical name; as asked for, where there is no record."""
    family: str | None
    """Plant family; null where it is not known."""
    rank: Rank
    """Rank of the name."""
    common_names: tuple[str, ...]
    """Its common names in English."""
    record: str
    """Path of its record within its library, or of its genus record; empty where there is neither."""
    topics: dict[str, str]
    """For each topic that is known, the path of the record it came from (of the species, or of its genus)."""
    dormancy: DormancyClass | None
    """What keeps it from sprouting."""
    storage: Behaviour | None
    """What drying and cold do to it."""
    plant: Plant | None
    """Kind of plant; null where it is not known."""
    unit: Unit
    """What is handled and counted as one."""


class Verdict(Struct, frozen=True):
    """The answer in one word and one sentence."""

    route: str
    """Answer of the decision `route`: which way the lot goes."""
    sentence: str
    """The answer in one sentence."""
    feasible: bool
    """Whether it can be done by the sowing day; true where none was given."""
    alive: str
    """Answer of the decision `alive`: whether the lot is worth starting. Empty where it was not asked."""
    identity: str
    """Answer of the decision `identity`: how sure the kind is. Empty where it was not asked."""


class TreatmentAnswer(Struct, frozen=True):
    """One treatment of the record and whether it is used for this lot."""

    name: str
    """Its name in the record."""
    status: Status
    """What becomes of it."""
    why: str
    """Why, in one line."""
    steps: tuple[Do, ...]
    """What is done, in order."""
    says: tuple[str, ...]
    """The same in words, without dates; empty when it is refused, so that nobody follows it by mistake."""
    because: str | None
    """Why the record has it."""
    cites: Cites
    from_record: str
    """Path of the record that has it; `common practice` where no record has any."""
    suits: bool
    """Whether it suits the lot as it is. Not used all the same: another one goes before it."""


class NotUsedAnswer(Struct, frozen=True):
    """What another source says, and why it is not followed."""

    says: str
    """What it says."""
    because: str
    """Why it is not followed."""
    cites: Cites
    trained: bool = False
    """true: a method for trained people, which a public page leaves out."""


class WayOut(Struct, frozen=True):
    """What can be done when the time is too short."""

    text: str
    """What can be done."""
    date: Day | None
    """The day it names."""
    rule: str
    """The rule it comes from."""


class Timing(Struct, frozen=True):
    """Whether it fits before the sowing day, and by how much."""

    fits: Timings
    """Whether the treatment fits before the sowing day."""
    constraint: Constraint | None
    """What stands in the way."""
    days_short: Days | None
    """Days that are lacking, as planned."""
    days_spare: DayNumber | None
    """Days left between the first possible day and sowing, after the planned treatment; negative: lacking."""
    start_first: Day | None
    """First day on which one may start."""
    start_last: Day | None
    """Last day on which one may start."""
    ways_out: tuple[WayOut, ...]
    """What can be done when it does not fit."""
    begins: Day | None = None
    """The day on which hands begin with the treatment: the soak, the coat or the first moist spell."""


class Source(Struct, frozen=True):
    """One footnote: who says so, where, and how the source was used."""

    number: Counted
    """The number by which `cites` name it."""
    text: str
    """Authors, year and title; or that it is common practice."""
    source: str | None
    """Its id in the bibliography (CSL); null for common practice."""
    at: str | None
    """Where in the source: page, table, section."""
    basis: Basis
    """How the source was used."""
    url: str | None = None
    """Its address."""


class TraceRow(Struct, frozen=True):
    """One rule that held: the decision, the facts it tested, why, and who says so."""

    decision: str
    """Name of the decision."""
    asks: str
    """The question that it answers."""
    rule: str
    """Name of the rule."""
    answer: str
    """The answer that it gives."""
    facts: dict[str, str | float]
    """The facts that the rule tested, each with its value; `unknown` where nobody knows."""
    because: str
    """Why the rule says so."""
    cites: Cites
    says: str = ""
    """The answer in words, where it has any of its own."""
    candidate: str | None = None
    """Name of the treatment that it was asked for; null where it was not asked for one."""


class Choice(Struct, frozen=True):
    """One answer to the question of a mixed genus, and the species it leads to."""

    answer: str
    """The answer."""
    leads_to: tuple[str, ...]
    """Accepted names of the records it leads to."""
    says: str | None
    """One plain line."""
    cites: Cites


class Asked(Struct, frozen=True):
    """The question that must be answered before anything else can be said."""

    question: str
    """The question."""
    choices: tuple[Choice, ...]
    """Its answers."""


class LotAnswer(Struct, frozen=True):
    """The lot as understood."""

    said: dict[str, str | int | float | bool | list[str | float] | None]
    """Each fact of a lot (see `lot-1.json`) with its value; null where it was not said."""
    assumed: tuple[str, ...]
    """Facts that the grower did not say and that matter."""
    seed_mm: Lengths
    """One seed as it lies on its side: length, width and thickness; of its class where no record says."""
    from_settings: tuple[str, ...] = ()
    """Facts that came from the settings of the command line."""
