"""From a lot and what is known of its kind to the facts that the rules ask for."""

from __future__ import annotations

from datetime import date

from coldspell.arithmetic.samples import clopper_pearson
from coldspell.library.model import Record, Storage
from coldspell.recipe import practice
from coldspell.recipe.candidate import Candidate
from coldspell.recipe.dates import Schedule, outdoor_day
from coldspell.recipe.lot import Lot
from coldspell.recipe.topics import Knowledge
from coldspell.rules import RuleBook
from coldspell.rules.model import FactValue

Facts = dict[str, FactValue]
UNKNOWN = "unknown"


def yes(value: object) -> str:
    """``yes`` or ``no``."""
    return "yes" if value else "no"


def record_facts(knowledge: Knowledge, book: RuleBook) -> Facts:
    """Facts that stand in the records."""
    record = knowledge.record
    storage, dormancy = knowledge.value("storage"), knowledge.value("dormancy")
    germination, offspring = knowledge.value("germination"), knowledge.value("offspring")
    killed, sowing = knowledge.value("killed_by"), knowledge.value("sowing")
    return {
        "known": knowledge.known(),
        "mixed_genus": yes(knowledge.mixed),
        "genus": _listed(book, "genus", record.name.removeprefix("×").strip().split(" ")[0]),
        "family": _listed(book, "family", record.family),
        "plant": record.plant,
        "unit": record.unit,
        "size": knowledge.value("size") or UNKNOWN,
        "behaviour": storage.behaviour if storage else UNKNOWN,
        "dormancy": dormancy.class_ if dormancy else UNKNOWN,
        "root_first": yes((dormancy and dormancy.epicotyl) or (germination and germination.root_first)),
        "flesh": _flesh(knowledge),
        "light": (germination and germination.light) or UNKNOWN,
        "ripens": _ripens(knowledge),
        "keeps": _keeps(storage),
        "often_empty": _often_empty(knowledge),
        "chilling_injures": yes(killed and killed.chilling_celsius and killed.chilling_celsius.high >= 4),
        "true_to_type": (offspring and offspring.true_to_type) or UNKNOWN,
        "offspring_use": (offspring and offspring.use) or UNKNOWN,
        "sexes": (offspring and offspring.sexes) or UNKNOWN,
        "hybridises": yes(offspring and offspring.hybridises),
        "autumn_sown": UNKNOWN if sowing is None or sowing.autumn is None else yes(sowing.autumn),
        "germ_low": germination.celsius.low if germination and germination.celsius else None,
        "sow_deep": sowing.depth_mm.high if sowing and sowing.depth_mm else None,
        "sow_max": sowing.celsius_max.high if sowing and sowing.celsius_max else None,
        **_hazard_facts(knowledge),
    }


def lot_facts(lot: Lot) -> Facts:
    """Facts that the grower said, defaults filled in."""
    cleaned = lot.moisture == "dried" or lot.gathered == "bought" or lot.lain_moist
    pulp = "no" if lot.pulp == UNKNOWN and cleaned else lot.pulp
    facts: Facts = {
        "sure": yes(lot.sure),
        "pulp": pulp,
        "had_cold": yes(lot.cold_days_done),
        "lain_moist": yes(lot.lain_moist),
        "cut_seeds": lot.cut[1] if lot.cut else None,
        "rooted": "none" if not lot.rooted else "most" if lot.mostly_rooted else "some",
        "children": yes(lot.children),
        "animals": yes(lot.animals),
        "audience": "professional" if lot.professional else "public",
        "material_named": yes(lot.media),
    }
    for name in (
        "moisture",
        "stored_years",
        "seeds",
        "days_dry",
        "shell",
        "gathered",
        "frozen",
        "heated",
        "root_mm",
        "mould",
        "soft",
        "holes",
        "smell",
        "swollen",
        "refrigerator",
        "fridge_celsius",
        "winter",
        "origin",
        "grow_in",
    ):
        facts[name] = getattr(lot, name)
    for name in ("vermiculite", "sand", "sawdust", "perlite", "peat", "coir", "sphagnum"):
        facts[f"has_{name}"] = yes(name in lot.media)
    return facts


def test_facts(lot: Lot, knowledge: Knowledge, today: date) -> Facts:
    """What the cut test, the float test and the time in store amount to.

    A lot whose years in store are not said is as old as the day it was gathered makes it.
    """
    storage = knowledge.value("storage")
    life = storage.years.plan if storage and storage.years else None
    since = max((today - lot.collected).days, 0) / practice.DAYS_PER_YEAR if lot.collected else 0.0
    kept = lot.stored_years or since
    facts: Facts = {
        "sound_percent": None,
        "sound_high": None,
        "float_percent": None,
        "life_used": min(100.0 * kept / life, 100_000.0) if life else None,
        "volume_lot": yes(lot.seeds > practice.VOLUME_LOT_SEEDS),
    }
    if lot.cut:
        sound, tested = lot.cut
        facts["sound_percent"] = 100.0 * sound / tested
        facts["sound_high"] = 100.0 * clopper_pearson(sound, tested)[1]
    if lot.float_test:
        facts["float_percent"] = 100.0 * lot.float_test[0] / lot.float_test[1]
    return facts


