"""The one table of what may be said of a seed lot: each fact with its type, words, limits, meaning and group.

Options and help of the command line, the lot file and its schema, docs/lots.md and the facts of the rules are
all made from it (see `coldspell.lot.table`). The words that the ``when:`` of a treatment may ask for are
those of `coldspell.records.when`.
"""

# Without postponed annotations: the table is read off the annotations at every start.

from datetime import date
from typing import Annotated, Literal, NewType

from msgspec import Struct

from coldspell.records.when import Gathered, Moisture, Origin, Shell

Share = tuple[int, int]
"""Seeds that did it, of seeds tried."""
Millimetres = tuple[float, ...]


MonthDay = NewType("MonthDay", str)
"""A day of every year as month and day, 05-10."""
YesNoUnknown = Literal["yes", "no", "unknown"]
Material = Literal["vermiculite", "sand", "sawdust", "perlite", "peat", "coir", "sphagnum", "paper"]

THE_LOT, ITS_STATE, TESTS = "The lot", "Its state", "Tests and what was done"
WHEN_WHERE, MEANS, ANSWER = "When and where", "Containers and cold", "The answer"


class About(Struct, frozen=True):
    """What the table says of one fact beside its type."""

    means: str
    group: str
    unit: str = ""
    low: float = 0.0
    high: float = 0.0
    name: str = ""
    """In options and lot files, where it differs from the field."""
    flag: tuple[str, str, str] | None = None
    """An option without a value, the value that it says, and its help."""
    example: str = ""
    ruled: bool = True
    """Whether rules may ask for it as it was said."""
    marked: bool = False
    """Whether the recipe says that it was assumed."""


A = About
_SOUTHERN = ("southern", "yes", "you are in the southern hemisphere")
_UNSURE = ("unsure", "no", "you are not sure what it is")
_CHILDREN = ("children", "yes", "children take part or live there")
_ANIMALS = ("animals", "yes", "pets or stock can reach it")
_PROFESSIONAL = ("professional", "yes", "show methods for trained people")
_NO_FRIDGE = ("no-fridge", "none", "there is no refrigerator")


