"""Every name of the rules that the program knows: decisions, facts, fields with their words, placeholders.

The rules are held against this module when they are loaded (`contract`), so that a name can be changed on one
side only together with the other. No answer of a decision stands here: what an answer means to the program it
says itself, in fields.
"""

# Without postponed annotations: a hundred texts would be compiled to types at every start.

from collections.abc import Mapping
from typing import Any, Literal, TypedDict, cast

from msgspec import Struct

from coldspell.rules.model import FactValue

YesNo = Literal["yes", "no"]
YesNoUnknown = Literal["yes", "no", "unknown"]
Fits = Literal["no_date", "fits", "tight", "too_short"]
Material = Literal[
    "paper", "nothing", "vermiculite", "sand", "sawdust", "perlite", "peat", "coir", "sphagnum"
]


class Ask:
    """The decisions that the program asks for by name."""

    AGE = "age"
    ALIVE = "alive"
    BULK = "bulk"
    CAUTIONS = "cautions"
    CLOSURE = "closure"
    COMING_UP = "coming_up"
    CUT_TEST = "cut_test"
    FALLBACK = "fallback"
    FINISH = "finish"
    HAZARD = "hazard"
    IDENTITY = "identity"
    INSTEAD = "instead"
    LAYOUT = "layout"
    LOOKS = "looks"
    MATERIAL = "material"
    MEANWHILE = "meanwhile"
    MEDIUM = "medium"
    NEEDS = "needs"
    NOTES = "notes"
    OFFSPRING = "offspring"
    ON_MOULD = "on_mould"
    ON_SPROUTS = "on_sprouts"
    OUTDOORS_WAIT = "outdoors_wait"
    PLACE = "place"
    PREPARATION = "preparation"
    RESPONSE = "response"
    ROUTE = "route"
    SEASON = "season"
    SORTING = "sorting"
    START = "start"
    STEP = "step"
    TEST = "test"
    TEST_RESULTS = "test_results"
    TIME = "time"
    TREATMENT = "treatment"
    VERDICT = "verdict"
    VERDICT_INDOORS = "verdict_indoors"
    VERDICT_OUTDOORS = "verdict_outdoors"
    WAIT = "wait"
    WARMTH = "warmth"
    WAYS_OUT = "ways_out"
    WETNESS = "wetness"
    WHAT_IF = "what_if"


VERDICTS = (Ask.VERDICT, Ask.VERDICT_OUTDOORS, Ask.VERDICT_INDOORS)
"""Exactly one of them is asked for a lot, by its route."""
PER_TREATMENT = (Ask.TREATMENT, Ask.START, Ask.SEASON)
ASKED_APART = (*PER_TREATMENT, Ask.STEP, Ask.HAZARD, Ask.NOTES, Ask.FALLBACK)
"""Decisions that are not part of the one run over all: asked for each treatment, step or hazard, or later."""


class RecordFacts(TypedDict):
    """What stands in the records."""

    known: Literal["species", "genus", "fallback", "nothing"]
    mixed_genus: YesNo
    genus: str
    family: str
    plant: str
    unit: str
    size: str
    behaviour: str
    dormancy: str
    root_first: YesNo
    flesh: Literal["pulp", "husk", "wings", "none"]
    light: str
    ripens: Literal["spring", "early", "late", "unknown"]
    keeps: Literal["weeks", "years", "unknown"]
    often_empty: YesNoUnknown
    chilling_injures: YesNo
    true_to_type: str
    offspring_use: str
    sexes: str
    sexes_said: YesNo
    hybridises: YesNo
    autumn_sown: YesNoUnknown
    germ_low: float | None
    sow_deep: float | None
    sow_max: float | None
    poison: Literal["people", "animals", "both", "none"]
    cyanide: YesNo
    stains: YesNo
    bulk_class: str


class LotFacts(TypedDict):
    """What the grower said, and what follows from it alone."""

    sure: YesNo
    pulp: str
    had_cold: YesNo
    lain_moist: YesNo
    cut_seeds: float | None
    rooted: Literal["none", "some", "most"]
    children: YesNo
    animals: YesNo
    audience: Literal["professional", "public"]
    material_named: YesNo
    has_vermiculite: YesNo
    has_sand: YesNo
    has_sawdust: YesNo
    has_perlite: YesNo
    has_peat: YesNo
    has_coir: YesNo
    has_sphagnum: YesNo
    moisture: str
    stored_years: float
    seeds: int
    days_dry: float | None
    shell: str
    gathered: str
    frozen: str
    heated: str
    root_mm: float | None
    mould: str
    soft: str
    holes: str
    smell: str
    swollen: str
    refrigerator: str
    fridge_celsius: float | None
    winter: str
    origin: str
    grow_in: str


