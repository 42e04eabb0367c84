"""The words and measures that fill the placeholders of rule texts."""

from __future__ import annotations

import re
from collections.abc import Mapping

from coldspell.library.model import Quantity, Step
from coldspell.recipe import practice
from coldspell.recipe.amounts import SeedMeasure
from coldspell.recipe.candidate import Candidate
from coldspell.recipe.dates import Schedule
from coldspell.recipe.lot import Lot
from coldspell.recipe.topics import Knowledge
from coldspell.recipe.wording import Units, spelled_date, spelled_days, spelled_hours, spelled_minutes

Words = dict[str, str]


def fill(text: str, words: Mapping[str, str]) -> str:
    """Put words into the placeholders of a text; an empty one leaves no double space or stray comma."""
    filled = re.sub(r"\{(\w+)\}", lambda m: words[m[1]], text)
    filled = re.sub(r" +([,.;:])", r"\1", re.sub(r"\s{2,}", " ", filled))
    return re.sub(r",(?=[.;])", "", filled).strip()


def base_words(knowledge: Knowledge, lot: Lot, units: Units, seed: SeedMeasure, per_sheet: int) -> Words:
    """Words that depend on the kind and the lot alone."""
    record = knowledge.record
    offspring = knowledge.value("offspring")
    nut = record.unit in ("nut", "acorn", "stone")
    germination = knowledge.value("germination")
    return {
        "gap": units.length(practice.GAP_MM),
        "layer": units.length(practice.LAYER_MM),
        "near_freezing": units.temperature((0.0, 1.0)),
        "soak_time": spelled_hours(soak_hours(knowledge)),
        "depth": units.length(depth_mm(knowledge, seed)),
        "sow_cool": units.temperature(_sow_cool(knowledge)),
        "pot_depth": units.length(practice.POT_DEPTH_MM),
        "mesh": units.length(practice.MESH_MM),
        "root_pot_up": units.length(practice.ROOT_POT_UP_MM["nut" if nut else "small"]),
        "germ_range": units.temperature(germination.celsius) if germination and germination.celsius else "",
        "or_fridge": "" if lot.refrigerator == "none" else "; a refrigerator is good",
        "cut_some": cut_count(lot.seeds),
        "asked": record.asks.question if record.asks else "",
        "graft_thickness": units.length(_graft_mm(knowledge)),
        "graft_when": _years((offspring and offspring.graft_years) or Quantity(*practice.GRAFT_YEARS)),
        "per_sheet": str(per_sheet),
    }


def treatment_words(candidate: Candidate | None, dated: Schedule, units: Units) -> Words:
    """Words that depend on the treatment and its dates."""
    steps = candidate.treatment.steps if candidate else ()
    cold = [s for s in steps if s.do in ("cold_moist", "cool_moist")]
    warm = [s for s in steps if s.do in ("warm_moist", "alternate")]
    hold = candidate.treatment.hold if candidate else None
    target = dated.target
    infeasible = dated.infeasible
    return {
        "cold_range": units.temperature(_celsius(cold) or practice.COLD_CELSIUS),
        "hold_range": units.temperature((hold and hold.celsius) or practice.HOLD_CELSIUS),
        "cold_length": _sum_days(cold),
        "warm_length": _sum_days(warm),
        "rest_length": _sum_days([s for s in steps if s.do == "after_ripen"]),
        "total_length": _sum_days([s for s in steps if s.days is not None]),
        "sow_date": spelled_date(target) if target else "",
        "sow_when": f"on {spelled_date(target)}"
        if target
        else "when that is done"
        if steps and (cold or warm)
        else "in spring",
        "most_by": f"; most by {spelled_date(dated.plan.ready)}" if target else "",
        "start_when": _start(dated),
        "short_by": f"{infeasible.days_short} days"
        if infeasible and infeasible.days_short != 1
        else "1 day"
        if infeasible
        else "",
    }


