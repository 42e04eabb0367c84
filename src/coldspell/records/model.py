"""The species record: declared here, once, with what each field means.

A class for each map of a record file, a field for each of its keys, its meaning in the text below it. What
reads a record, what checks it, the published JSON Schema and docs/record-fields.md are all made from this
declaration (see :mod:`coldspell.schema.declare`): a key is known to all of them or to none. The kind of a
value (``Days``, ``Rank``) is named here; unit and bounds are in :mod:`coldspell.records.kinds`, words
in :mod:`coldspell.records.terms`. A key that Python keeps for itself gets an underscore.

Temperatures are degrees Celsius, lengths millimetres, times days unless the name says otherwise.
"""

# Without postponed annotations: msgspec evaluates those of each class anew at every start.

from typing import TYPE_CHECKING

from msgspec import Struct, field

from coldspell.records.quantity import Quantity as Quantity
from coldspell.records.treatment import Cite as Cite
from coldspell.records.treatment import Hold as Hold
from coldspell.records.treatment import NotUsed as NotUsed
from coldspell.records.treatment import Step as Step
from coldspell.records.treatment import Treatment as Treatment
from coldspell.records.treatment import WhenValue as WhenValue

# fmt: off
# isort: off
if TYPE_CHECKING:  # the full kinds: closed words, bounds, forms
    from coldspell.records.kinds import (
        Celsius, CheckId, ChillingCelsius, CommonName, Count, Day, Days, Depth, Family,
        FootnoteName, Footnotes, FrostCelsius, GbifKey, GraftMillimetres, GraftYears, GramsPerLitre,
        HeatCelsius, Language, Millimetres, Months, Name, PathInLibrary,
        Percent, Sentence, SoilCelsius, StorageCelsius, Synonym, WfoId, Years,
    )
    from coldspell.records.terms import (
        Behaviour, BulkClass, Cleaning, ColdCounted, DormancyClass, DormancyLevel, Ground, HazardKind,
        HazardTo, Laid, LawAbout, OffspringUse, Plant, Rank, Sexes, Size, SowLight, TestLight, TrueToType,
        Unit, Version,
    )
else:  # what they are made of: all that reading a compiled record needs, at a tenth of the time
    from coldspell.records.plain import *  # noqa: F403
# fmt: on
# isort: on


class SeedSize(Struct, frozen=True):
    """Size of one cleaned seed."""

    cite: Footnotes
    length: Millimetres | None = None
    """Longest side, without wing or cup."""
    width: Millimetres | None = None
    """Across."""
    thickness: Millimetres | None = None
    """Thinnest side."""


class SeedsPerKilogram(Struct, frozen=True):
    """How many cleaned seeds a kilogram holds."""

    value: Count
    """Seeds in a kilogram."""
    cite: Footnotes


class Filled(Struct, frozen=True):
    """Normal fill: how many cleaned seeds of an ordinary lot hold a kernel; the empty ones are no fault."""

    value: Percent
    """Share of cleaned seed with a kernel in an ordinary lot."""
    cite: Footnotes


class LiveSeed(Struct, frozen=True):
    """What live seed looks like, outside and cut open."""

    cite: Footnotes
    looks: Sentence | None = None
    """Outside: colour, weight, firmness."""
    cut: Sentence | None = None
    """Cut open: colour and firmness of kernel and embryo."""
    cannot_be_cut: Sentence | None = None
    """Where the seed is too fine to cut: how live seed is told instead."""


class Bulk(Struct, frozen=True):
    """How the seed lies in a heap: what a box or bag of it holds."""

    class_: BulkClass
    """How it packs."""
    cite: Footnotes
    grams_per_litre: GramsPerLitre | None = None
    """Weight of a litre of loosely poured seed."""


class Handling(Struct, frozen=True):
    """What its seed wants otherwise than most; that of a genus holds for all of its species."""

    cite: Footnotes
    one_layer: bool = False
    """true: it breathes hard and rots where others lie on it, so it is laid in one layer."""
    surface_dry: bool = False
    """true: to wait for some weeks only its surface is dried."""
    no_soak: bool = False
    """true: once its coat is open water harms it, so it is sown without a soak."""
    counts_as_cold: ColdCounted | None = None
    """Which temperatures it counts as cold, where that is not the usual range."""


class Taxon(Struct, frozen=True):
    """The plant in the open lists of names; ids carry no footnote."""

    wfo: WfoId | None = None
    """Id in the World Flora Online plant list."""
    gbif: GbifKey | None = None
    """Key in the GBIF backbone taxonomy."""


class Storage(Struct, frozen=True):
    """Storage behaviour after Roberts (1973) and Ellis, Hong & Roberts (1990)."""

    behaviour: Behaviour
    """What drying and cold do to it."""
    cite: Footnotes
    years: Years | None = None
    """How long it keeps that way."""
    moisture_percent: Percent | None = None
    """Moisture to store it at, of the fresh weight."""
    celsius: StorageCelsius | None = None
    """Temperature to store it at."""


