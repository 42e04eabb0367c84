"""The answer: one frozen value from which every view is made, declared once with what each field means.

The text below a field is its meaning. The published JSON Schema and docs/recipe-json.md are made from this
declaration (see :mod:`coldspell.schema.declare`). What a kind of value is (``Day``, ``Status``) is told in
:mod:`coldspell.write.recipe_kinds`: unit, form, closed words. Answers of decisions are plain text: rules may
bring others. A value that nobody knows is ``None``.

Version 1 gained keys before its release: ``does``, ``needs``, ``relatives``, ``trial``, of treatments
``suits``, of the species ``known_by``. Taking a key out or changing what it means makes a new version; a new
key does not.

These are msgspec structs, not dataclasses: two dozen frozen dataclasses cost every start of the program a
tenth of its time.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec import Struct

from coldspell.decide.names.fields import RouteFields

Range = tuple[float, float, float]
"""Low, usual, high."""

# fmt: off
# isort: off
if TYPE_CHECKING:  # the full kinds: closed words, units, forms
    from coldspell.records.do import Do
    from coldspell.records.terms import Basis, Behaviour, DormancyClass, Need, Plant, Rank, Unit, Until
    from coldspell.decide.knowledge import KnownBy
    from coldspell.decide.relatives import Wants
    from coldspell.write.recipe_kinds import (
        ArmKind, Cites, CelsiusRange, Celsius, Constraint, Count, Counted, Day, DayNumber, DayNumbers, Days,
        DaysRange, Grams, Into, Lengths, Litres, Material, Millilitres, Millimetres, MillimetresRange,
        Packs, Pattern, PlantsRange, Points, Shape, Status, Timings, Units, Version,
    )
else:  # what they are made of: all that making a recipe, or reading one back, needs
    CelsiusRange = DaysRange = MillimetresRange = PlantsRange = Range
    Celsius = Grams = Litres = Millimetres = float
    Count = Counted = DayNumber = Days = Version = int
    Lengths = tuple[float, ...]
    Cites = DayNumbers = tuple[int, ...]
    Millilitres, Points = tuple[float, float], tuple[tuple[float, float], ...]
    ArmKind = KnownBy = Wants = str
    Basis = Behaviour = Constraint = Day = Do = DormancyClass = Into = Material = Need = Packs = str
    Pattern = Plant = Rank = Shape = Status = Timings = Unit = Units = Until = str
# fmt: on
# isort: on


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


class Note(Struct, frozen=True):
    """A line with the rule or record it comes from."""

    text: str
    """The line."""
    rule: str | None
    """The rule it comes from, as `decision: rule`; null where it comes from a record."""
    cites: Cites


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
    """How much so many seeds can tell."""
    arms: tuple[Arm, ...]
    """The parts into which the seeds are divided."""
    write_down: tuple[Note, ...]
    """What is written down, and what is left until it is named."""


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


class Recipe(Struct, frozen=True):
    """What one seed lot needs."""

    schema: Version
    """Version of this format."""
    tool: str
    """The program and its version."""
    library: str
    """Digest of the library of records."""
    rules: str
    """Digest of the rules."""
    asked_on: Day
    """The day that counted as today."""
    units: Units
    """Units of the texts; numbers with a unit in their key are always in that one."""
    species: Species
    """The kind found."""
    lot: LotAnswer
    """The lot as understood."""
    verdict: Verdict
    """The answer in short."""
    asks: Asked | None
    """The question of a mixed genus; null where none has to be answered."""
    relatives: tuple[RelativeAnswer, ...]
    """The species of its genus on record, where it has no record of its own."""
    trial: Trial | None
    """How to learn what it wants: where nothing is known of it, or where a trial was asked for."""
    route: str
    """The same as `verdict.route`."""
    does: RouteFields
    """What the route does: the same for every route that does it, whatever its name."""
    timing: Timing
    """Whether it fits before the sowing day."""
    treatments: tuple[TreatmentAnswer, ...]
    """Every treatment of the record."""
    not_used: tuple[NotUsedAnswer, ...]
    """What other sources say that is not followed."""
    medium: Medium | None
    """What the seeds lie in; null where they lie in none."""
    layout: Layout | None
    """How the seeds are laid; null where they are not."""
    place: str | None
    """Where the lot lies in the cold, pots of rooted seed included."""
    needs: tuple[Note, ...]
    """What else is needed beside container, medium and water."""
    steps: tuple[Step, ...]
    """What to do, in order."""
    hold: Hold | None
    """How long it may wait; null where it does not."""
    checks: Checks | None
    """When to look; null where there is nothing to look at."""
    sowing: Sowing | None
    """How it is sown; null where it is not."""
    expectation: Expectation | None
    """Plants to expect; null where it is not sown."""
    what_if: tuple[Look, ...]
    """What may happen meanwhile, and what then."""
    instead: tuple[Note, ...]
    """Other ways, where it cannot be done this way."""
    offspring: tuple[Note, ...]
    """What the seedlings will be."""
    cautions: tuple[Note, ...]
    """What is dangerous, to whom: of the plant first, then of the method what belongs to no single step (the
    rest stands in the text of its step). There whatever the answer is."""
    law: tuple[Note, ...]
    """Dated notes on the law of one place; never a permission."""
    sources: tuple[Source, ...]
    """Footnotes, in the order of their numbers."""
    trace: tuple[TraceRow, ...]
    """Every rule that held."""
    notes: tuple[str, ...]
    """What was assumed, said openly."""
