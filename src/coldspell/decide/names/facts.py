"""The facts that the program sets, with their words."""

# Without postponed annotations: so many texts would be compiled to types at every start.

from typing import Any, Literal, TypedDict

from coldspell.decide.names.closed import BreakCosts, YesNo, YesNoUnknown

BearsDrying = Literal["yes", "likely", "no"]


class RecordFacts(TypedDict):
    """What stands in the records."""

    known: Literal["species", "genus", "relatives", "fallback", "nothing"]
    mixed_genus: YesNo
    by_season: YesNo
    family: str
    plant: str
    rank: str
    unit: str
    sold_as_food: YesNo
    shows: Literal["soil", "tests", "no"]
    size: str
    behaviour: str
    dormancy: str
    root_first: YesNo
    flesh: Literal["pulp", "husk", "wings", "none"]
    light: str
    sown_on: str
    ground: str
    acid: YesNo
    pricked_out: YesNo
    in_place: YesNo
    kept_cold: YesNo
    tender: YesNo
    laid: str
    ripens: Literal["spring", "early", "late", "unknown"]
    keeps: Literal["weeks", "years", "unknown"]
    often_empty: YesNoUnknown
    cutting: Literal["knife", "too_fine"]
    chilling_injures: YesNo
    bears_drying: BearsDrying
    true_to_type: str
    variety_named: YesNo
    offspring_use: str
    sexes: str
    sexes_said: YesNo
    gloves_said: YesNo
    hybridises: YesNo
    autumn_sown: YesNoUnknown
    germ_low: float | None
    germ_high: float | None
    sow_deep: float | None
    sow_min: float | None
    sow_max: float | None
    poison: Literal["people", "animals", "both", "none"]
    harm_to: Literal["people", "animals", "both", "none"]
    warned: YesNo
    deadly: YesNo
    cyanide: YesNo
    one_layer: YesNo
    no_soak: YesNo
    surface_dry: YesNo
    counts_as_cold: Literal["usual", "narrow", "wide"]
    bulk_class: str
    harms_skin: YesNo
    allergy: YesNo


class KinFacts(TypedDict):
    """What is known of a kind without a record by its genus, its relatives, and what the grower said."""

    on_record: YesNo
    name_known: YesNo
    genus_gives: Literal["treatment", "question", "nothing"]
    genus_cold: YesNo
    kin_want: Literal[
        "cold", "warm_then_cold", "nothing", "open_coat", "coat_then_cold", "other", "differ", "few"
    ]
    kin_dry: Literal["all", "some", "none"]
    kin_chill: Literal["all", "some", "none"]
    kin_cold: Literal["all", "most", "some", "none"]
    home_climate: Literal["temperate", "warm", "unknown"]
    climate_from: Literal["said", "record", "relatives", "nobody"]
    seed_shed: Literal["moist", "dry", "unknown"]
    shed_from: Literal["said", "record", "relatives", "nobody"]


class LotFacts(TypedDict):
    """What the grower said, and what follows from it alone."""

    sure: YesNo
    pulp: str
    had_cold: YesNo
    lain_moist: YesNo
    cut_seeds: float | None
    rooted: Literal["none", "some", "most"]
    rooted_percent: float
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
    has_paper: YesNo
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
    all_cut: YesNo
    fill_met: YesNoUnknown
    float_percent: float | None
    life_used: float | None


class SizeFacts(TypedDict):
    """How large the lot is that is started."""

    started: float
    seed_litres: float
    sheets: float
    trays: float
    volume_lot: YesNo


class DayFacts(TypedDict):
    """What the time of the year amounts to."""

    summer_over: YesNo
    growing_now: YesNo
    late_now: YesNo
    spring_far: YesNo
    autumn: Literal["now", "ahead", "next"]


class StateFacts(DayFacts):
    """What the past of the lot and the time of the year amount to."""

    coat_shut: YesNo
    kept_months: float | None
    kept_said: YesNo
    was_green: YesNo
    spring_gone: YesNo
    frost_to_come: YesNo
    gathered_ahead: YesNo
    rooted_now: YesNo
    sown_off: YesNo
    wants_warmth: YesNo
    roots_warm: YesNo
    winter_taken: YesNo
    cold_break: BreakCosts
    overdue: Literal["no", "cold", "idle"]
    sown: YesNo


class UntoldFacts(TypedDict):
    """What was told of the past of a lot and of its place, and what the calendar says of what was not."""

    sown: YesNo
    days_told: YesNo
    lay_dry: Literal["unsaid", "hardly", "longer"]
    days_since: float | None
    month_now: float
    months_to_ripen: float | None
    kept_months: float | None
    break_days: float
    opened_first: YesNo
    pulp_said: YesNo
    moisture_said: YesNo
    chills: YesNo
    winter_passed: YesNoUnknown
    next_near: YesNo
    collected_said: YesNo
    frost_told: YesNo
    grow_in_said: YesNo


Undried = Literal["no", "same", "other"]


class SpanFacts(TypedDict):
    """How wide the ranges of days of one treatment are."""

    span_times: float | None
    long_costs_year: YesNo


