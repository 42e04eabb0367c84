"""A kind without a record: facts of its genus and relatives, and the plan that their practice makes."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Literal

from coldspell.decide.knowledge import Knowledge
from coldspell.decide.names.closed import YesNo
from coldspell.decide.practice import Practice
from coldspell.decide.relatives import Relative, Wants, agreed, chills
from coldspell.decide.relatives import relatives as _relatives
from coldspell.library.unrecorded import UNKNOWN
from coldspell.lot.lot import Lot
from coldspell.records.do import COLD
from coldspell.records.model import Quantity, Step, Treatment

if TYPE_CHECKING:
    from coldspell.decide.names.facts import KinFacts

Need = Literal["required", "optional"]
KinWant = Literal[
    "cold", "warm_then_cold", "nothing", "open_coat", "coat_then_cold", "other", "differ", "few"
]
HowMany = Literal["all", "some", "none"]
SaidBy = Literal["said", "record", "relatives", "nobody"]
_PLANNED: dict[Wants, KinWant] = {
    "cold": "cold",
    "warm_then_cold": "warm_then_cold",
    "nothing": "nothing",
    "open_coat": "open_coat",
    "coat_then_cold": "coat_then_cold",
}


_CHILLED: frozenset[Wants] = frozenset({"cold", "warm_then_cold", "coat_then_cold", "outdoors"})


def relatives_of(knowledge: Knowledge, lot: Lot, practice: Practice) -> tuple[Relative, ...]:
    """The relatives on record, each with what it wants."""
    return _relatives(knowledge.relatives, lot, practice)


def kin_facts(knowledge: Knowledge, lot: Lot, practice: Practice) -> KinFacts:
    """What is known of a kind by its name, genus and relatives, and of its seed by the grower's word."""
    if knowledge.relatives:
        return _kin_facts(knowledge, lot, practice)
    told = ("kin", practice, lot.climate, lot.shed)
    return knowledge.once(told, lambda: _kin_facts(knowledge, lot, practice))


def _kin_facts(knowledge: Knowledge, lot: Lot, practice: Practice) -> KinFacts:
    found = relatives_of(knowledge, lot, practice)
    dies_dry, chilled = (_how_many([one(r) for r in found]) for one in (_dies_dry, _never_chill))
    climate, climate_from = _from(lot.climate, _climate(knowledge, practice), "warm", chilled)
    shed, shed_from = _from(lot.shed, _shed(knowledge), "moist", dies_dry)
    gives, cold = knowledge.once("its genus", lambda: _of_genus(knowledge))
    return {
        "on_record": _yes(knowledge.on_record),
        "name_known": _yes(knowledge.record.name != UNKNOWN),
        "genus_gives": gives,
        "genus_cold": cold,
        "kin_want": _want(found, practice),
        "kin_dry": dies_dry,
        "kin_chill": chilled,
        "kin_cold": _share([likes_cold(r) for r in found]),
        "home_climate": climate,  # type: ignore[typeddict-item]
        "climate_from": climate_from,
        "seed_shed": shed,  # type: ignore[typeddict-item]
        "shed_from": shed_from,
    }


def likes_cold(relative: Relative) -> bool:
    """Whether a relative wants a winter, or comes better for one."""
    return relative.cold is not None or relative.does in _CHILLED


def _dies_dry(relative: Relative) -> bool:
    return relative.dies_dry


def _never_chill(relative: Relative) -> bool:
    return relative.wants == "never_chill"


def _from(said: str, on_record: str, of_kin: str, how_many: HowMany) -> tuple[str, SaidBy]:
    """A danger by the grower's word, the record, or all relatives; and which of them says so.

    Relatives are believed in what would kill alone: taken for moist, dry seed loses little; taken for dry,
    moist seed dies.
    """
    if said != "unknown":
        return said, "said"
    if on_record != "unknown":
        return on_record, "record"
    return (of_kin, "relatives") if how_many == "all" else ("unknown", "nobody")


def _of_genus(knowledge: Knowledge) -> tuple[Literal["treatment", "question", "nothing"], YesNo]:
    """What the record of the genus gives to a kind without one, and whether any of it is cold."""
    genus = knowledge.genus
    if genus is None:
        return "nothing", "no"
    cold = any(s.do in COLD for t in genus.treatments for s in t.steps)
    if knowledge.on_record:
        return "nothing", _yes(cold)
    return "question" if genus.asks else "treatment" if genus.treatments else "nothing", _yes(cold)


def _climate(knowledge: Knowledge, practice: Practice) -> Literal["temperate", "warm", "unknown"]:
    """Of a kind on record: warm where cold injures it, temperate where a treatment of its own has cold."""
    if not knowledge.on_record:
        return "unknown"
    if chills(knowledge.record, practice):
        return "warm"
    return "temperate" if knowledge.once("has cold", lambda: _has_cold(knowledge)) else "unknown"


def _has_cold(knowledge: Knowledge) -> bool:
    return any(step.do in COLD for treatment, _ in knowledge.treatments() for step in treatment.steps)


def _shed(knowledge: Knowledge) -> Literal["moist", "dry", "unknown"]:
    """Of a kind on record: moist where its seed dies dry, dry where it keeps dry."""
    storage = knowledge.value("storage") if knowledge.on_record else None
    if storage is None or storage.behaviour == "intermediate":
        return "unknown"
    return "moist" if storage.behaviour == "recalcitrant" else "dry"


def kin_treatment(found: Sequence[Relative], practice: Practice, because: str) -> Treatment:
    """The practice of relatives that agree: their longest cold, and at least that of practice."""
    wants = _want(found, practice)
    cold, steps = [r.cold for r in found if r.cold is not None], []
    if wants in ("open_coat", "coat_then_cold"):
        steps.append(Step("scarify_mechanical"))
    if wants == "warm_then_cold":
        warm = [r.warm for r in found if r.warm is not None]
        steps.append(Step("warm_moist", days=_longest(warm, practice.kin_warm_least_days)))
    if wants in ("cold", "warm_then_cold", "coat_then_cold"):
        need: Need = "optional" if all(r.wants == "cold_helps" for r in found) else "required"
        days = _longest(cold, practice.kin_cold_least_days)
        steps.append(Step("cold_moist", days=days, celsius=Quantity(*practice.cold_celsius), need=need))
    return Treatment(name="as-its-relatives", steps=tuple(steps) or (Step("sow"),), cite=(), because=because)


def _longest(spells: Sequence[Quantity], least: float) -> Quantity:
    """From the least of practice to the longest usual length of any relative."""
    return Quantity(least, max([least, *(spell.plan for spell in spells)]))


def _want(found: Sequence[Relative], practice: Practice) -> KinWant:
    shared = agreed(found, practice)
    if shared is not None:
        return _PLANNED.get(shared, "other")
    return "differ" if len({r.does for r in found}) > 1 else "few"


def _share(answers: Sequence[bool]) -> Literal["all", "most", "some", "none"]:
    """As :func:`_how_many`, and whether it is at least every second one."""
    found = _how_many(answers)
    return "most" if found == "some" and 2 * sum(answers) >= len(answers) else found


def _how_many(answers: Sequence[bool]) -> HowMany:
    if not any(answers):
        return "none"
    return "all" if all(answers) else "some"


def _yes(value: object) -> YesNo:
    return "yes" if value else "no"
