"""The answer: one frozen value from which every view is made. Its JSON form has a published schema.

Dates are ISO 8601 text, quantities ``[low, usual, high]`` in the unit of the field's name; a value that
nobody knows is ``None``. ``cites`` lists number the entries of ``sources``.

These are msgspec structs, not dataclasses: two dozen frozen dataclasses cost every start of the program a
tenth of its time.
"""

from __future__ import annotations

from msgspec import Struct

Range = tuple[float, float, float]
"""Low, usual, high."""


class Species(Struct, frozen=True):
    """The kind found, and for each topic the record it came from."""

    asked: str
    name: str
    family: str
    rank: str
    common_names: tuple[str, ...]
    record: str
    topics: dict[str, str]
    dormancy: str | None
    storage: str | None
    plant: str
    unit: str


class Verdict(Struct, frozen=True):
    """The answer in one word and one sentence."""

    route: str
    sentence: str
    feasible: bool
    alive: str
    identity: str


class TreatmentAnswer(Struct, frozen=True):
    """One treatment of the record and whether it is used for this lot.

    ``says`` describes its steps; empty when it is refused, so that nobody follows it by mistake.
    """

    name: str
    status: str
    why: str
    steps: tuple[str, ...]
    says: tuple[str, ...]
    because: str | None
    cites: tuple[int, ...]
    from_record: str
    suits: bool
    """Whether it suits the lot as it is, and only the order of the record speaks against it."""


class NotUsedAnswer(Struct, frozen=True):
    """What another source says, and why it is not followed."""

    says: str
    because: str
    cites: tuple[int, ...]


class Medium(Struct, frozen=True):
    """What the seeds lie in, and how much of it."""

    form: str
    says: str
    material: str
    material_says: str
    litres: float | None
    water_ml: tuple[float, float] | None
    containers: int | None
    container_says: str | None
    sheets: int | None
    space_litres: float | None
    wetness: str
    closure: str
    place: str


class Layout(Struct, frozen=True):
    """How the seeds are laid; ``dimensions_mm`` is the inside of one container.

    For a drawing: ``points_mm`` are the middles of the seeds of a full layer, ``levels_mm`` the heights of
    the layers, ``footprint_mm`` the base of the filled block. Empty for mixtures and towels.
    """

    says: str
    pitch_mm: float | None
    gap_mm: float | None
    layers: int | None
    per_layer: int | None
    per_container: int | None
    dimensions_mm: tuple[float, ...]
    pattern: str | None
    footprint_mm: tuple[float, ...]
    levels_mm: tuple[float, ...]
    points_mm: tuple[tuple[float, float], ...]


class Step(Struct, frozen=True):
    """One thing to do. Day numbers count from the start when there are no dates."""

    do: str
    text: str
    days: Range | None
    celsius: Range | None
    need: str
    until: str
    start: str | None
    end: str | None
    start_day: int | None
    end_day: int | None
    end_earliest: str | None
    end_latest: str | None
    rules: tuple[str, ...]
    cites: tuple[int, ...]


class Hold(Struct, frozen=True):
    """How long the treated seed may wait."""

    says: str
    days: Range | None
    celsius: Range | None
    until: str | None
    cites: tuple[int, ...]


class Look(Struct, frozen=True):
    """What may be seen, and what then."""

    look_for: str
    then_do: str
    rule: str


class Checks(Struct, frozen=True):
    """When to look, and what for."""

    dates: tuple[str, ...]
    days: tuple[int, ...]
    every_days_after: int | None
    looks: tuple[Look, ...]
    on_mould: str | None
    on_sprouts: str | None


class Sowing(Struct, frozen=True):
    """When, how deep and how warm it is sown."""

    says: str
    warmth: str | None
    date: str | None
    depth_mm: Range | None
    celsius_max: float | None
    comes_up_days: Range | None
    cites: tuple[int, ...]


class Expectation(Struct, frozen=True):
    """Plants to expect; ``plants`` is low, middle and high, nine times in ten."""

    seeds: int
    seeds_mass_g: float | None
    plants: Range | None
    says: str
    seeds_for_wanted: int | None
    assumed: tuple[str, ...]
    cites: tuple[int, ...]


class Note(Struct, frozen=True):
    """A line with the rule or record it comes from."""

    text: str
    rule: str | None
    cites: tuple[int, ...]


class WayOut(Struct, frozen=True):
    """What can be done when the time is too short."""

    text: str
    date: str | None
    rule: str


class Timing(Struct, frozen=True):
    """Whether it fits before the sowing date, and by how much."""

    fits: str
    constraint: str | None
    days_short: int | None
    days_spare: int | None
    start_first: str | None
    start_last: str | None
    ways_out: tuple[WayOut, ...]


class Source(Struct, frozen=True):
    """One footnote: who says so, where, and whether it was read, recalled or is common practice."""

    number: int
    text: str
    source: str | None
    at: str | None
    basis: str
    url: str | None = None


class TraceRow(Struct, frozen=True):
    """One rule that held: the decision, the facts it tested, why, and who says so."""

    decision: str
    asks: str
    rule: str
    answer: str
    facts: dict[str, str | float]
    because: str
    cites: tuple[int, ...]
    candidate: str | None = None


class Choice(Struct, frozen=True):
    """One answer to the question of a mixed genus, and the species it leads to."""

    answer: str
    leads_to: tuple[str, ...]
    says: str | None
    cites: tuple[int, ...]


class Asked(Struct, frozen=True):
    """The question that must be answered before anything else can be said."""

    question: str
    choices: tuple[Choice, ...]


class LotAnswer(Struct, frozen=True):
    """The lot as understood; ``assumed`` names what the grower did not say."""

    said: dict[str, str | int | float | bool | list[str | float] | None]
    assumed: tuple[str, ...]


class Recipe(Struct, frozen=True):
    """What one seed lot needs. Version 1 of the published schema."""

    schema: int
    tool: str
    library: str
    rules: str
    asked_on: str
    units: str
    species: Species
    lot: LotAnswer
    verdict: Verdict
    asks: Asked | None
    route: str
    does: dict[str, str]
    """What the route does, in the words of ``rules/fields.yaml``: page, lies, sown, …"""
    timing: Timing
    treatments: tuple[TreatmentAnswer, ...]
    not_used: tuple[NotUsedAnswer, ...]
    medium: Medium | None
    layout: Layout | None
    place: str | None
    needs: tuple[Note, ...]
    """What else is needed beside container, medium and water."""
    steps: tuple[Step, ...]
    hold: Hold | None
    checks: Checks | None
    sowing: Sowing | None
    expectation: Expectation | None
    what_if: tuple[Look, ...]
    """What may happen meanwhile, and what then."""
    instead: tuple[Note, ...]
    offspring: tuple[Note, ...]
    cautions: tuple[Note, ...]
    law: tuple[Note, ...]
    sources: tuple[Source, ...]
    trace: tuple[TraceRow, ...]
    notes: tuple[str, ...]