def candidate_facts(candidate: Candidate, schedule: Schedule, lot: Lot) -> Facts:
    """What was measured of one treatment for this lot."""
    does = {s.do for s in candidate.treatment.steps}
    outdoors = lot.refrigerator == "none" or candidate.shape == "sow_outdoors"
    begins = outdoor_day(lot, schedule.first, candidate.shape) if outdoors else schedule.plan.start
    return {
        "fits_lot": yes(candidate.fits_lot),
        "usable": yes(candidate.usable),
        "professional_step": candidate.professional_step,
        "outdoor_steps": yes(candidate.outdoors),
        "shape": candidate.shape,
        "cold_need": candidate.cold_need,
        "ends": candidate.ends,
        "moist_days": candidate.moist_days,
        "already_cold": candidate.already_cold,
        "hold_known": yes(candidate.treatment.hold),
        "held": yes(schedule.held),
        "sow_past": yes(schedule.target and schedule.target < schedule.first),
        "wait_days": float((begins - schedule.first).days),
        "hot_water_step": yes("scarify_hot_water" in does or "heat_bath" in does),
        "blade_step": yes("scarify_mechanical" in does or "crack_shell" in does),
        "regulator_step": yes("growth_regulator" in does),
        "days_spare": schedule.days_spare,
        "days_spare_short": schedule.days_spare_short,
    }


def nothing_chosen() -> Facts:
    """The facts of `candidate_facts` when no treatment is left."""
    return {
        "fits_lot": "no",
        "usable": "no",
        "professional_step": "none",
        "outdoor_steps": "no",
        "shape": "nothing",
        "cold_need": "none",
        "ends": "ready",
        "moist_days": None,
        "already_cold": "none",
        "hold_known": "no",
        "held": "no",
        "sow_past": "no",
        "wait_days": None,
        "hot_water_step": "no",
        "blade_step": "no",
        "regulator_step": "no",
        "days_spare": None,
        "days_spare_short": None,
    }


def soak_needed(candidate: Candidate | None, record: Record) -> str:
    """Which common soak fits dry seed of this kind."""
    if candidate and any(s.do in ("soak", "leach") for s in candidate.treatment.steps):
        return "in_treatment"
    if candidate and candidate.begun:
        return "none"
    if record.plant == "conifer":
        return "conifer"
    return {"nut": "nut", "acorn": "nut", "stone": "stone", "pip": "pip"}.get(record.unit, "none")


def _listed(book: RuleBook, fact: str, value: str) -> str:
    return value if value in book.facts[fact].values else "other"


def _flesh(knowledge: Knowledge) -> str:
    harvest = knowledge.value("harvest")
    cleaning = harvest.cleaning if harvest else ()
    for step, flesh in (
        ("remove_pulp", "pulp"),
        ("ferment", "pulp"),
        ("remove_husk", "husk"),
        ("remove_wings", "wings"),
    ):
        if step in cleaning:
            return flesh
    return "none"


def _ripens(knowledge: Knowledge) -> str:
    harvest = knowledge.value("harvest")
    if harvest is None or harvest.months is None:
        return UNKNOWN
    first, last = harvest.months
    if not practice.EARLY_MONTHS[0] <= first <= last <= practice.EARLY_MONTHS[1]:
        return "late"
    return "spring" if last <= practice.SPRING_MONTH else "early"


def _keeps(storage: Storage | None) -> str:
    if storage is None or storage.years is None:
        return UNKNOWN
    return "weeks" if storage.years.high <= practice.WEEKS_ONLY_YEARS else "years"


def _often_empty(knowledge: Knowledge) -> str:
    filled = knowledge.value("filled_percent")
    return UNKNOWN if filled is None else yes(filled.value.low < practice.OFTEN_EMPTY_PERCENT)


def _hazard_facts(knowledge: Knowledge) -> Facts:
    hazards = [h for h, _ in knowledge.hazards()]
    to = {h.to for h in hazards if h.kind in ("poison", "cyanide")}
    poison = "both" if len(to) == 2 else next(iter(to), "none")
    return {
        "poison": poison,
        "cyanide": yes(any(h.kind == "cyanide" and h.to == "people" for h in hazards)),
        "stains": yes(any(h.kind == "stains" for h in hazards)),
    }
