"""Numbers of common practice, as ``rules/practice.yaml`` gives them: used where no record says better."""

# Without postponed annotations: the kinds of the numbers are read off the annotations at every start.

from collections.abc import Mapping
from typing import Any

from msgspec import Struct

from coldspell.arithmetic.vessels import Packing
from coldspell.arithmetic.water import Sheet
from coldspell.records.model import Quantity
from coldspell.rules.model import Number

One = float
Pair = tuple[float, float]
Three = tuple[float, float, float]


class Practice(Struct, frozen=True, eq=False):
    """One field for each number; units are in the names, reasons and sources in the file.

    One is itself alone, so that what follows from it and a day can be kept by both.
    """

    cold_celsius: Pair
    warm_celsius: Pair
    hold_celsius: Pair
    sow_cool_celsius: One
    near_freezing_celsius: Pair
    chilling_celsius: One
    warm_kind_chilling_celsius: One
    three_months_days: Three
    no_cold_days: One
    hardly_dry_days: One
    growing_left_days: One
    crop_days: One
    season_ahead_days: One
    near_season_days: One
    season_lost_days: One
    age_slack_days: One
    whole_spring_days: One
    cut_in_all_seeds: One
    jar_litres: One
    kin_agree_species: One
    kin_cold_least_days: One
    kin_warm_least_days: One
    look_root_days: One
    keep_back_share: One
    trial_warm_days: Pair
    trial_cold_days: Pair
    trial_warm_celsius: Pair
    trial_cold_celsius: Pair
    warm_country_celsius: Pair
    hedge_half_share: One
    midsummer: Pair
    trial_half_year_days: One
    trial_weeks_days: One
    gap_mm: One
    layer_mm: Pair
    pot_depth_mm: Pair
    mesh_mm: Pair
    soak_nut_hours: Pair
    soak_stone_hours: Pair
    soak_pip_hours: Pair
    soak_conifer_hours: Pair
    soak_recalcitrant_hours: Pair
    root_nut_mm: Pair
    root_small_mm: Pair
    look_every_days: One
    look_weekly_days: One
    look_after_cleaning_days: One
    look_weekly_within_days: One
    look_weekly_from_share: One
    graft_nut_mm: Pair
    graft_other_mm: Pair
    graft_years: Pair
    sound_percent: Pair
    rot_percent: Pair
    plants_container_percent: Pair
    plants_bed_percent: Pair
    plants_site_percent: Pair
    width_fine_mm: One
    width_small_mm: One
    width_medium_mm: One
    width_large_mm: One
    width_unknown_mm: One
    depth_fine_mm: Pair
    depth_thick_share: Pair
    depth_thin_share: Pair
    depth_thick_from_mm: One
    volume_lot_seeds: One
    towel_seeds_per_sheet: One
    often_empty_percent: One
    root_more_days: One
    sown_all_percent: One
    sowing_opens: Pair
    sowing_closes: Pair
    growing_opens: Pair
    frost_free_opens: Pair
    early_sown_days: One
    summer_sown_opens: Pair
    summer_sown_closes: Pair
    summer_sown_latest: Pair
    autumn_sown_opens: Pair
    autumn_sown_closes: Pair
    growing_closes: Pair
    early_start_days: One
    late_up_days: One
    winter_least_days: One
    short_slack_days: One
    swell_days: One
    batch_days: One
    batch_first_seeds: One
    up_weeks_days: One
    up_annual_days: One
    season_near_days: One
    up_least_days: One
    early_months: Pair
    spring_month: One
    weeks_only_years: One
    moist_life_years: Pair
    winter_short_days: One
    winter_taken_days: One
    winter_taken_months: One
    winter_over: Pair
    wintered_wait_days: One
    idle_days: One
    dies_moist_percent: One
    cut_seeds_per_kg: One
    cut_most: One
    cut_share: One
    cut_most_empty: Pair
    mostly_empty_percent: One
    paper_celsius: Pair
    paper_days: One
    paper_untold_days: One
    pinch_seeds: One
    far_day_days: One
    rooted_wait_days: One
    batch_seeds: Pair
    batch_share: One
    aged_percent: Pair
    old_percent: Pair
    dried_percent: Pair
    left_out_percent: Pair
    lot_spread_points: Pair
    law_stale_days: One
    summer_closes: Pair
    late_autumn_opens: Pair
    late_autumn_closes: Pair
    late_autumn_least_days: One
    autumn_opens: Pair
    autumn_closes: Pair
    autumn_asked_months: Pair
    autumn_least_days: One
    bag_mm: Pair
    layers_share: One
    bag_small_mm: Pair
    bag_middle_mm: Pair
    jar_mm: Pair
    bucket_mm: Pair
    pit_depth_mm: Pair
    pit_layer_mm: Pair
    pit_winter_days: One
    pit_months: Pair
    mix_depth_mm: One
    counts_share: One
    pit_fill_mm: One
    many_bags: One
    bulk_box_mm: Three
    kernel_share: One
    broadcast_per_m2: One
    broadcast_fine_per_m2: One
    broadcast_medium_per_m2: One
    broadcast_large_per_m2: One
    bed_nuts_per_m2: One
    seedbed_plants_per_m2: One
    seedbed_seeds_per_m2: One
    tray_seed_mm2: One
    tray_depth_mm: One
    tray_litres: One
    roll_litres: One
    least_litres: One
    netted_least_litres: One
    netted_base_share: One
    fridge_warm_celsius: One
    no_cold_celsius: One
    pot_cold_celsius: Pair
    pot_cool_celsius: Pair
    bare_days: One
    up_apart_days: One
    bare_quick_days: One
    bare_times: Pair
    bare_least_days: One
    trouble_soon_days: One
    trouble_month_days: One
    caller_odds: Three
    caller_way_weight: One
    caller_doubt_weight: One
    caller_treatment_weight: One
    caller_day_weight: One
    caller_moved_days: One
    caller_days_dry: Pair
    caller_stored_years: One
    caller_cold_days: One
    choose_unwatered_days: One
    choose_soon_days: One
    bag_fill_parts: Pair
    box_fill_share: One
    layers_most_seeds: One
    sheet_mm: Pair
    sheet_ml: Pair
    sheet_most_seeds: One
    sheets_per_roll: One
    next_lot_record_seeds: One
    next_lot_seeds: One
    log_hot_celsius: One
    log_short_hours: One
    log_stuck_days: One
    log_spike_degrees: Pair
    undated_ahead_days: One

    @property
    def packing(self) -> Packing:
        """How containers are filled."""
        parts = self.bag_fill_parts
        return Packing(
            parts[0] / parts[1],
            self.box_fill_share,
            self.layer_mm[0],
            int(self.layers_most_seeds),
            self.mix_depth_mm,
        )

    @property
    def sheet(self) -> Sheet:
        """A paper towel."""
        (across, along), (low, high) = self.sheet_mm, self.sheet_ml
        return Sheet(
            (float(across), float(along)),
            int(self.sheet_most_seeds),
            (float(low), float(high)),
            int(self.sheets_per_roll),
        )

    def usual_celsius(self, do: str) -> Quantity | None:
        """The usual temperature of a step, where practice knows one."""
        span = {"cold_moist": self.cold_celsius, "warm_moist": self.warm_celsius}.get(do)
        return None if span is None else Quantity(*span)


LENGTHS: dict[object, int] = {One: 1, Pair: 2, Three: 3}


def practice_of(numbers: Mapping[str, Number]) -> Practice:
    """The numbers of a rule book that was held against the contract."""
    single = {name for name, kind in Practice.__annotations__.items() if kind is One}
    values: dict[str, Any] = {
        name: float(number.value[0]) if name in single else number.value for name, number in numbers.items()
    }
    return Practice(**values)
