"""What seed of a kind bears, where its record does not say it outright: drying, and a refrigerator."""

from __future__ import annotations

from typing import TYPE_CHECKING

from coldspell.decide.knowledge import Knowledge
from coldspell.decide.practice import Practice
from coldspell.decide.state import wants_warmth
from coldspell.decide.treatment import shape_of
from coldspell.records.do import COLD

if TYPE_CHECKING:
    from coldspell.decide.names.facts import BearsDrying

_HARD = ("physical", "combinational")
_HERBS = ("annual", "perennial", "grass")
_SOWN = ("sow", "soak_and_sow", "sow_outdoors", "warm")


def bears_drying(knowledge: Knowledge, practice: Practice) -> BearsDrying:
    """Whether seed of the kind may be dried to wait: by its storage behaviour, else by what it looks like.

    Where nobody tested it, seed of herbs and small clean seed of woody plants is taken to bear it, as is
    common practice: what dies dry is mostly large moist seed of trees. What its record has sown fresh, and
    seed of herbs with an embryo that grows in warmth, is not.
    """
    storage, killed = knowledge.value("storage"), knowledge.value("killed_by")
    if storage is not None:
        return "yes" if storage.behaviour == "orthodox" else "no"
    dry = killed.moisture_percent_below if killed else None
    if dry is not None and dry.low >= practice.dies_moist_percent:
        return "no"
    if killed is not None and killed.drying:
        return "no"
    return "no" if _sown_fresh(knowledge) or _looks_moist(knowledge, practice) else "likely"


def chilling_injures(knowledge: Knowledge, practice: Practice) -> bool:
    """Whether a refrigerator injures it, by its record or as what dies dry and is known from warmth."""
    killed, storage = knowledge.value("killed_by"), knowledge.value("storage")
    if killed and killed.chilling_celsius:
        return bool(killed.chilling_celsius.high >= practice.chilling_celsius)
    if storage is None or storage.behaviour != "recalcitrant" or not _warm_only(knowledge, practice):
        return False
    sowing = knowledge.value("sowing")
    kept_cold = storage.celsius is not None and storage.celsius.low < practice.no_cold_celsius
    return not kept_cold and not (sowing and sowing.autumn) and not _shed_in_spring(knowledge, practice)


def kept_cold(knowledge: Knowledge, practice: Practice) -> bool:
    """Whether its record keeps seed in the cold that is not to be dried hard: cold does it no harm."""
    storage = knowledge.value("storage")
    if storage is None or storage.behaviour == "orthodox" or storage.celsius is None:
        return False
    return bool(storage.celsius.low < practice.no_cold_celsius)


def _sown_fresh(knowledge: Knowledge) -> bool:
    """Whether the record puts a sowing of fresh seed first, or warmth that ends when it has sprouted."""
    first = next((t for t, _ in knowledge.treatments()), None)
    return first is not None and first.when.get("moisture") == "fresh" and shape_of(first.steps) in _SOWN


def _looks_moist(knowledge: Knowledge, practice: Practice) -> bool:
    record, dormancy = knowledge.record, knowledge.value("dormancy")
    rests = dormancy.class_ if dormancy else "unknown"
    if rests in _HARD:
        return False
    if record.plant in _HERBS:
        return rests in ("morphophysiological", "morphological") and wants_warmth(knowledge)
    if record.plant in ("nut tree", "palm", "cycad") or knowledge.value("size") == "large":
        return True
    harvest = knowledge.value("harvest")
    fleshy = bool(harvest) and any(step in harvest.cleaning for step in ("remove_pulp", "ferment"))
    return fleshy and _warm_only(knowledge, practice)


def _warm_only(knowledge: Knowledge, practice: Practice) -> bool:
    """Whether its record has no treatment with cold, and no test below the warmth of a room."""
    germination = knowledge.value("germination")
    if germination is None or germination.celsius is None:
        return False
    cold = any(step.do in COLD for treatment, _ in knowledge.treatments() for step in treatment.steps)
    return not cold and bool(germination.celsius.low >= practice.warm_country_celsius[0])


def _shed_in_spring(knowledge: Knowledge, practice: Practice) -> bool:
    harvest = knowledge.value("harvest")
    if harvest is None or harvest.months is None:
        return False
    first, last = harvest.months
    return bool(first <= last <= practice.spring_month)
