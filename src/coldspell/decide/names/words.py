"""The placeholders that the program fills in."""

# Without postponed annotations: so many texts would be compiled to types at every start.

from typing import Any, TypedDict


class KindWords(TypedDict):
    """Words that depend on the kind and the lot alone."""

    gap: str
    layer: str
    near_freezing: str
    soak_time: str
    depth: str
    sow_cool: str
    sow_least: str
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
    in_autumn: str
    from_now: str
    mix_depth: str
    pit_area: str
    pit_depth_range: str
    pit_layer: str
    sow_area: str
    seedbed_area: str
    broadcast_area: str
    bed_area: str


class SeasonWords(TypedDict):
    """Words for when it comes up, and for the next season."""

    up_when: str
    outdoors_on: str
    sown_day: str
    failed_day: str
    next_start: str
    next_spring: str


class TestWords(TypedDict):
    """Words for testing seed, and for what its tests can mean."""

    live_look: str
    dead_look: str
    tell_live: str
    pinch: str
    paper_warm: str
    paper_days: str
    read_day: str
    batch: str
    none_means: str
    fill: str
    cut_found: str
    for_ten: str
    short_treatment: str
    short_from: str
    how_deep: str
    again_means: str


class HomeWords(TypedDict):
    """Words for the one temperature of a home refrigerator."""

    fridge: str
    share: str
    cold_on_record: str
    days_at_home: str


class WhatIfWords(HomeWords):
    """Words for what may happen meanwhile."""

    fridge_warm: str
    no_cold: str
    pot_cold: str
    pot_cool: str
    bare_day: str


class TreatmentWords(SeasonWords):
    """Words that depend on the treatment and its dates."""

    cold_range: str
    held_at: str
    sow_warm: str
    cold_length: str
    warm_length: str
    rest_length: str
    total_length: str
    sow_date: str
    said_date: str
    ready_day: str
    sow_when: str
    plant_when: str
    shoot_cold: str
    most_by: str
    start_late: str
    sow_late: str
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
    usual_frost: str
    frost_days: str
    ready_now: str
    collected: str
    kept_since: str
    broken: str
    space_needed: str
    float_found: str
    space_had: str
    room_for: str


class TrialWords(TypedDict):
    """Words for seed of which no record tells, and for trials."""

    kin_names: str
    kept_back: str
    kin_cold_days: str
    kin_cold_some: str
    hedge_seeds: str
    hedge_from: str
    hedge_to: str
    back_until: str
    trial_warm: str
    trial_cold: str
    warm_country: str
    trial_seeds: str
    season_month: str
    season_answer: str
    season_says: str


WORDS: tuple[Any, ...] = (TrialWords, KindWords, TestWords, WhatIfWords, TreatmentWords, StepWords, NoteWords)
