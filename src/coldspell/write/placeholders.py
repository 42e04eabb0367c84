"""The words and measures that fill the placeholders of rule texts."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping

from msgspec import Struct

from coldspell.arithmetic.calendar import add_days
from coldspell.arithmetic.seasons import FROST_OFFSET_DAYS, season_month
from coldspell.decide.knowledge import Knowledge
from coldspell.decide.names import (
    Ask,
    KindWords,
    MediumFields,
    NoteWords,
    StepWords,
    TreatmentWords,
    WhatIfWords,
)
from coldspell.decide.practice import Practice
from coldspell.decide.sizing import SeedMeasure
from coldspell.plan.plan import Plan
from coldspell.plan.steps import soak_hours
from coldspell.records.model import Quantity, Step
from coldspell.texts import Texts
from coldspell.write.units import (
    MONTHS,
    Units,
    plural,
    spelled_date,
    spelled_days,
    spelled_hours,
    spelled_minutes,
)

Words = dict[str, str]


def fill_in(text: str, words: Mapping[str, str]) -> str:
    """Put words into the placeholders of a text; an empty one leaves no double space or stray comma."""
    filled = re.sub(r"\{(\w+)\}", lambda m: words[m[1]], text)
    filled = re.sub(r" +([,.;:])", r"\1", re.sub(r"\s{2,}", " ", filled))
    return re.sub(r",(?=[.;])", "", filled).strip()


class Wording(Struct, frozen=True):
    """What words are made from: a plan, the numbers of practice, the sentences, the units of the reader."""

    plan: Plan
    practice: Practice
    texts: Texts
    units: Units

    def all(self) -> Words:
        """Every placeholder of the rules; those of a step stand empty until it is written."""
        step: StepWords = {"how_long": "", "changed": "", "how_warm": "", "substance": ""}
        return {**self.of_kind(), **self.of_what_if(), **self.of_treatment(), **self.of_notes(), **step}  # type: ignore[dict-item]

    def of_kind(self) -> KindWords:
        """Words that depend on the kind and the lot alone."""
        plan, practice, units = self.plan, self.practice, self.units
        knowledge, lot = plan.decisions.knowledge, plan.lot
        record, offspring = knowledge.record, knowledge.value("offspring")
        nut = record.unit in ("nut", "acorn", "stone")
        germination = knowledge.value("germination")
        graft_years = (offspring and offspring.graft_years) or Quantity(*practice.graft_years)
        depth = depth_mm(knowledge, plan.seed, practice)
        return {
            "gap": units.length(practice.gap_mm),
            "layer": units.length(practice.layer_mm),
            "near_freezing": units.temperature(practice.near_freezing_celsius),
            "soak_time": spelled_hours(soak_hours(knowledge, practice)),
            "depth": units.length(depth),
            "sow_cool": units.temperature(_sow_cool(knowledge, practice)),
            "pot_depth": units.length(practice.pot_depth_mm),
            "mesh": units.length(practice.mesh_mm),
            "root_pot_up": units.length(practice.root_nut_mm if nut else practice.root_small_mm),
            "germ_range": units.temperature(germination.celsius)
            if germination and germination.celsius
            else "",
            "or_fridge": "" if lot.refrigerator == "none" else self.texts.say("or_fridge"),
            "cut_some": cut_count(lot.seeds, practice, self.texts),
            "asked": record.asks.question if record.asks else "",
            "graft_thickness": units.length(_graft_mm(knowledge, practice)),
            "graft_when": _years(graft_years),
            "shade_side": self.texts.say("south_side" if lot.southern else "north_side"),
            "pit_area": units.area(plan.amounts.pit_m2 or 0),
            "pit_depth_range": units.length(practice.pit_depth_mm),
            "pit_layer": units.length(practice.pit_layer_mm),
            "sow_area": units.area(plan.decisions.size.seeds * practice.tray_seed_mm2 / 1e6),
            "per_sheet": str(plan.amounts.seeds_per_sheet or int(practice.towel_seeds_per_sheet)),
        }

    def of_what_if(self) -> WhatIfWords:
        """Words for what may happen meanwhile."""
        plan, practice, degrees = self.plan, self.practice, self.units.temperature
        sown = plan.sowing_day
        bare = int(practice.bare_days)
        fridge, share = plan.lot.fridge_celsius, plan.decisions.facts["cold_share"]
        after = self.texts.say("bare_after", weeks=round(bare / 7))
        return {
            "fridge_warm": degrees(practice.fridge_warm_celsius),
            "no_cold": degrees(practice.no_cold_celsius),
            "pot_cold": degrees(practice.pot_cold_celsius),
            "pot_cool": degrees(practice.pot_cool_celsius),
            "fridge": "" if fridge is None else degrees(fridge),
            "share": "" if share is None else self.texts.say("share", percent=f"{share:.0f}"),
            "days_at_home": self._days_at_home(share),
            "bare_day": spelled_date(add_days(sown, bare)) if sown else after,
        }

    def _days_at_home(self, share: float | None) -> str:
        """How long the cold lasts where only a share of each day counts."""
        chosen = self.plan.decisions.chosen
        steps = chosen.candidate.treatment.steps if chosen else ()
        spans = [s.days for s in steps if s.do == "cold_moist" and s.days is not None]
        if not share or not spans:
            return ""
        low, high = (
            math.ceil(sum(ends) * 100 / share) for ends in zip(*((s.low, s.high) for s in spans), strict=True)
        )
        return spelled_days((low, high))

    def of_treatment(self) -> TreatmentWords:
        """Words that depend on the treatment and its dates."""
        chosen, dated, say = self.plan.decisions.chosen, self.plan.decisions.schedule, self.texts.say
        steps = chosen.candidate.treatment.steps if chosen else ()
        hold = chosen.candidate.treatment.hold if chosen else None
        cold = [s for s in steps if s.do in ("cold_moist", "cool_moist")]
        warm = [s for s in steps if s.do in ("warm_moist", "alternate")]
        target, short = dated.target, dated.infeasible
        home = at_home(self.plan, self.practice)
        spells = bool(steps and (cold or warm))
        undated = say("sow_when_done") if spells else say("sow_in_spring")
        by = spelled_date(dated.plan.ready)
        return {
            "cold_range": self.units.temperature(home or _celsius(cold) or self.practice.cold_celsius),
            "hold_range": self.units.temperature(
                home or (hold and hold.celsius) or self.practice.hold_celsius
            ),
            "cold_length": self._sum_days(cold),
            "warm_length": self._sum_days(warm),
            "rest_length": self._sum_days([s for s in steps if s.do == "after_ripen"]),
            "total_length": self._sum_days([s for s in steps if s.days is not None]),
            "sow_date": spelled_date(target) if target else "",
            "sow_when": say("sow_on", day=spelled_date(target)) if target else undated,
            "most_by": say("most_by", day=by) if target else "",
            "start_when": self._start(),
            "short_by": spelled_days(short.days_short) if short else "",
        }

    def of_notes(self) -> NoteWords:
        """Words for the notes under the verdict."""
        plan, lot, units = self.plan, self.plan.lot, self.units
        past, space = plan.note_facts["days_past_hold"], plan.amounts.space_litres
        unit = plan.decisions.knowledge.record.unit
        early = -FROST_OFFSET_DAYS[lot.grow_in]
        rooted = self.texts.say("rooted_some", count=lot.rooted)
        return {
            "counted": f"{lot.seeds} {plural(unit, 2)}",
            "ripe_months": self._ripe_months(),
            "gathered_month": MONTHS[lot.collected.month - 1] if lot.collected else "",
            "had": self._had(),
            "past_hold": "" if past is None else spelled_days(past),
            "hold_until": spelled_date(plan.hold_until) if plan.hold_until else "",
            "those_rooted": rooted if lot.rooted > 1 else self.texts.say("rooted_one"),
            "last_frost": spelled_date(lot.last_frost) if lot.last_frost else "",
            "frost_days": spelled_days(early),
            "collected": spelled_date(lot.collected) if lot.collected else "",
            "space_needed": "" if space is None else units.volume(space),
            "space_had": "" if lot.fridge_litres is None else units.volume(lot.fridge_litres),
        }

    def of_step(self, step: Step) -> StepWords:
        """Words for one step of a treatment."""
        say = self.texts.say
        warm = step.celsius or self.practice.usual_celsius(step.do)
        if step.do == "cold_moist":
            warm = at_home(self.plan, self.practice) or warm
        length = ""
        if step.days is not None:
            length = spelled_days(step.days)
        elif step.hours is not None:
            length = spelled_hours(step.hours)
        elif step.minutes is not None:
            length = spelled_minutes(step.minutes)
        elif step.hours_light is not None:
            length = say("a_day", hours=spelled_hours(step.hours_light))
        dose = say("dose", span=_span(step.mg_per_l)) if step.mg_per_l else ""
        long_soak = step.hours is not None and step.hours.high > 24
        return {
            "how_long": length,
            "changed": say("changed_daily") if long_soak else "",
            "how_warm": say("how_warm", celsius=self.units.temperature(warm)) if warm else "",
            "substance": (step.substance or say("as_advised")) + dose,
        }

    def _start(self) -> str:
        dated = self.plan.decisions.schedule
        if dated.target is None:
            return ""
        if dated.plan.start <= dated.first:
            return self.texts.say("start_now")
        return self.texts.say("start_from", day=spelled_date(dated.plan.start))

    def _sum_days(self, steps: list[Step]) -> str:
        spans = [s.days for s in steps if s.days is not None]
        if not spans:
            return self.texts.say("time_it_takes")
        usual = sum(s.plan for s in spans) if any(s.usual is not None for s in spans) else None
        return spelled_days(Quantity(sum(s.low for s in spans), sum(s.high for s in spans), usual))

    def _had(self) -> str:
        lot, say = self.plan.lot, self.texts.say
        warm = [say("had_warm", days=f"{lot.warm_days_done:g}")] if lot.warm_days_done else []
        cold = [say("had_cold", days=f"{lot.cold_days_done:g}")] if lot.cold_days_done else []
        return say("and").join(warm + cold)

    def _ripe_months(self) -> str:
        harvest = self.plan.decisions.knowledge.value("harvest")
        if harvest is None or harvest.months is None:
            return ""
        months = dict.fromkeys(harvest.months)
        names = [MONTHS[season_month(m, self.plan.lot.southern) - 1] for m in months]
        return self.texts.say("month_to").join(names)


def at_home(plan: Plan, practice: Practice) -> Quantity | None:
    """The one temperature of the grower's refrigerator, where the lot lies in it and most of a day counts."""
    decisions, celsius = plan.decisions, plan.lot.fridge_celsius
    share, medium = decisions.facts["cold_share"], decisions.fields(Ask.MEDIUM, MediumFields)
    if celsius is None or share is None or share < practice.counts_share or medium is None:
        return None
    return None if medium.holder == "pit" or decisions.route.lies != "cold" else Quantity(celsius, celsius)