def step_words(step: Step, units: Units) -> Words:
    """Words for one step of a treatment."""
    celsius = step.celsius
    usual = {"cold_moist": practice.COLD_CELSIUS, "warm_moist": practice.WARM_CELSIUS}.get(step.do)
    warm = celsius or usual
    length = ""
    if step.days is not None:
        length = spelled_days(step.days)
    elif step.hours is not None:
        length = spelled_hours(step.hours)
    elif step.minutes is not None:
        length = spelled_minutes(step.minutes)
    elif step.hours_light is not None:
        length = f"{spelled_hours(step.hours_light)} a day"
    dose = f" at {_span(step.mg_per_l)} mg/l" if step.mg_per_l else ""
    return {
        "how_long": length,
        "changed": ", changed daily," if step.hours is not None and step.hours.high > 24 else "",
        "how_warm": f"at {units.temperature(warm)}" if warm else "",
        "substance": (step.substance or "as licensed advice says") + dose,
    }


def cut_count(seeds: int) -> str:
    """How many seeds of a lot are cut for a test: ten, and no more than one in four.

    >>> cut_count(40), cut_count(12), cut_count(3)
    ('ten', 'three', 'one (if you can spare it)')
    """
    few = (
        "one (if you can spare it)",
        "one",
        "two",
        "three",
        "four",
        "five",
        "six",
        "seven",
        "eight",
        "nine",
    )
    share = seeds // 4
    return "ten" if share >= 10 else few[share]


def name_of(knowledge: Knowledge) -> str:
    """The first English common name, else the botanical name."""
    names = knowledge.record.common_names.get("en", ())
    return names[0] if names else knowledge.record.name


def depth_mm(knowledge: Knowledge, seed: SeedMeasure) -> Quantity:
    """Sowing depth: the record's, else by seed thickness (common practice)."""
    sowing = knowledge.value("sowing")
    if sowing is not None and sowing.depth_mm is not None:
        depth: Quantity = sowing.depth_mm
        return depth
    if knowledge.value("size") == "fine":
        return Quantity(0, 1)
    low, high = (1.0, 1.5) if seed.width_mm > 10 else (1.0, 3.0)
    return Quantity(max(1, round(low * seed.thickness_mm)), max(2, round(high * seed.thickness_mm)))


def _start(dated: Schedule) -> str:
    if dated.target is None:
        return ""
    return "now" if dated.plan.start <= dated.first else f"from {spelled_date(dated.plan.start)}"


def _celsius(steps: list[Step]) -> Quantity | None:
    return next((s.celsius for s in steps if s.celsius is not None), None)


def _sum_days(steps: list[Step]) -> str:
    spans = [s.days for s in steps if s.days is not None]
    if not spans:
        return "the time it takes"
    usual = sum(s.plan for s in spans) if any(s.usual is not None for s in spans) else None
    return spelled_days(Quantity(sum(s.low for s in spans), sum(s.high for s in spans), usual))


def _span(span: Quantity) -> str:
    return f"{span.low:g}" if span.low == span.high else f"{span.low:g}–{span.high:g}"


def _years(span: Quantity) -> str:
    low, high = f"{span.low:g}", f"{span.high:g}"
    return f"{low} {'year' if low == '1' else 'years'}" if low == high else f"{low}–{high} years"


def soak_hours(knowledge: Knowledge) -> tuple[float, float]:
    """Least and most hours in which dry seed of a kind takes up water (common practice)."""
    storage = knowledge.value("storage")
    if storage is not None and storage.behaviour == "recalcitrant":
        return practice.SOAK_HOURS["recalcitrant"]
    record = knowledge.record
    kind = "conifer" if record.plant == "conifer" else "stone" if record.unit == "stone" else record.unit
    return practice.SOAK_HOURS.get({"acorn": "nut"}.get(kind, kind), practice.SOAK_HOURS["pip"])


def _sow_cool(knowledge: Knowledge) -> Quantity | float:
    sowing = knowledge.value("sowing")
    return (sowing and sowing.celsius_max) or practice.SOW_COOL_CELSIUS


def _graft_mm(knowledge: Knowledge) -> Quantity | tuple[float, float]:
    offspring = knowledge.value("offspring")
    if offspring is not None and offspring.graft_mm is not None:
        graft: Quantity = offspring.graft_mm
        return graft
    return practice.GRAFT_MM.get(knowledge.record.plant, practice.GRAFT_MM["other"])