class TestFacts(TypedDict):
    """What the tests of the lot and its time in store amount to."""

    sound_percent: float | None
    sound_high: float | None
    float_percent: float | None
    life_used: float | None


class SizeFacts(TypedDict):
    """How large the lot is that is started."""

    seed_litres: float
    sheets: float
    trays: float
    volume_lot: YesNo


class TreatmentFacts(TypedDict):
    """What was measured of one treatment for the lot."""

    fits_lot: YesNo
    usable: YesNo
    professional_step: Literal["acid", "regulator", "none"]
    outdoor_steps: YesNo
    shape: str
    cold_need: Literal["required", "optional", "none"]
    ends: str
    moist_days: float | None
    already_cold: Literal["none", "part", "enough"]
    begun: YesNo
    may_wait: YesNo
    wet: YesNo
    sow_far: YesNo
    cold_behind: YesNo


class ScheduleFacts(TypedDict):
    """What the calendar says of one treatment."""

    hold_known: YesNo
    held: YesNo
    sow_past: YesNo
    wait_days: float | None
    hot_water_step: YesNo
    blade_step: YesNo
    regulator_step: YesNo
    days_spare: float | None
    days_spare_short: float | None


class ChosenFacts(TypedDict):
    """What hangs on the treatment that was chosen."""

    cold_in_winter: YesNo
    cold_share: float | None

    treatment_found: Literal["yes", "possible", "no"]
    soak_needed: Literal["in_treatment", "nut", "stone", "pip", "conifer", "none"]


class LotPlanFacts(RecordFacts, LotFacts, TestFacts, SizeFacts, TreatmentFacts, ScheduleFacts, ChosenFacts):
    """All facts on which the plan of a lot rests."""


class StepFacts(TypedDict):
    """What one step of a treatment is."""

    do: str
    step_ends: str
    step_short: YesNo


class HazardFacts(TypedDict):
    """What one hazard of a record is."""

    hazard_kind: str


class NoteFacts(TypedDict):
    """What is known once the plan is made: for the notes."""

    count_assumed: YesNo
    moisture_assumed: YesNo
    out_of_season: YesNo
    had_days: YesNo
    days_past_hold: float | None
    date_past: YesNoUnknown
    outdoor_late: YesNo
    days_to_date: float | None
    date_kept: YesNo
    rooted_part: YesNo
    days_of_whole: YesNo
    collected_said: YesNo
    months_since_shed: float | None
    left_out: YesNo
    date_from_frost: YesNo
    gathered_ahead: YesNo
    room_lacking: YesNo
    size_known: YesNo


class RouteFields(Struct, frozen=True):
    """What a route does."""

    steps: Literal["none", "plain", "whole", "whole_if_dated"]
    sown: Literal["never", "first_day", "outdoor_day", "target", "when_waited"]
    lies: Literal["no", "cold", "warm", "dry", "pot", "cold_pot", "outdoors", "as_it_lies"]
    page: Literal["plan", "test", "question", "refusal"]
    waits_from: Literal["none", "ready", "gathered"]
    date: Literal["used", "year", "ignored"]
    losses: Literal["as_said", "bed"]


class PreparationFields(Struct, frozen=True):
    """What a preparation does, and when."""

    do: Literal["test", "clean", "remove_pulp", "remove_husk", "remove_wings", "soak", "dry_back"]
    when: Literal["first", "before_treatment", "before_bag"]
    under_way: Literal["again", "done"]


class MediumFields(Struct, frozen=True):
    """How a form of medium is filled, and when it is first looked at."""

    packs: Literal["layers", "rolled", "netted", "mixed", "loose", "surface"]
    medium_per_seed: float
    first_look_days: float
    holder: Literal["bag", "tub", "pit", "tray"]
    after_layers: YesNo


class ResponseFields(Struct, frozen=True):
    """By which curve a temperature counts as cold."""

    curve: Literal["usual", "crab_apple", "horse_chestnut"]


class BulkFields(Struct, frozen=True):
    """What a litre of seed weighs, where no record says."""

    grams_per_litre: float


class MaterialFields(Struct, frozen=True):
    """What a material is to the sums of water."""

    same_as: Material


class LayoutFields(Struct, frozen=True):
    """How many layers may lie over one another."""

    layers: Literal["one", "many"]


class TreatmentFields(Struct, frozen=True):
    """How a treatment stands among the others."""

    rank: Literal["under_way", "use", "possible", "refused"]
    followed: YesNo
    adds_when: YesNo
    suits: YesNo


