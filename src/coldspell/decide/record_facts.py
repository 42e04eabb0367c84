"""Facts that stand in the records: of a kind, its genus or its relatives."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from coldspell.decide.bears import bears_drying, chilling_injures, kept_cold
from coldspell.decide.facts import UNKNOWN, yes
from coldspell.decide.knowledge import Knowledge
from coldspell.decide.practice import Practice
from coldspell.records.model import Storage
from coldspell.rules import RuleBook

if TYPE_CHECKING:
    from coldspell.decide.names.closed import YesNo, YesNoUnknown
    from coldspell.decide.names.facts import RecordFacts


def record_facts(knowledge: Knowledge, book: RuleBook, practice: Practice) -> RecordFacts:
    """Facts that stand in the records."""
    asked_with, found = knowledge.once(
        "record facts", lambda: (book, _record_facts(knowledge, book, practice))
    )
    return found if asked_with is book else _record_facts(knowledge, book, practice)


def _record_facts(knowledge: Knowledge, book: RuleBook, practice: Practice) -> RecordFacts:
    record = knowledge.record
    storage, dormancy = knowledge.value("storage"), knowledge.value("dormancy")
    germination, offspring = knowledge.value("germination"), knowledge.value("offspring")
    sowing, handling = knowledge.value("sowing"), knowledge.value("handling")
    return {
        "known": knowledge.known(),
        "mixed_genus": yes(knowledge.mixed),
        "by_season": yes(knowledge.season),
        "family": _listed(book, "family", record.family or UNKNOWN),
        "plant": record.plant,
        "rank": record.rank,
        "unit": record.unit,
        "shows": _shows(knowledge),
        "sold_as_food": yes(knowledge.value("sold_as_food")),
        "size": knowledge.value("size") or UNKNOWN,
        "behaviour": storage.behaviour if storage else UNKNOWN,
        "dormancy": dormancy.class_ if dormancy else UNKNOWN,
        "root_first": yes((dormancy and dormancy.epicotyl) or (germination and germination.root_first)),
        "flesh": _flesh(knowledge),
        "light": (germination and germination.light) or UNKNOWN,
        "sown_on": (sowing and sowing.light) or UNKNOWN,
        "ground": (sowing and sowing.ground) or "drained",
        "acid": yes(sowing and sowing.acid),
        "pricked_out": yes(sowing is None or sowing.pricked_out is not False),
        "in_place": yes(sowing and sowing.in_place),
        "laid": (sowing and sowing.laid) or "side",
        "kept_cold": yes(kept_cold(knowledge, practice)),
        "tender": yes((sowing and sowing.tender) or chilling_injures(knowledge, practice)),
        "ripens": _ripens(knowledge, practice),
        "keeps": _keeps(storage, practice),
        "often_empty": _often_empty(knowledge, practice),
        "cutting": "too_fine" if _too_fine(knowledge, practice) else "knife",
        "chilling_injures": yes(chilling_injures(knowledge, practice)),
        "bears_drying": bears_drying(knowledge, practice),
        "true_to_type": (offspring and offspring.true_to_type) or UNKNOWN,
        "variety_named": yes(knowledge.found.variety),
        "offspring_use": (offspring and offspring.use) or UNKNOWN,
        "sexes": (offspring and offspring.sexes) or UNKNOWN,
        "sexes_said": yes(offspring and offspring.says_sexes),
        "gloves_said": yes(any(h.gloves for h, _ in knowledge.hazards())),
        "hybridises": yes(offspring and offspring.hybridises),
        "autumn_sown": UNKNOWN if sowing is None or sowing.autumn is None else yes(sowing.autumn),
        "germ_low": germination.celsius.low if germination and germination.celsius else None,
        "germ_high": germination.celsius.high if germination and germination.celsius else None,
        "sow_deep": sowing.depth_mm.high if sowing and sowing.depth_mm else None,
        "sow_min": sowing.celsius_min.low if sowing and sowing.celsius_min else None,
        "sow_max": sowing.celsius_max.high if sowing and sowing.celsius_max else None,
        "poison": _harm_to(knowledge, ("poison", "cyanide")),
        "harm_to": _harm_to(knowledge, None),
        "warned": yes(knowledge.hazards()),
        "deadly": yes(any(h.deadly for h, _ in knowledge.hazards())),
        "cyanide": yes(any(h.kind == "cyanide" and h.to == "people" for h, _ in knowledge.hazards())),
        "one_layer": yes(handling and handling.one_layer),
        "no_soak": yes(handling and handling.no_soak),
        "surface_dry": yes(handling and handling.surface_dry),
        "counts_as_cold": (handling and handling.counts_as_cold) or "usual",
        "bulk_class": bulk.class_ if (bulk := knowledge.value("bulk")) else UNKNOWN,
        "harms_skin": _warns(knowledge, "skin"),
        "allergy": _warns(knowledge, "allergy"),
    }


def _shows(knowledge: Knowledge) -> Literal["soil", "tests", "no"]:
    """Of what the record says how soon seedlings show."""
    soil, tests = knowledge.value("emergence"), knowledge.value("germination")
    if soil is not None and soil.days is not None:
        return "soil"
    return "tests" if tests is not None and tests.days is not None else "no"


def _listed(book: RuleBook, fact: str, value: str) -> str:
    return value if value in book.facts[fact].values else "other"


Flesh = Literal["pulp", "husk", "wings", "none"]
_FLESH: tuple[tuple[str, Flesh], ...] = (
    ("remove_pulp", "pulp"),
    ("ferment", "pulp"),
    ("remove_husk", "husk"),
    ("remove_wings", "wings"),
)


def _flesh(knowledge: Knowledge) -> Flesh:
    harvest = knowledge.value("harvest")
    cleaning = harvest.cleaning if harvest else ()
    for step, flesh in _FLESH:
        if step in cleaning:
            return flesh
    return "none"


def _ripens(knowledge: Knowledge, practice: Practice) -> Literal["spring", "early", "late", "unknown"]:
    harvest = knowledge.value("harvest")
    if harvest is None or harvest.months is None:
        return UNKNOWN
    first, last = harvest.months
    if not practice.early_months[0] <= first <= last <= practice.early_months[1]:
        return "late"
    return "spring" if last <= practice.spring_month else "early"


def _keeps(storage: Storage | None, practice: Practice) -> Literal["weeks", "years", "unknown"]:
    if storage is None or storage.years is None:
        return UNKNOWN
    return "weeks" if storage.years.high <= practice.weeks_only_years else "years"


def _often_empty(knowledge: Knowledge, practice: Practice) -> YesNoUnknown:
    filled = knowledge.value("filled_percent")
    return UNKNOWN if filled is None else yes(filled.value.low < practice.often_empty_percent)


def _too_fine(knowledge: Knowledge, practice: Practice) -> bool:
    """Whether seed cannot be cut: the record says so, or it is fine or as light as dust (common practice)."""
    live, per_kg = knowledge.value("live_seed"), knowledge.value("seeds_per_kg")
    if per_kg is not None and per_kg.value.low > practice.cut_seeds_per_kg:
        return True
    return bool(live and live.cannot_be_cut) or knowledge.value("size") == "fine"


def _warns(knowledge: Knowledge, kind: str) -> YesNo:
    return yes(any(h.kind == kind for h, _ in knowledge.hazards()))


def _harm_to(
    knowledge: Knowledge, kinds: tuple[str, ...] | None
) -> Literal["people", "animals", "both", "none"]:
    """Whom the hazards of the record harm: those of some kinds, or all."""
    to = {h.to for h, _ in knowledge.hazards() if kinds is None or h.kind in kinds}
    if len(to) == 2:
        return "both"
    return "people" if "people" in to else "animals" if "animals" in to else "none"