class Lot(Struct, frozen=True):
    """What is known of one seed lot. ``None`` or ``unknown`` is not said; ``assumed`` names the defaults.

    Dates are days of the calendar, lengths millimetres, temperatures degrees Celsius.
    """

    seeds: Annotated[int, A("how many seeds", THE_LOT, "seeds", 1, 1e9, marked=True)] = 25
    kilograms: Annotated[
        float | None, A("weight of the lot, instead of seeds", THE_LOT, "kilograms", 1e-6, 1e6, ruled=False)
    ] = None
    moisture: Annotated[
        Moisture,
        A("fresh: never dried since it ripened", THE_LOT, marked=True),
    ] = "fresh"
    stored_years: Annotated[float, A("years in store", THE_LOT, "years", 0, 1000)] = 0.0
    days_dry: Annotated[float | None, A("days it lay dry in a room", THE_LOT, "days", 0, 365_000)] = None
    collected: Annotated[date | None, A("day it was gathered", WHEN_WHERE, ruled=False)] = None
    sow: Annotated[date | None, A("day to sow", WHEN_WHERE, ruled=False)] = None
    sown: Annotated[date | None, A("day it was sown or planted already", WHEN_WHERE, ruled=False)] = None
    last_frost: Annotated[
        date | None, A("day of the last frost, instead of a sowing day", WHEN_WHERE, ruled=False)
    ] = None
    usual_frost: Annotated[
        MonthDay | None,
        A("usual last frost of every year, month and day", WHEN_WHERE, example="05-10", ruled=False),
    ] = None
    southern: Annotated[
        bool,
        A(
            "southern hemisphere",
            WHEN_WHERE,
            flag=_SOUTHERN,
            ruled=False,
        ),
    ] = False
    place: Annotated[
        str | None, A("country or region, for notes on law", WHEN_WHERE, example="text", ruled=False)
    ] = None
    winter: Annotated[
        Literal["cold", "mild", "none", "unknown"],
        A(
            "winters where it would be sown outdoors; cold: the soil stays at 7 °C or less for three months, "
            "mild: for some weeks only, none: never",
            WHEN_WHERE,
        ),
    ] = "unknown"
    origin: Annotated[
        Origin,
        A("part of the range of the species it comes from", THE_LOT),
    ] = "unknown"
    gathered: Annotated[
        Gathered,
        A("how and when it was got", THE_LOT),
    ] = "unknown"
    climate: Annotated[
        Literal["temperate", "warm", "unknown"],
        A("winters where the kind grows wild: temperate has frost, warm has none", THE_LOT, ruled=False),
    ] = "unknown"
    shed: Annotated[
        Literal["moist", "dry", "unknown"],
        A("ripe seed as it falls: moist and heavy like an acorn, or dry", THE_LOT, ruled=False),
    ] = "unknown"
    pulp: Annotated[YesNoUnknown, A("whether flesh or husk is still on", ITS_STATE, ruled=False)] = "unknown"
    shell: Annotated[
        Shell,
        A("state of the shell; intact is the cleaned seed", ITS_STATE, marked=True),
    ] = "intact"
    frozen: Annotated[YesNoUnknown, A("whether the moist seed froze", ITS_STATE)] = "unknown"
    heated: Annotated[YesNoUnknown, A("roasted, blanched, pasteurised or dried hot", ITS_STATE)] = "unknown"
    swollen: Annotated[
        Literal["yes", "no", "some", "unknown"], A("whether it swelled in water", ITS_STATE)
    ] = "unknown"
    rooted: Annotated[int, A("how many show a root", ITS_STATE, "seeds", 0, 1e9, ruled=False)] = 0
    root_mm: Annotated[float | None, A("length of the roots", ITS_STATE, "mm", 0, 1000)] = None
    soft: Annotated[YesNoUnknown, A("whether seeds are soft or leak", ITS_STATE)] = "unknown"
    mould: Annotated[Literal["none", "shell", "kernel", "unknown"], A("where mould was seen", ITS_STATE)] = (
        "unknown"
    )
    holes: Annotated[YesNoUnknown, A("whether insect holes were seen", ITS_STATE)] = "unknown"
    smell: Annotated[
        Literal["none", "earthy", "sour", "rotten", "almond", "unknown"], A("how it smells", ITS_STATE)
    ] = "unknown"
    cut: Annotated[Share | None, A("cut test: sound of cut", TESTS, example="8/10", ruled=False)] = None
    float_test: Annotated[
        Share | None, A("float test: floated of tried", TESTS, name="float", example="3/40", ruled=False)
    ] = None
    cold_days_done: Annotated[
        float, A("days of moist cold it has had", TESTS, "days", 0, 1500, ruled=False)
    ] = 0.0
    warm_days_done: Annotated[
        float, A("days of moist warmth it has had", TESTS, "days", 0, 1500, ruled=False)
    ] = 0.0
    cold_break_days: Annotated[
        float, A("days that its moist cold was broken by warmth", TESTS, "days", 0, 1500, ruled=False)
    ] = 0.0
    sure: Annotated[
        bool,
        A("whether you are sure what it is", THE_LOT, flag=_UNSURE),
    ] = True
    children: Annotated[
        bool,
        A(
            "children take part or live there",
            WHEN_WHERE,
            flag=_CHILDREN,
        ),
    ] = False
    animals: Annotated[
        bool,
        A("pets or stock can reach it", WHEN_WHERE, flag=_ANIMALS),
    ] = False
    professional: Annotated[
        bool,
        A(
            "done by trained people",
            ANSWER,
            flag=_PROFESSIONAL,
            ruled=False,
        ),
    ] = False
    refrigerator: Annotated[
        Literal["own", "food", "none"],
        A(
            "own for seed, shared with food, or none",
            MEANS,
            flag=_NO_FRIDGE,
            marked=True,
        ),
    ] = "food"
    fridge_celsius: Annotated[float | None, A("temperature where the bag will lie", MEANS, "°C", -40, 60)] = (
        None
    )
    fridge_litres: Annotated[
        float | None, A("room in the refrigerator for it", MEANS, "litres", 0.1, 10_000, ruled=False)
    ] = None
    grow_in: Annotated[
        Literal["container", "bed", "site"], A("where the seedlings grow first", MEANS, marked=True)
    ] = "container"
    media: Annotated[tuple[Material, ...], A("media at hand", MEANS, name="medium", ruled=False)] = ()
    container_mm: Annotated[
        Millimetres | None,
        A(
            "box inside: length, width, height in mm",
            MEANS,
            name="container",
            example="200x150x100",
            ruled=False,
        ),
    ] = None
    bag_mm: Annotated[
        Millimetres | None,
        A("flat bag: width, length in mm", MEANS, name="bag", example="270x280", ruled=False),
    ] = None
    want: Annotated[int | None, A("plants wanted", ANSWER, "plants", 1, 1e8, ruled=False)] = None
    units: Annotated[Literal["metric", "us", "both"], A("units of the answer", ANSWER, ruled=False)] = (
        "metric"
    )
    assumed: tuple[str, ...] = ()

    @property
    def lain_moist(self) -> bool:
        """Whether it lies moist: moist days lie behind it or were broken off, it has rooted or swollen."""
        days = self.cold_days_done > 0 or self.warm_days_done > 0 or self.cold_break_days > 0
        return days or self.rooted > 0 or bool(self.root_mm) or self.swollen == "yes"

    @property
    def mostly_rooted(self) -> bool:
        """Whether more than half of it has rooted."""
        return 2 * self.rooted > self.seeds