class StartFields(Struct, frozen=True):
    """When a treatment begins, and what becomes of the sowing day."""

    date: Literal["kept", "dropped"]
    begins: Literal["in_time", "at_once"]


class SeasonFields(Struct, frozen=True):
    """When dry seed is sown outdoors."""

    season: Literal["summer", "late_autumn", "autumn"]


class OutdoorsWaitFields(Struct, frozen=True):
    """Whether seed waits for the season outdoors."""

    waits: YesNo


class TimeFields(Struct, frozen=True):
    """Whether the treatment fits before the sowing day."""

    fits: Fits


class AliveFields(Struct, frozen=True):
    """Whether the seed is soaked and treated as fresh."""

    revives: YesNo


class FinishFields(Struct, frozen=True):
    """Whether seed is covered."""

    covered: YesNo


class WaitFields(Struct, frozen=True):
    """Whose days it may wait."""

    days: Literal["record", "none"]


class WarmthFields(Struct, frozen=True):
    """Whether a warmest soil is named."""

    limit: YesNo


class WayOutFields(Struct, frozen=True):
    """Which day a way out names."""

    date: Literal["sow", "next", "none"]


class NoteFields(Struct, frozen=True):
    """Whether a sentence stands among the notes."""

    note: Literal["first", "last", "no"]


class FallbackFields(Struct, frozen=True):
    """Whether common practice stands in for a record."""

    practice: YesNo


class ComingUpFields(Struct, frozen=True):
    """Whether the days of germination tests are printed."""

    shown: YesNo


def values_of(facts: Mapping[str, object]) -> dict[str, FactValue]:
    """Facts of the typed tables above as what rules are asked with."""
    return cast("dict[str, FactValue]", dict(facts))


FIELDS: dict[str, type[Struct]] = {
    Ask.ROUTE: RouteFields,
    Ask.PREPARATION: PreparationFields,
    Ask.SORTING: PreparationFields,
    Ask.MEDIUM: MediumFields,
    Ask.BULK: BulkFields,
    Ask.RESPONSE: ResponseFields,
    Ask.MATERIAL: MaterialFields,
    Ask.LAYOUT: LayoutFields,
    Ask.TREATMENT: TreatmentFields,
    Ask.START: StartFields,
    Ask.SEASON: SeasonFields,
    Ask.OUTDOORS_WAIT: OutdoorsWaitFields,
    Ask.TIME: TimeFields,
    Ask.ALIVE: AliveFields,
    Ask.FINISH: FinishFields,
    Ask.WAIT: WaitFields,
    Ask.WARMTH: WarmthFields,
    Ask.WAYS_OUT: WayOutFields,
    Ask.IDENTITY: NoteFields,
    Ask.PLACE: NoteFields,
    Ask.FALLBACK: FallbackFields,
    Ask.COMING_UP: ComingUpFields,
}


class KindWords(TypedDict):
    """Words that depend on the kind and the lot alone."""

    gap: str
    layer: str
    near_freezing: str
    soak_time: str
    depth: str
    sow_cool: str
    pot_depth: str
    mesh: str
    root_pot_up: str
    germ_range: str
    or_fridge: str
    cut_some: str
    asked: str
    graft_thickness: str
    graft_when: str
    per_sheet: str
    shade_side: str
    pit_area: str
    pit_depth_range: str
    pit_layer: str
    sow_area: str


class WhatIfWords(TypedDict):
    """Words for what may happen meanwhile."""

    fridge_warm: str
    no_cold: str
    pot_cold: str
    pot_cool: str
    bare_day: str
    fridge: str
    share: str
    days_at_home: str


class TreatmentWords(TypedDict):
    """Words that depend on the treatment and its dates."""

    cold_range: str
    hold_range: str
    cold_length: str
    warm_length: str
    rest_length: str
    total_length: str
    sow_date: str
    sow_when: str
    most_by: str
    start_when: str
    short_by: str


class StepWords(TypedDict):
    """Words for one step of a treatment."""

    how_long: str
    changed: str
    how_warm: str
    substance: str


class NoteWords(TypedDict):
    """Words for the notes under the verdict."""

    counted: str
    ripe_months: str
    gathered_month: str
    had: str
    past_hold: str
    hold_until: str
    those_rooted: str
    last_frost: str
    frost_days: str
    collected: str
    space_needed: str
    space_had: str


FACTS: tuple[Any, ...] = (LotPlanFacts, StepFacts, HazardFacts, NoteFacts)
WORDS: tuple[Any, ...] = (KindWords, WhatIfWords, TreatmentWords, StepWords, NoteWords)
