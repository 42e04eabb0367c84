"""From a lot, its tests and its treatments to the facts that the rules ask for; see also `record_facts`."""

from __future__ import annotations

from datetime import date
from functools import lru_cache
from typing import TYPE_CHECKING, Literal

from msgspec import Struct

from coldspell.arithmetic.calendar import add_days, total_days
from coldspell.arithmetic.samples import clopper_pearson
from coldspell.decide.bears import chilling_injures
from coldspell.decide.knowledge import Knowledge
from coldspell.decide.practice import Practice
from coldspell.decide.schedule import Schedule, Season, outdoor_day
from coldspell.decide.sowing_season import SowingSeason, SowTime, is_early, sowing_season
from coldspell.decide.state import autumn_of, frost_ahead, is_growing, short_of_summer
from coldspell.decide.treatment import Candidate
from coldspell.lot.lot import Lot
from coldspell.records.do import COLD, MOIST
from coldspell.records.model import Treatment

if TYPE_CHECKING:
    from coldspell.decide.names.closed import YesNo
    from coldspell.decide.names.facts import LotFacts, ScheduleFacts, TestFacts, TreatmentFacts
    from coldspell.records.terms import SownIn

UNKNOWN: Literal["unknown"] = "unknown"
DAYS_PER_YEAR = 365.25


def yes(value: object) -> YesNo:
    """``yes`` or ``no``."""
    return "yes" if value else "no"


def lot_facts(lot: Lot, *, shut: bool, sour: bool) -> LotFacts:
    """Facts that the grower said, defaults filled in.

    Behind a ``shut`` coat nothing has lain moist; what smells ``sour`` has.
    """
    cleaned = lot.moisture == "dried" or lot.gathered == "bought" or lot.lain_moist
    pulp = "no" if lot.pulp == UNKNOWN and cleaned else lot.pulp
    return {
        "sure": yes(lot.sure),
        "pulp": pulp,
        "had_cold": yes(lot.cold_days_done),
        "lain_moist": yes((lot.lain_moist or sour) and not shut),
        "cut_seeds": lot.cut[1] if lot.cut else None,
        "rooted_percent": 100 * min(lot.rooted, lot.seeds) / lot.seeds,
        "rooted": "none" if not lot.rooted else "most" if lot.mostly_rooted else "some",
        "children": yes(lot.children),
        "animals": yes(lot.animals),
        "audience": "professional" if lot.professional else "public",
        "material_named": yes(lot.media),
        "has_vermiculite": yes("vermiculite" in lot.media),
        "has_sand": yes("sand" in lot.media),
        "has_sawdust": yes("sawdust" in lot.media),
        "has_perlite": yes("perlite" in lot.media),
        "has_peat": yes("peat" in lot.media),
        "has_coir": yes("coir" in lot.media),
        "has_sphagnum": yes("sphagnum" in lot.media),
        "has_paper": yes("paper" in lot.media),
        "moisture": lot.moisture,
        "stored_years": lot.stored_years,
        "seeds": lot.seeds,
        "days_dry": lot.days_dry,
        "shell": lot.shell,
        "gathered": lot.gathered,
        "frozen": lot.frozen,
        "heated": lot.heated,
        "root_mm": lot.root_mm,
        "mould": lot.mould,
        "soft": lot.soft,
        "holes": lot.holes,
        "smell": lot.smell,
        "swollen": lot.swollen,
        "refrigerator": lot.refrigerator,
        "fridge_celsius": lot.fridge_celsius,
        "winter": lot.winter,
        "origin": lot.origin,
        "grow_in": lot.grow_in,
    }


def test_facts(lot: Lot, knowledge: Knowledge, today: date, practice: Practice) -> TestFacts:
    """What the cut test, the float test and the time in store amount to.

    A lot whose years in store are not said is as old as the day it was gathered makes it. What dies dry and
    has no life on record lives as long as common practice gives it.
    """
    storage = knowledge.value("storage")
    life = storage.years.plan if storage and storage.years else None
    if life is None and storage is not None and storage.behaviour == "recalcitrant":
        life = practice.moist_life_years[0 if chilling_injures(knowledge, practice) else 1]
    since = max((today - lot.collected).days, 0) / DAYS_PER_YEAR if lot.collected else 0.0
    kept = lot.stored_years or since
    facts: TestFacts = {
        "sound_percent": None,
        "sound_high": None,
        "all_cut": yes(lot.cut and lot.cut[1] >= lot.seeds),
        "fill_met": UNKNOWN,
        "float_percent": None,
        "life_used": min(100.0 * kept / life, 100_000.0) if life else None,
    }
    if lot.cut:
        sound, tested = lot.cut
        facts["sound_percent"] = 100.0 * sound / tested
        facts["sound_high"] = 100.0 * clopper_pearson(sound, tested)[1]
        filled = knowledge.value("filled_percent")
        if filled is not None:
            facts["fill_met"] = yes(facts["sound_high"] >= filled.value.low)
    if lot.float_test:
        facts["float_percent"] = 100.0 * lot.float_test[0] / lot.float_test[1]
    return facts


