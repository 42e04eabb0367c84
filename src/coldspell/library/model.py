"""The values a species record is made of, exactly as the file states them.

One class for each map of the record format; keys that a record leaves out are ``None`` or empty.
Temperatures are degrees Celsius, lengths millimetres, times days unless the name says otherwise.
"""

# Without postponed annotations: msgspec evaluates those of each class anew at every start.

from msgspec import Struct, field

Condition = str | float | bool | list[str | float]


MOIST = ("warm_moist", "cool_moist", "cold_moist", "alternate")
"""Steps in which the seed lies moist."""
TIMED = (*MOIST, "soak", "leach", "after_ripen", "dry_back", "hold")
"""Steps that take time."""
OPENING = ("scarify_mechanical", "scarify_hot_water", "scarify_acid", "crack_shell")
"""Steps that open a coat or shell."""
HEAT = ("heat_bath", "dry_heat", "smoke")
"""Steps that stand in for fire or hot soil."""
FIRST = ("test", "clean", "remove_pulp", "remove_husk", "remove_wings", "ferment")
"""Steps that belong to the preparation: done before the seed waits."""
LAST = ("sow", "light", "dark")
"""Steps that are the sowing, or come after it."""


class Quantity(Struct, frozen=True):
    """One number, a range, or a range with its usual value (``low <= usual <= high``)."""

    low: float
    high: float
    usual: float | None = None

    @property
    def plan(self) -> float:
        """The value to plan with: the usual one, else the high end."""
        return self.high if self.usual is None else self.usual

    @property
    def middle(self) -> float:
        """The usual value, else the middle."""
        return (self.low + self.high) / 2 if self.usual is None else self.usual


class Cite(Struct, frozen=True):
    """A footnote: who says so. ``basis`` is ``read``, ``recalled`` or ``practice`` (then no source)."""

    basis: str
    source: str | None = None
    at: str | None = None
    note: str | None = None


class Step(Struct, frozen=True):
    """One thing done to the seed; ``do`` is a word of the closed list of the record schema."""

    do: str
    days: Quantity | None = None
    hours: Quantity | None = None
    minutes: Quantity | None = None
    celsius: Quantity | None = None
    need: str = "required"
    until: str = "ready"
    substance: str | None = None
    mg_per_l: Quantity | None = None
    hours_light: Quantity | None = None
    outdoors: bool = False
    note: str | None = None


class Hold(Struct, frozen=True):
    """How long the treated seed may wait, and how cold."""

    days: Quantity
    cite: tuple[str, ...]
    celsius: Quantity | None = None


class Treatment(Struct, frozen=True):
    """One way to make the seed sprout; ``when`` says for which lots."""

    name: str
    steps: tuple[Step, ...]
    cite: tuple[str, ...]
    when: dict[str, Condition] = field(default_factory=dict)
    hold: Hold | None = None
    percent: Quantity | None = None
    because: str | None = None


class NotUsed(Struct, frozen=True):
    """What another source says, and why it is not followed."""

    says: str
    cite: tuple[str, ...]
    because: str


class SeedSize(Struct, frozen=True):
    """Seed length, width and thickness in millimetres."""

    cite: tuple[str, ...]
    length: Quantity | None = None
    width: Quantity | None = None
    thickness: Quantity | None = None


class Sourced(Struct, frozen=True):
    """A bare quantity with its footnotes (seeds per kilogram, filled percent)."""

    value: Quantity
    cite: tuple[str, ...]


class Storage(Struct, frozen=True):
    """Storage behaviour after Roberts (1973) and Ellis, Hong & Roberts (1990)."""

    behaviour: str
    cite: tuple[str, ...]
    years: Quantity | None = None
    moisture_percent: Quantity | None = None
    celsius: Quantity | None = None


class Dormancy(Struct, frozen=True):
    """Dormancy class after Baskin & Baskin (2004); ``class_`` is the key ``class`` of the file."""

    class_: str
    cite: tuple[str, ...]
    level: str | None = None
    epicotyl: bool = False


class Germination(Struct, frozen=True):
    """What was seen in germination tests (laboratory temperatures: not sowing advice)."""

    cite: tuple[str, ...]
    celsius: Quantity | None = None
    light: str | None = None
    days: Quantity | None = None
    percent: Quantity | None = None
    root_first: bool | None = None


class Sowing(Struct, frozen=True):
    """How deep and how warm to sow."""

    cite: tuple[str, ...]
    depth_mm: Quantity | None = None
    celsius_max: Quantity | None = None
    autumn: bool | None = None
    light: str | None = None


class Harvest(Struct, frozen=True):
    """When ripe seed is gathered (months of the northern hemisphere, may wrap) and how it is cleaned."""

    cite: tuple[str, ...]
    months: tuple[int, int] | None = None
    signs: str | None = None
    cleaning: tuple[str, ...] = ()


class KilledBy(Struct, frozen=True):
    """Limits beyond which the seed dies."""

    cite: tuple[str, ...]
    moisture_percent_below: Quantity | None = None
    frost_celsius: Quantity | None = None
    chilling_celsius: Quantity | None = None
    heat_celsius: Quantity | None = None


class Hazard(Struct, frozen=True):
    """What is dangerous, to whom."""

    kind: str
    to: str
    cite: tuple[str, ...]
    part: str | None = None
    says: str | None = None


class Offspring(Struct, frozen=True):
    """What the seedlings will be."""

    cite: tuple[str, ...]
    true_to_type: str | None = None
    use: str | None = None
    sexes: str | None = None
    hybridises: bool | None = None
    graft_years: Quantity | None = None
    graft_mm: Quantity | None = None
    says: str | None = None


class Law(Struct, frozen=True):
    """A dated note on the law of one place; never a permission."""

    place: str
    says: str
    checked: str
    cite: tuple[str, ...]


class AskAnswer(Struct, frozen=True):
    """One answer to the question that a mixed genus asks, and the species it leads to."""

    if_: str
    then: tuple[str, ...] = ()
    says: str | None = None
    cite: tuple[str, ...] = ()


class Asks(Struct, frozen=True):
    """The question that decides in a mixed genus."""

    question: str
    answers: tuple[AskAnswer, ...] = ()
    cite: tuple[str, ...] = ()


class Record(Struct, frozen=True):
    """One species, subspecies, variety, hybrid or genus.

    ``path`` is the file's path relative to its library directory.
    """

    name: str
    family: str
    rank: str
    plant: str
    unit: str
    path: str = ""
    author: str | None = None
    common_names: dict[str, tuple[str, ...]] = field(default_factory=dict)
    synonyms: tuple[str, ...] = ()
    size: str | None = None
    seed_mm: SeedSize | None = None
    seeds_per_kg: Sourced | None = None
    filled_percent: Sourced | None = None
    storage: Storage | None = None
    dormancy: Dormancy | None = None
    treatments: tuple[Treatment, ...] = ()
    not_used: tuple[NotUsed, ...] = ()
    germination: Germination | None = None
    sowing: Sowing | None = None
    harvest: Harvest | None = None
    killed_by: KilledBy | None = None
    hazards: tuple[Hazard, ...] = ()
    offspring: Offspring | None = None
    law: tuple[Law, ...] = ()
    asks: Asks | None = None
    accept: dict[str, str] = field(default_factory=dict)
    cites: dict[str, Cite] = field(default_factory=dict)
