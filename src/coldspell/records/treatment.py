"""A way to make seed sprout, as records say it, and who says so; declared as `coldspell.records.model` is."""

# Without postponed annotations: msgspec evaluates those of each class anew at every start.

from typing import TYPE_CHECKING

from msgspec import Struct, field

if TYPE_CHECKING:
    from coldspell.records.do import Do
    from coldspell.records.kinds import (
        Celsius,
        Days,
        FactName,
        Footnotes,
        Hours,
        HoursOfLight,
        Minutes,
        Percent,
        Sentence,
        Slug,
        Strength,
        TreatmentName,
    )
    from coldspell.records.terms import Basis, Need, SownIn, Until
else:
    from coldspell.records.plain import *  # noqa: F403

WhenValue = str | float | bool | list[str | float]
"""What a ``when`` may ask of one fact; see `coldspell.records.when`."""


class Cite(Struct, frozen=True):
    """A footnote: who says so."""

    basis: Basis
    """How the source was used."""
    source: Slug | None = None
    """Id of the source in bibliography.yaml."""
    at: Sentence | None = None
    """Where in the source: page, table, section. Needed for what was read in a book."""
    note: Sentence | None = None
    """What has to be known of it, as how a number was converted."""


class Step(Struct, frozen=True):
    """One thing done to the seed."""

    do: Do
    """What is done."""
    days: Days | None = None
    """How long it lasts."""
    hours: Hours | None = None
    """How long it lasts."""
    minutes: Minutes | None = None
    """How long it lasts."""
    celsius: Celsius | None = None
    """Temperature; of `sow` that of soil or compost."""
    celsius_night: Celsius | None = None
    """Temperature by night, where a source wants the nights cooler. New in schema 2."""
    season: SownIn | None = None
    """When in the year it is sown, where that is not spring alone. New in schema 2."""
    need: Need = "required"
    """Whether the seed sprouts without it."""
    until: Until = "ready"
    """What the days end with."""
    substance: Sentence | None = None
    """What is used, as gibberellic acid or wood ash."""
    mg_per_l: Strength | None = None
    """Strength of a solution."""
    hours_light: HoursOfLight | None = None
    """Hours of light a day."""
    outdoors: bool = False
    """true: in a pit or bed outdoors, where the weather sets the temperature."""
    note: Sentence | None = None
    """One line for the grower."""


class Hold(Struct, frozen=True):
    """How long the treated seed may wait, and how cold; never guessed from the upper end of a range."""

    days: Days
    """How long it may wait."""
    cite: Footnotes
    celsius: Celsius | None = None
    """At which temperature."""


class Treatment(Struct, frozen=True):
    """One way to make the seed sprout."""

    name: TreatmentName
    """Its name, once in a record."""
    steps: tuple[Step, ...]
    """What is done, in order."""
    cite: Footnotes
    when: dict[FactName, WhenValue] = field(default_factory=dict)
    """For which lots it is: facts of a lot and what they must be. Absent: for any lot."""
    hold: Hold | None = None
    """How long it may wait afterwards."""
    percent: Percent | None = None
    """Share of the seed that germinated after it."""
    because: Sentence | None = None
    """Why this way, in one line of your own."""


class NotUsed(Struct, frozen=True):
    """What another source says, and why it is not followed."""

    says: Sentence
    """What it says, in your own words."""
    cite: Footnotes
    because: Sentence
    """Why it is not followed."""
    trained: bool = False
    """true: a method for trained people, as with acid or a growth regulator; a public page leaves it out. New
    in schema 2."""