@lru_cache(maxsize=4096)
def treatment_facts(
    candidate: Candidate,
    asked: date | None,
    first: date,
    season: SowingSeason,
    rest: TreatmentContext,
    practice: Practice,
) -> TreatmentFacts:
    """What was measured of one treatment for a lot, before it is dated to the day ``asked`` for."""
    planned = total_days(candidate.timed)[1]
    ready = add_days(first, planned)
    least = add_days(first, total_days(candidate.timed)[0] - int(practice.short_slack_days))
    target = season.day_for(ready) if asked is None or asked < max(first, least) else asked
    after, hold = (target - ready).days, candidate.hold_days
    most = practice.wintered_wait_days if hold is None else max(hold, practice.wintered_wait_days)
    return {
        "fits_lot": yes(candidate.fits_lot),
        "usable": yes(candidate.usable),
        "professional_step": candidate.professional_step,
        "outdoor_steps": yes(candidate.outdoors),
        "shape": candidate.shape,
        "cold_kind": _cold_kind(candidate.treatment, practice),
        "cold_need": candidate.cold_need,
        "ends": candidate.ends,
        "moist_days": candidate.moist_days,
        "already_cold": candidate.already_cold,
        "begun": yes(candidate.begun),
        "may_wait": yes(candidate.may_wait),
        "wet": yes((rest.moist and candidate.lost_days != "coat") or rest.wet),
        "sow_far": yes(after > most),
        "cold_behind": yes(rest.cold_behind),
        "spare_days": float(max(after, 0)),
        "hold_covers": yes(hold is None or after <= hold),
        "season_far": yes((season.day_for(ready) - ready).days > most),
        "longer_wanted": yes(rest.longer_wanted),
        "lost_days": candidate.lost_days,
        "open_cold": rest.open_cold,
        "then_outdoors": yes(candidate.then_outdoors),
        "winter_met": "no",
        "indoors_sooner": yes(rest.indoors_sooner),
        "undried": rest.undried,
        "sown_said": sown_said(candidate.treatment),
        "sown_when": "spring",
        "span_times": None,
        "long_costs_year": "no",
        "span_taken": "long",
    }


def sown_said(treatment: Treatment) -> Literal["early", "spring", "summer", "autumn", "either", "no"]:
    """The season in which the record has it sown."""
    said: SownIn | None = next((s.season for s in treatment.steps if s.do == "sow" and s.season), None)
    return said or "no"


class TreatmentContext(Struct, frozen=True):
    """What the facts of one treatment take from the others and from the lot."""

    cold_behind: bool
    longer_wanted: bool
    moist: bool
    """Whether the lot lies moist, behind whatever coats."""
    wet: bool
    """Whether it has swollen, or some of it has and no hard coat kept the others dry."""
    open_cold: Literal["none", "part", "enough"]
    indoors_sooner: bool
    """Whether another treatment, indoors from today, comes a spring sooner than a sowing outdoors."""
    undried: Literal["no", "same", "other"]
    """Whether it is for seed that never dried, and what the lot would get once dried: other spells?"""


def schedule_facts(
    candidate: Candidate,
    schedule: Schedule,
    lot: Lot,
    season: Season,
    practice: Practice,
    kept_months: float | None,
) -> ScheduleFacts:
    """What the calendar says of one treatment for this lot."""
    does = {s.do for s in candidate.treatment.steps}
    no_place = lot.refrigerator == "none" and candidate.cold_need != "none"
    outdoors = no_place or candidate.outdoor_sowing
    begins = outdoor_day(lot, schedule.first, season) if outdoors else schedule.plan.start
    hold = candidate.hold_days
    return {
        "hold_known": yes(hold),
        "hold_frozen": yes(_held_below_freezing(candidate.treatment)),
        "hold_over": yes(hold and kept_months and kept_months * DAYS_PER_YEAR / 12 > hold),
        "date_assumed": yes(schedule.assumed),
        "sow_season": _sow_season(schedule, practice, lot),
        "frost_after": yes(frost_ahead(lot, _sown_on(schedule), practice)),
        "short_summer": yes(short_of_summer(lot, _sown_on(schedule), practice)),
        "sow_time": _sow_time(schedule, practice),
        "held": yes(schedule.held),
        "sow_past": yes(schedule.asked and schedule.asked < schedule.first),
        "winter_left": yes(
            outdoor_day(lot, schedule.first, season) == schedule.first
            and autumn_of(schedule.first, practice, southern=lot.southern) != "now"
        ),
        "wait_days": float((begins - schedule.first).days),
        "hot_water_step": yes("scarify_hot_water" in does or "heat_bath" in does),
        "blade_step": yes("scarify_mechanical" in does or "crack_shell" in does),
        "regulator_step": yes("growth_regulator" in does),
        "days_spare": schedule.days_spare,
        "days_spare_short": schedule.days_spare_short,
    }