class Dormancy(Struct, frozen=True):
    """Dormancy class after Baskin & Baskin (2004)."""

    class_: DormancyClass
    """What keeps it from sprouting."""
    cite: Footnotes
    level: DormancyLevel | None = None
    """How strongly."""
    epicotyl: bool = False
    """true: the root comes first, the shoot only after a further cold."""


class Germination(Struct, frozen=True):
    """What was seen in germination tests (laboratory temperatures: not sowing advice)."""

    cite: Footnotes
    celsius: Celsius | None = None
    """Temperature of the test; night and day where it changes."""
    light: TestLight | None = None
    """What light does."""
    days: Days | None = None
    """Days until `percent` was counted, from the same trial. Records of schema 1 may hold the length of the
    test instead.
    """
    test_days: Days | None = None
    """Length that testing rules or the table prescribe; says nothing of when it sprouts. New in schema 2."""
    percent: Percent | None = None
    """Share that germinated."""
    root_first: bool | None = None
    """true: the root shows long before the shoot."""


class Emergence(Struct, frozen=True):
    """When seedlings come up after sowing treated seed in soil or compost."""

    cite: Footnotes
    days: Days | None = None
    """Days from sowing to the first and the last that come up."""
    celsius: Celsius | None = None
    """Temperature of soil or compost meanwhile."""


class Sowing(Struct, frozen=True):
    """How deep, how warm and when to sow."""

    cite: Footnotes
    depth_mm: Depth | None = None
    """Depth of cover."""
    celsius_max: SoilCelsius | None = None
    """Warmest soil in which it still comes up well."""
    celsius_min: SoilCelsius | None = None
    """Coolest soil in which it comes up well; none named: that of spring. New in schema 2."""
    autumn: bool | None = None
    """true: a source sows it outdoors in autumn."""
    light: SowLight | None = None
    """Whether it is covered."""
    tender: bool | None = None
    """true: frost kills the seedlings. New in schema 2."""
    laid: Laid | None = None
    """How large seed is laid, where that is not on its side. New in schema 2."""
    ground: Ground | None = None
    """What it is sown in where that is no drained ground: water and bog plants. New in schema 2."""
    acid: bool | None = None
    """true: wants an acid medium without lime, and rain water. New in schema 2."""
    pricked_out: bool | None = None
    """false: resents being moved as a seedling: one or two to a pot, or where it stays. New in schema 2."""
    in_place: bool | None = None
    """true: sown where it is to grow, as root crops and most hardy annuals are. New in schema 2."""


class Harvest(Struct, frozen=True):
    """When ripe seed is gathered and how it is cleaned."""

    cite: Footnotes
    months: Months | None = None
    """First and last month, 1 to 12, northern hemisphere; may wrap over New Year."""
    signs: Sentence | None = None
    """What is seen when it is ripe."""
    cleaning: tuple[Cleaning, ...] = ()
    """What is done to it, in order."""


class KilledBy(Struct, frozen=True):
    """Limits beyond which the seed dies."""

    cite: Footnotes
    moisture_percent_below: Percent | None = None
    """Dried below this moisture it dies."""
    days_dry: Days | None = None
    """Days at room dryness that kill about half of moist, freshly shed seed. New in schema 2."""
    drying: bool | None = None
    """true: a source sows it never dried, and gives no number. New in schema 2."""
    frost_celsius: FrostCelsius | None = None
    """Frozen moist below this it dies."""
    chilling_celsius: ChillingCelsius | None = None
    """Kept below this it dies, without any frost."""
    heat_celsius: HeatCelsius | None = None
    """Heated above this it dies."""


class Hazard(Struct, frozen=True):
    """What is dangerous, to whom. Always shown, also when the answer is "do not"."""

    kind: HazardKind
    """What it does."""
    to: HazardTo
    """To whom."""
    cite: Footnotes
    deadly: bool = False
    """true: never beside food, for a little of it kills or it is taken for food. New in schema 2."""
    gloves: bool = False
    """true: it is handled in gloves. New in schema 2."""
    part: Sentence | None = None
    """Which part of the plant."""
    says: Sentence | None = None
    """One plain line."""


class Offspring(Struct, frozen=True):
    """What the seedlings will be."""

    cite: Footnotes
    true_to_type: TrueToType | None = None
    """Whether they are like the parent."""
    use: OffspringUse | None = None
    """What they are raised for."""
    sexes: Sexes | None = None
    """Whether plants are male or female."""
    hybridises: bool | None = None
    """true: crosses freely with other species that flower near it."""
    graft_years: GraftYears | None = None
    """Years until it can be grafted."""
    graft_mm: GraftMillimetres | None = None
    """Stem thickness at which it is grafted."""
    says: Sentence | None = None
    """One plain line."""
    says_sexes: bool = False
    """true: that line says what becomes of male and female plants; the usual sentence is left out. New in
    schema 2."""