def cut_count(seeds: int, practice: Practice, texts: Texts) -> str:
    """How many seeds of a lot are cut for a test: ten, and no more than one in four (common practice)."""
    few = min(seeds // int(practice.cut_share), int(practice.cut_most))
    names = ("one_if_spared", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
    return texts.say(f"cut_{names[few]}") if few < len(names) else str(few)


def depth_mm(knowledge: Knowledge, seed: SeedMeasure, practice: Practice) -> Quantity:
    """Sowing depth: the record's, else by seed thickness (common practice)."""
    sowing = knowledge.value("sowing")
    if sowing is not None and sowing.depth_mm is not None:
        depth: Quantity = sowing.depth_mm
        return depth
    if knowledge.value("size") == "fine":
        return Quantity(*practice.depth_fine_mm)
    thick = seed.width_mm > practice.depth_thick_from_mm
    low, high = practice.depth_thick_share if thick else practice.depth_thin_share
    return Quantity(max(1, round(low * seed.thickness_mm)), max(2, round(high * seed.thickness_mm)))


def _celsius(steps: list[Step]) -> Quantity | None:
    return next((s.celsius for s in steps if s.celsius is not None), None)


def _span(span: Quantity) -> str:
    return f"{span.low:g}" if span.low == span.high else f"{span.low:g}–{span.high:g}"


def _years(span: Quantity) -> str:
    low, high = f"{span.low:g}", f"{span.high:g}"
    return f"{low} {'year' if low == '1' else 'years'}" if low == high else f"{low}–{high} years"


def _sow_cool(knowledge: Knowledge, practice: Practice) -> Quantity | float:
    sowing = knowledge.value("sowing")
    return (sowing and sowing.celsius_max) or practice.sow_cool_celsius


def _graft_mm(knowledge: Knowledge, practice: Practice) -> Quantity | tuple[float, float]:
    offspring = knowledge.value("offspring")
    if offspring is not None and offspring.graft_mm is not None:
        graft: Quantity = offspring.graft_mm
        return graft
    return practice.graft_nut_mm if knowledge.record.plant == "nut tree" else practice.graft_other_mm