class TreatmentFacts(SpanFacts):
    """What was measured of one treatment for the lot."""

    fits_lot: YesNo
    usable: YesNo
    professional_step: Literal["acid", "regulator", "none"]
    outdoor_steps: YesNo
    shape: str
    cold_kind: Literal["cold", "mild", "cool", "after_warmth", "none"]
    cold_need: Literal["required", "optional", "none"]
    ends: str
    moist_days: float | None
    already_cold: Literal["none", "part", "enough"]
    begun: YesNo
    may_wait: YesNo
    wet: YesNo
    sow_far: YesNo
    cold_behind: YesNo
    spare_days: float | None
    hold_covers: YesNo
    season_far: YesNo
    longer_wanted: YesNo
    lost_days: Literal["no", "coat", "order", "not_needed"]
    open_cold: Literal["none", "part", "enough"]
    indoors_sooner: YesNo
    undried: Undried
    then_outdoors: YesNo
    winter_met: YesNo
    sown_said: Literal["early", "spring", "summer", "autumn", "either", "no"]
    sown_when: Literal["early", "spring", "summer", "autumn", "either", "frost_free"]
    span_taken: Literal["long", "middle", "short"]


class ScheduleFacts(TypedDict):
    """What the calendar says of one treatment."""

    hold_known: YesNo
    hold_frozen: YesNo
    hold_over: YesNo
    winter_left: YesNo
    date_assumed: YesNo
    sow_season: Literal["open", "late", "off"]
    sow_time: Literal["early", "spring", "summer", "late_summer", "autumn"]
    frost_after: YesNo
    short_summer: YesNo
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
    roots_grow: YesNo
    cold_share: float | None
    treatment_found: Literal["yes", "possible", "no"]
    figure_of: Literal["treatment", "kind", "none"]
    left_out: YesNo
    up_state: Literal["waiting", "due", "late"]
    up_by: Literal["season", "weeks"]
    fails_growing: YesNo
    warmth_said: YesNo
    sow_noted: YesNo
    own_soak: YesNo


class LotPlanFacts(
    RecordFacts,
    KinFacts,
    LotFacts,
    StateFacts,
    TestFacts,
    SizeFacts,
    TreatmentFacts,
    ScheduleFacts,
    ChosenFacts,
):
    """All facts on which the plan of a lot rests."""


class StepFacts(TypedDict):
    """What one step of a treatment is."""

    do: str
    step_ends: str
    step_short: YesNo
    step_noted: YesNo


class RipeningFacts(TypedDict):
    """How far the day of a step lies from the ripening of the seed."""

    step_in_season: YesNoUnknown
    step_later: YesNo


class HazardFacts(TypedDict):
    """What one hazard of a record is."""

    hazard_kind: str


class TrialFacts(TypedDict):
    """What the calendar leaves for a trial."""

    trial_time: Literal["long", "middle", "short", "cold_only", "wait", "growing"]


class ArmFacts(TypedDict):
    """Which part of a trial is looked at."""

    arm: Literal["pot", "sequence", "cold", "warm", "warm_now", "damp", "dry"]
    beside_sequence: YesNo


class GroundFacts(TypedDict):
    """What is known once the day is planned on which it is sown."""

    rests: Literal["warm", "none", "next_spring", "winter", "summer_winter", "two_winters"]
    sown_growing: YesNo


class NoteFacts(TypedDict):
    """What is known once the plan is made: for the notes."""

    count_assumed: Literal["yes", "no", "wanted"]
    moisture_assumed: YesNo
    out_of_season: YesNo
    had_days: YesNo
    break_alone: YesNo
    date_moved: YesNo
    autumn_serves: YesNo
    frost_odd: YesNo
    place_odd: YesNo
    age_odd: YesNo
    fresh_stored: YesNo
    days_past_hold: float | None
    date_past: YesNoUnknown
    ready_late: YesNo
    years_off: float
    up_apart: YesNo
    now_ready: Literal["yes", "late", "no"]
    sown_to_come: YesNo
    outdoor_late: YesNo
    days_to_date: float | None
    date_kept: YesNo
    rooted_part: YesNo
    days_of_whole: YesNo
    collected_said: YesNo
    months_since_shed: float | None
    date_from_frost: YesNo
    frost_usual: YesNo
    room_lacking: YesNo
    size_known: YesNo


class TroubleFacts(TypedDict):
    """A trouble that somebody tells of, and how far the lot is."""

    trouble: Literal["smell", "mould", "sprouts", "dry", "temperature", "grubs", "nothing", "bare"]
    seed_ready: YesNoUnknown
    sprouts_moist: YesNo
    warm_break: BreakCosts


class ChoiceFacts(TypedDict):
    """What a kind is, and how long ago it was gathered, before it is offered."""

    moist_stages: float
    opens_coat: YesNo
    ripe_now: YesNo
    life_passed: YesNo


FACTS: tuple[Any, ...] = (
    *(UntoldFacts, LotPlanFacts, StepFacts, RipeningFacts, HazardFacts, TrialFacts, ArmFacts, GroundFacts),
    *(NoteFacts, TroubleFacts, ChoiceFacts),
)