class Law(Struct, frozen=True):
    """A dated note on the law of one place; never a permission."""

    place: Sentence
    """Country, state or region."""
    says: Sentence
    """What is regulated, ending with "ask locally"."""
    checked: Day
    """Day on which it was looked up."""
    cite: Footnotes
    about: LawAbout | None = None
    """What is regulated, for those who live elsewhere. New in schema 2."""


class AskAnswer(Struct, frozen=True):
    """One answer to the question that a mixed genus asks, and the species it leads to."""

    if_: Sentence
    """The answer."""
    then: tuple[str, ...] = ()
    """Records it leads to, by accepted name."""
    ripens: Months | None = None
    """First and last month (northern) of ripening, where that answers the question. New in schema 2."""
    says: Sentence | None = None
    """One plain line."""
    cite: Footnotes = ()


class Asks(Struct, frozen=True):
    """The question that decides in a mixed genus."""

    question: Sentence
    """The question."""
    answers: tuple[AskAnswer, ...] = ()
    """Its answers."""
    cite: Footnotes = ()


class Record(Struct, frozen=True, kw_only=True):
    """One species, subspecies, variety, hybrid or genus.

    ``path`` is the file's path relative to its library directory.
    """

    schema: Version = 1
    """Version of this format that the record is written in."""
    name: Name
    """Accepted botanical name without author."""
    author: Sentence | None = None
    """Author of the name, as abbreviated by botanists."""
    family: Family
    """Plant family."""
    rank: Rank
    """Rank of the name."""
    taxon: Taxon | None = None
    """The plant in the open lists of names. New in schema 2."""
    common_names: dict[Language, tuple[CommonName, ...]] = field(default_factory=dict)
    """Common names by language (two or three letters, ISO 639)."""
    synonyms: tuple[Synonym, ...] = ()
    """Other botanical names of the plant."""
    plant: Plant
    """Kind of plant; our judgement."""
    unit: Unit
    """What is handled and counted as one; our judgement."""
    size: Size | None = None
    """How the seed is handled; our judgement, checked against the numbers."""
    sold_as_food: bool = False
    """Whether the seed itself is sold to be eaten, as spice or as feed; our judgement. New in schema 2."""
    seed_mm: SeedSize | None = None
    """Size of one cleaned seed."""
    seeds_per_kg: SeedsPerKilogram | None = None
    """How many cleaned seeds a kilogram holds."""
    bulk: Bulk | None = None
    """How the seed lies in a heap. New in schema 2."""
    handling: Handling | None = None
    """What its seed wants otherwise than most. New in schema 2."""
    filled_percent: Filled | None = None
    """Normal fill: share of cleaned seed that holds a kernel."""
    live_seed: LiveSeed | None = None
    """What live seed looks like. New in schema 2."""
    storage: Storage | None = None
    """How it is stored, and how long it keeps."""
    dormancy: Dormancy | None = None
    """Why it does not sprout."""
    treatments: tuple[Treatment, ...] = ()
    """Ways to make it sprout, in order of preference: the first that suits is used."""
    not_used: tuple[NotUsed, ...] = ()
    """What other sources say that is not followed."""
    germination: Germination | None = None
    """What was seen in germination tests."""
    emergence: Emergence | None = None
    """When seedlings come up after sowing. New in schema 2."""
    sowing: Sowing | None = None
    """How deep, how warm and when to sow."""
    harvest: Harvest | None = None
    """When ripe seed is gathered and how it is cleaned."""
    killed_by: KilledBy | None = None
    """Limits beyond which the seed dies."""
    hazards: tuple[Hazard, ...] = ()
    """What is dangerous, to whom; always shown."""
    offspring: Offspring | None = None
    """What the seedlings will be."""
    law: tuple[Law, ...] = ()
    """Dated notes on law; never a permission."""
    asks: Asks | None = None
    """Genus record of a mixed genus: the question that decides."""
    accept: dict[CheckId, Sentence] = field(default_factory=dict)
    """Warnings of the check that are right to stand: the id and the reason."""
    cites: dict[FootnoteName, Cite] = field(default_factory=dict)
    """The footnotes, by the names that `cite` uses."""
    path: PathInLibrary = ""


TOPICS = (
    "seed_mm", "seeds_per_kg", "bulk", "handling", "filled_percent", "live_seed", "storage", "dormancy",
    "germination", "emergence", "sowing", "harvest", "killed_by", "offspring",
)  # fmt: skip
"""The keys of a record that hold one map with its footnotes, in the order of the file."""
