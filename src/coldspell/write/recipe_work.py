"""What a recipe has done: medium, layout, steps, waiting, looks, sowing and what comes of it.

Declared as :mod:`coldspell.write.recipe` says.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec import Struct

if TYPE_CHECKING:  # the full kinds: closed words, units, forms
    from coldspell.records.do import Do
    from coldspell.records.terms import LawAbout, Need, Until
    from coldspell.write.recipe_kinds import (
        Celsius,
        CelsiusRange,
        Cites,
        Count,
        Day,
        DayNumber,
        DayNumbers,
        Days,
        DaysRange,
        Grams,
        Into,
        Lengths,
        Litres,
        Material,
        Millilitres,
        Millimetres,
        MillimetresRange,
        Packs,
        Pattern,
        PlantsRange,
        Points,
        Shape,
    )
else:  # what they are made of: all that making a recipe, or reading one back, needs
    from coldspell.write.recipe_plain import (
        Celsius,
        CelsiusRange,
        Cites,
        Count,
        Day,
        DayNumber,
        DayNumbers,
        Days,
        DaysRange,
        Do,
        Grams,
        Into,
        LawAbout,
        Lengths,
        Litres,
        Material,
        Millilitres,
        Millimetres,
        MillimetresRange,
        Need,
        Packs,
        Pattern,
        PlantsRange,
        Points,
        Shape,
        Until,
    )


class Note(Struct, frozen=True):
    """A line with the rule or record it comes from."""

    text: str
    """The line."""
    rule: str | None
    """The rule it comes from, as `decision: rule`; null where it comes from a record."""
    cites: Cites
    on_page: bool = True
    """Whether the one page prints it; the full page prints all."""


class LawNote(Struct, frozen=True):
    """A note on the law of one place; never a permission."""

    text: str
    """The whole note, with its day."""
    rule: str | None
    """Always null: it comes from a record, or from the folder of an office."""
    cites: Cites
    place: str
    """Country, state or region."""
    about: LawAbout | None
    """What is regulated; null where the record does not say."""
    whom: str
    """The plant that it is noted for: this one, some of its genus, or a relative."""
    local: bool
    """true: from the folder of an office, of its own place."""


class Medium(Struct, frozen=True):
    """What the seeds lie in, and how much of it."""

    form: str
    """Answer of the decision `medium`: how seed and medium are put together."""
    packs: Packs
    """The same in a closed word, whatever the answer is called."""
    says: str
    """The same in words."""
    material: Material
    """What the medium is, to the sums of water."""
    material_says: str
    """The material in words."""
    litres: Litres | None
    """Volume of the medium for all containers."""
    water_ml: Millilitres | None
    """Water for all of the medium, least and most."""
    containers: Count | None
    """How many containers, or rolls of towels."""
    container_says: str | None
    """Containers or towels in words, with their sizes."""
    sheets: Count | None
    """How many sheets of towel."""
    space_litres: Litres | None
    """Room that the containers take in a refrigerator, closed with air."""
    wetness: str
    """How moist it is made."""
    closure: str
    """How it is closed."""
    place: str
    """Where it lies. Empty where nothing is said of it."""


class Layout(Struct, frozen=True):
    """How the seeds are laid. The lists of lengths are for a drawing, and empty where nothing has them."""

    says: str
    """The same in words."""
    pitch_mm: Millimetres | None
    """Distance from the middle of one seed to that of the next."""
    gap_mm: Millimetres | None
    """Distance between seeds from edge to edge."""
    layers: Count | None
    """Layers in a full container."""
    per_layer: Count | None
    """Seeds in a full layer, or on one sheet of towel."""
    per_container: Count | None
    """Seeds in the fullest container, roll or tray."""
    shape: Shape
    """What one container is, to a drawing."""
    dimensions_mm: Lengths
    """Inside of one container: length, width and height of a box, width and length of a bag, width and height
    of a tub, width, length and depth of a pit, the sides of a sheet of towel."""
    pattern: Pattern | None
    """How the seeds of a layer stand to one another."""
    footprint_mm: Lengths
    """Base of the block of seed and medium in one container, or a sheet of towel: its two sides."""
    depth_mm: Millimetres | None
    """Height of that block."""
    levels_mm: Lengths
    """Height of the middle of each layer above the floor."""
    points_mm: Points
    """Middles of the seeds that fit a layer, each x and y; the first `per_layer` of them are taken."""


class Step(Struct, frozen=True):
    """One thing to do: dated, or with day numbers from the start where dates are lacking, or with neither."""

    do: Do
    """What is done."""
    text: str
    """The same in words."""
    days: DaysRange | None
    """How long it lasts, as the record has it."""
    celsius: CelsiusRange | None
    """Temperature."""
    need: Need
    """Whether the seed sprouts without it."""
    until: Until
    """What the days end with."""
    start: Day | None
    """First day."""
    end: Day | None
    """Last day, as planned."""
    start_day: DayNumber | None
    """First day, counted from the start of the treatment (0)."""
    end_day: DayNumber | None
    """Last day, counted from the start of the treatment."""
    end_earliest: Day | None
    """Earliest last day, where the seed decides."""
    end_latest: Day | None
    """Latest last day, where the seed decides."""
    rules: tuple[str, ...]
    """The rules it comes from, each as `decision: rule`."""
    cites: Cites


class Hold(Struct, frozen=True):
    """How long the seed may wait."""

    says: str
    """The same in words."""
    days: DaysRange | None
    """How long it may wait, as the record has it."""
    celsius: CelsiusRange | None
    """At which temperature."""
    until: Day | None
    """Last day to which it may wait."""
    cites: Cites


class Look(Struct, frozen=True):
    """What may be seen, and what then."""

    look_for: str
    """What may be seen."""
    then_do: str
    """What is done then."""
    rule: str
    """The rule it comes from."""
    on_page: bool = True
    """Whether the one page prints it; the full page prints all."""


class Checks(Struct, frozen=True):
    """When to look, and what for."""

    dates: tuple[Day, ...]
    """Days on which it is looked at; empty where there is no sowing day."""
    days: DayNumbers
    """The same, counted from the start of the treatment."""
    every_days_after: Days | None
    """How often it is looked at beyond them."""
    looks: tuple[Look, ...]
    """What may be seen, and what then."""
    on_mould: str | None
    """What is done when there is mould."""
    on_sprouts: str | None
    """What is done with seed that sprouts."""


class Sowing(Struct, frozen=True):
    """When, how deep and how warm it is sown."""

    says: str
    """The same in words."""
    warmth: str | None
    """How warm the soil is, in words."""
    date: Day | None
    """The day of the sowing step."""
    depth_mm: MillimetresRange | None
    """Depth of cover; null where it is not covered or not known."""
    celsius_max: Celsius | None
    """Warmest soil in which it still comes up well."""
    into: Into
    """What it is sown or planted into."""
    pot_depth_mm: MillimetresRange | None
    """Depth of the pot; null where any pot will do, or none is used."""
    mesh_mm: MillimetresRange | None
    """Width of the mesh that goes over it; null where none does."""
    comes_up_days: DaysRange | None
    """Days to sprouting in germination tests (laboratory temperatures)."""
    cites: Cites


class Expectation(Struct, frozen=True):
    """Plants to expect."""

    seeds: Count
    """Seeds that are started."""
    seeds_mass_g: Grams | None
    """What they weigh."""
    plants: PlantsRange | None
    """Plants: the fewest and the most nine times in ten, and the middle; null for a lot that may be dead."""
    says: str
    """The same in words."""
    seeds_for_wanted: Count | None
    """Seeds that give the plants wanted nine times in ten; null where none were wanted."""
    assumed: tuple[str, ...]
    """Shares that were reckoned with, in words."""
    cites: Cites