def _held_below_freezing(treatment: Treatment) -> bool:
    """Whether its record has it wait in a cold that no refrigerator gives."""
    held = treatment.hold.celsius if treatment.hold is not None else None
    return held is not None and held.high < 0


def _sown_on(schedule: Schedule) -> date:
    return schedule.target or schedule.plan.ready


def _sow_time(schedule: Schedule, practice: Practice) -> SowTime:
    """In which season the day lies on which it is sown."""
    day, season = _sown_on(schedule), schedule.season
    if is_early(season, day, practice):
        return "early"
    return season.time_of(day) if season else "spring"


def _sow_season(schedule: Schedule, practice: Practice, lot: Lot) -> Literal["open", "late", "off"]:
    """Whether a growing season lies before the day on which it is sown, or the end of one."""
    day, season = _sown_on(schedule), schedule.season or sowing_season(practice, lot)
    close = season.day_for(day)
    if close <= day or lot.winter == "none":
        return "open"
    if not is_growing(day, practice, southern=lot.southern):
        return "open" if is_early(season, day, practice) else "off"
    return "open" if (close - day).days < practice.near_season_days else "late"


def _cold_kind(
    treatment: Treatment, practice: Practice
) -> Literal["cold", "mild", "cool", "after_warmth", "none"]:
    """What its cold is: that of a refrigerator, milder, only cool, or one that warmth comes before."""
    moist = [step.do for step in treatment.steps if step.do in MOIST]
    cold = [do for do in moist if do in COLD]
    if not cold:
        return "none"
    if "cold_moist" not in cold:
        return "cool" if moist[0] in COLD else "after_warmth"
    if moist[0] != "cold_moist":
        return "after_warmth"
    degrees = (s.celsius.high for s in treatment.steps if s.do == "cold_moist" and s.celsius)
    return "mild" if max(degrees, default=0.0) > practice.fridge_warm_celsius else "cold"


NO_TREATMENT: TreatmentFacts = {
    "fits_lot": "no",
    "usable": "no",
    "professional_step": "none",
    "outdoor_steps": "no",
    "shape": "nothing",
    "cold_kind": "none",
    "cold_need": "none",
    "ends": "ready",
    "moist_days": None,
    "already_cold": "none",
    "begun": "no",
    "may_wait": "no",
    "wet": "no",
    "sow_far": "no",
    "cold_behind": "no",
    "spare_days": None,
    "hold_covers": "no",
    "season_far": "no",
    "longer_wanted": "no",
    "lost_days": "no",
    "open_cold": "none",
    "indoors_sooner": "no",
    "undried": "no",
    "then_outdoors": "no",
    "winter_met": "no",
    "sown_said": "no",
    "sown_when": "spring",
    "span_times": None,
    "long_costs_year": "no",
    "span_taken": "long",
}
NO_SCHEDULE: ScheduleFacts = {
    "hold_known": "no",
    "hold_frozen": "no",
    "hold_over": "no",
    "date_assumed": "no",
    "sow_season": "open",
    "sow_time": "spring",
    "frost_after": "no",
    "short_summer": "no",
    "held": "no",
    "sow_past": "no",
    "winter_left": "no",
    "wait_days": None,
    "hot_water_step": "no",
    "blade_step": "no",
    "regulator_step": "no",
    "days_spare": None,
    "days_spare_short": None,
}
"""The facts of a treatment and its dates when none is left."""


FigureOf = Literal["treatment", "kind", "none"]


def figure_of(chosen: Candidate | None, knowledge: Knowledge) -> FigureOf:
    """What the sprouting figure on record was seen of: this treatment, the kind, or nothing that fits.

    A record gives the figure of the kind for the treatment that it puts first; of another one nobody counted
    it. Of a treatment that lost a spell it is that of the whole; the rules take off what the spell gives.
    """
    if chosen is None:
        return "none"
    if chosen.treatment.percent is not None:
        return "treatment"
    germination, treatments = knowledge.value("germination"), knowledge.treatments()
    if germination is None or germination.percent is None or not treatments:
        return "none"
    return "kind" if chosen.treatment.name == treatments[0][0].name else "none"
