"""The words and measures that fill the placeholders of rule texts."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date
from typing import TYPE_CHECKING

from msgspec import Struct

from coldspell.arithmetic.calendar import add_days
from coldspell.arithmetic.samples import clopper_pearson
from coldspell.arithmetic.seasons import season_month
from coldspell.decide.home import days_at_home
from coldspell.decide.knowledge import Knowledge
from coldspell.decide.practice import Practice
from coldspell.decide.schedule import next_season
from coldspell.decide.sizing import SeedMeasure
from coldspell.plan.plan import Plan, planted_out, shoot_cold
from coldspell.plan.steps import read_day, soak_hours
from coldspell.records.do import COLD, OPENING, TIMED
from coldspell.records.model import Quantity, Step
from coldspell.texts import Texts
from coldspell.write.home import at_home, home_words
from coldspell.write.kin_words import kin_words
from coldspell.write.note_words import note_words
from coldspell.write.seasonal import autumn_word
from coldspell.write.sow_words import bare_day, coolest, outdoors_when, sow_late, sown_at, start_late, warmest
from coldspell.write.step_words import NO_STEP
from coldspell.write.tested import (
    again_means,
    batch,
    cut_count,
    filled_low,
    paper_days,
    percent,
    pinch,
    seeds_tried,
)
from coldspell.write.units import (
    Units,
    number,
    spelled_date,
    spelled_days,
    spelled_hours,
)

if TYPE_CHECKING:
    from coldspell.decide.names.words import (
        KindWords,
        SeasonWords,
        TestWords,
        TreatmentWords,
        WhatIfWords,
    )

Words = dict[str, str]


def fill_in(text: str, words: Mapping[str, str]) -> str:
    """Put words into the placeholders of a text; an empty one leaves no double space or stray comma."""
    filled = _PLACEHOLDER.sub(lambda m: words[m[1]], text) if "{" in text else text
    if _UNTIDY.search(filled) is None:  # nearly every text; some hundred are filled in for one recipe
        return filled.strip()
    filled = _BEFORE_STOP.sub(r"\1", _SPACES.sub(" ", filled))
    return _STRAY_COMMA.sub("", filled).strip()


_PLACEHOLDER, _SPACES = re.compile(r"\{(\w+)\}"), re.compile(r"\s{2,}")
_BEFORE_STOP, _STRAY_COMMA = re.compile(r" +([,.;:])"), re.compile(r",(?=[.;])")
_UNTIDY = re.compile(r"\s(?=[\s,.;:])|,(?=[.;])")


class Wording(Struct, frozen=True):
    """What words are made from: a plan, the numbers of practice, the sentences, the units of the reader."""

    plan: Plan
    practice: Practice
    texts: Texts
    units: Units

    def all(self) -> Words:
        """Every placeholder of the rules; those of a step stand empty until it is written."""
        kind: Words = {**self.of_kind(), **self.of_tests(), **self.of_what_if()}  # type: ignore[dict-item]
        kin = kin_words(self.plan, self.practice, self.texts, self.units)
        notes = note_words(self.plan, self.texts, self.units, self.practice)
        return {**kind, **kin, **self.of_treatment(), **notes, **NO_STEP}  # type: ignore[dict-item]

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
            "soak_time": spelled_hours(soak_hours(plan.decisions, practice)),
            "depth": units.length(depth),
            "sow_cool": warmest(knowledge, practice, units),
            "sow_least": coolest(knowledge, units),
            "pot_depth": units.length(practice.pot_depth_mm),
            "mesh": units.length(practice.mesh_mm),
            "root_pot_up": units.length(practice.root_nut_mm if nut else practice.root_small_mm),
            "germ_range": units.temperature(germination.celsius)
            if germination and germination.celsius
            else "",
            "or_fridge": "" if lot.refrigerator == "none" else self.texts.say("or_fridge"),
            "cut_some": cut_count(lot.seeds, practice, self.texts, filled_low(knowledge)),
            "asked": knowledge.asks.question if knowledge.asks else "",
            "graft_thickness": units.length(_graft_mm(knowledge, practice)),
            "graft_when": _years(graft_years),
            "in_autumn": self._in_autumn(),
            "from_now": self._from_now(),
            "shade_side": self.texts.say("south_side" if lot.southern else "north_side"),
            "mix_depth": units.length(practice.mix_depth_mm),
            "pit_area": units.area(plan.amounts.pit_m2 or 0),
            "pit_depth_range": units.length(practice.pit_depth_mm),
            "pit_layer": units.length(practice.pit_layer_mm),
            "broadcast_area": units.area(_broadcast_m2(plan, practice)),
            "bed_area": units.area(plan.decisions.size.seeds / practice.bed_nuts_per_m2),
            "sow_area": units.area(_sown_m2(plan, practice)),
            "seedbed_area": units.area(_seedbed_m2(plan, practice)),
            "per_sheet": str(plan.amounts.seeds_per_sheet or int(practice.towel_seeds_per_sheet)),
        }

    def _in_autumn(self) -> str:
        """When the autumn is in which it could be sown outdoors; of a far sowing day that before it."""
        plan, target = self.plan, self.plan.decisions.schedule.target
        if target is not None and (target - plan.today).days > self.practice.far_day_days:
            return self.texts.say("autumn_before")
        word = autumn_word(plan.decisions.schedule.first, self.practice, southern=plan.lot.southern)
        ahead = word == "autumn_now" and plan.decisions.schedule.first > plan.today
        return self.texts.say("autumn_when_had" if ahead else word)

    def _from_now(self) -> str:
        """On the first day: now, or once it is gathered."""
        ahead = self.plan.decisions.schedule.first > self.plan.today
        return self.texts.say("autumn_when_had" if ahead else "autumn_now")

    def of_tests(self) -> TestWords:
        """Words for testing seed, and for what its tests can mean."""
        plan, practice, say = self.plan, self.practice, self.texts.say
        knowledge, lot = plan.decisions.knowledge, plan.lot
        live, filled = knowledge.value("live_seed"), knowledge.value("filled_percent")
        cut = live.cut if live else None
        tried, found = seeds_tried(plan, practice), ""
        if lot.cut:
            low, high = clopper_pearson(*lot.cut)
            share = percent(round(100 * low), round(100 * high))
            found = say("cut_found", some=lot.cut[0], tried=lot.cut[1], percent=share)
        return {
            "live_look": cut.rstrip(".") if cut else say("live_look"),
            "dead_look": say("dead_look_known" if cut else "dead_look"),
            "tell_live": _sentence(live.cannot_be_cut) if live and live.cannot_be_cut else "",
            "pinch": number(pinch(lot, practice)),
            "batch": number(batch(plan, practice)),
            "paper_warm": self.units.temperature(practice.paper_celsius),
            "paper_days": spelled_days(paper_days(knowledge, practice)),
            "read_day": spelled_date(read_day(plan.decisions, practice)),
            "none_means": say("none_means", high=round(100 * clopper_pearson(0, tried)[1])),
            "again_means": again_means(lot, tried),
            "short_from": self._start() if self._takes_days() else "",
            "how_deep": self._how_deep(),
            "fill": percent(filled.value.low, filled.value.high) if filled else "",
            "cut_found": found,
            "for_ten": self._for_ten(),
            "short_treatment": self._short_treatment(),
        }

    def _takes_days(self) -> bool:
        """Whether the treatment that was chosen has moist spells."""
        chosen = self.plan.decisions.chosen
        return chosen is not None and bool(chosen.candidate.moist_days)

    def _how_deep(self) -> str:
        """How deep it is sown, or on the surface."""
        depth = depth_mm(self.plan.decisions.knowledge, self.plan.seed, self.practice)
        facts = self.plan.decisions.facts
        if facts["sown_on"] == "surface" or facts["light"] == "required" or depth.high <= 0:
            return self.texts.say("on_the_surface")
        return self.texts.say("at_depth", depth=self.units.length(depth))

    def _short_treatment(self) -> str:
        """The treatment of the record in a few words, for a page that ends with a test."""
        say, chosen = self.texts.say, self.plan.decisions.chosen
        target, tested = self.plan.decisions.schedule.target, self.plan.decisions.route.page == "test"
        read = tested and target is not None and target <= read_day(self.plan.decisions, self.practice)
        when = say("short_sow", when=say("sow_when_read") if read else self.of_treatment()["sow_when"])
        when = (tested and outdoors_when(self.plan, self.texts)) or when
        parts = []
        for step in chosen.candidate.treatment.steps if chosen else ():
            celsius = step.celsius or self.practice.usual_celsius(step.do)
            if step.do in OPENING:
                parts.append(say("short_open"))
            elif step.do in TIMED and f"short_{step.do}" in self.texts.sentences and step.days:
                warm = self.units.temperature(celsius) if celsius else ""
                parts.append(say(f"short_{step.do}", celsius=warm, length=spelled_days(step.days)))
        spells = say("short_then").join([*parts, when])
        dated = self.plan.decisions.schedule
        later = tested and bool(parts) and not self._takes_days() and dated.plan.start > dated.first
        return say("short_start", start=self._start(), spells=spells) if later else spells

    def of_what_if(self) -> WhatIfWords:
        """Words for what may happen meanwhile."""
        plan, practice, degrees = self.plan, self.practice, self.units.temperature
        chosen, sown = plan.decisions.chosen, plan.sowing_day
        steps = chosen.candidate.treatment.steps if chosen else ()
        cold = [s for s in steps if s.do == "cold_moist"] or [s for s in steps if s.do in COLD]
        warmest = max((s.celsius.high for s in cold if s.celsius), default=0.0)
        bare = int(practice.bare_days)
        after = self.texts.say("bare_after", weeks=round(bare / 7))
        return {
            "fridge_warm": degrees(max(practice.fridge_warm_celsius, warmest)),
            "no_cold": degrees(max(practice.no_cold_celsius, warmest)),
            "pot_cold": degrees(practice.pot_cold_celsius),
            "pot_cool": degrees(practice.pot_cool_celsius),
            **home_words(plan, self.units, self.texts),
            "bare_day": spelled_date(bare_day(plan, sown, practice)) if sown else after,
        }

    def _asked_for(self) -> bool:
        """Whether what does not fit is the day that was asked for, and not one taken in its place."""
        dated = self.plan.decisions.schedule
        passed = dated.infeasible is not None and dated.infeasible.target_passed
        return dated.asked is not None and (passed or dated.asked >= dated.first)

    def of_treatment(self) -> TreatmentWords:
        """Words that depend on the treatment and its dates."""
        chosen, dated, say = self.plan.decisions.chosen, self.plan.decisions.schedule, self.texts.say
        steps = chosen.candidate.treatment.steps if chosen else ()
        hold = chosen.candidate.treatment.hold if chosen else None
        cold = [s for s in steps if s.do in ("cold_moist", "cool_moist")]
        coldest = [s for s in cold if s.do == "cold_moist"] or cold  # cool is no cold where one follows it
        warm = [s for s in steps if s.do in ("warm_moist", "alternate")]
        target, short = dated.target, dated.infeasible
        sown = self._taken() or target
        home = at_home(self.plan, self.practice)
        held = home or (hold and hold.celsius)
        spells = bool(steps and (cold or warm))
        by = spelled_date(dated.plan.ready)
        soon = say("start_now") if dated.plan.ready <= dated.first else say("sow_on", day=by)
        undated = say("sow_when_done", day=by) if spells else soon
        return {
            "cold_range": self.units.temperature(home or _celsius(coldest) or self.practice.cold_celsius),
            "held_at": say(
                "hold_at" if held else "hold_near",
                celsius=self.units.temperature(held or Quantity(0, 0)),
            ),
            "sow_warm": sown_at(steps, self.units, self.texts),
            "cold_length": self._sum_days(cold),
            "warm_length": self._sum_days(warm),
            "rest_length": self._sum_days([s for s in steps if s.do == "after_ripen"]),
            "total_length": self._sum_days([s for s in steps if s.days is not None]),
            "sow_date": _spelled(dated.asked if short and self._asked_for() else sown),
            "said_date": _spelled(dated.asked),
            "ready_day": by,
            **self._of_seasons(),
            "sow_when": say("sow_on", day=spelled_date(sown)) if sown else undated,
            "plant_when": self._planted_out(),
            "shoot_cold": self._shoot_cold(),
            "most_by": say("most_by", day=by) if target else "",
            "start_late": start_late(self.plan, self.practice, self.texts),
            "sow_late": sow_late(self.plan, self.practice, self.texts),
            "start_when": self._start(),
            "short_by": spelled_days(short.days_short) if short else "",
        }

    def _of_seasons(self) -> SeasonWords:
        """When it comes up, and the days of the next season."""
        plan, dated, lot = self.plan, self.plan.decisions.schedule, self.plan.lot
        short, say = dated.infeasible, self.texts.say
        next_day = next_season(dated)
        start = None if next_day is None or short is None else add_days(next_day, -short.needed_days)
        up, when = plan.up, ""
        if up is not None:
            when = say("up_in_spring", year=up.up.year) if up.spring else say("up_from", day=_spelled(up.up))
        return {
            "up_when": when,
            "outdoors_on": self._outdoors_on(),
            "sown_day": _spelled(lot.sown),
            "failed_day": _spelled(up.failed) if up else "",
            "next_start": _spelled(start),
            "next_spring": say("up_in_spring", year=self._next_spring()),
        }

    def _taken(self) -> date | None:
        """The day of the sowing with its treatment behind it, where none was asked for, or its soak today."""
        plan, dated = self.plan, self.plan.decisions.schedule
        behind = dated.assumed and plan.decisions.route.steps == "none"
        return plan.sowing_day if behind or dated.target == dated.first else None

    def _shoot_cold(self) -> str:
        """How long what has rooted stays in the cold."""
        step = shoot_cold(self.plan.decisions)
        if step is None:
            return self.texts.say("until_spring")
        return self.texts.say("cold_and_until_spring", length=self._sum_days([step]))

    def _planted_out(self) -> str:
        """When what has rooted is planted out."""
        decisions = self.plan.decisions
        day = planted_out(decisions, self.practice)
        if day > decisions.schedule.first:
            return self.texts.say("sow_on", day=spelled_date(day))
        return self.texts.say("up_in_spring", year=self._next_spring())

    def _next_spring(self) -> int:
        """The year of the spring that comes next, seen from today."""
        plan, (month, day) = self.plan, map(int, self.practice.growing_opens)
        opens = season_month(month, plan.lot.southern), day
        return plan.today.year + ((plan.today.month, plan.today.day) > opens)

    def _outdoors_on(self) -> str:
        day = self.plan.sowing_day
        if day is None or day <= self.plan.decisions.schedule.first:
            return self.texts.say("start_now")
        return self.texts.say("sow_on", day=spelled_date(day))

    def _for_ten(self) -> str:
        seeds = self.plan.expected.seeds_for_ten
        return self.texts.say("for_ten_unknown") if seeds is None else number(seeds)

    def _start(self) -> str:
        dated = self.plan.decisions.schedule
        start = self.plan.begins or dated.plan.start
        if start <= self.plan.today:
            return self.texts.say("start_now")
        return self.texts.say("start_from", day=spelled_date(start))

    def _sum_days(self, steps: list[Step]) -> str:
        times = self.plan.decisions.cold_times
        spans = [days for s in steps if (days := days_at_home(s, times)) is not None]
        if not spans:
            return self.texts.say("time_it_takes")
        usual = sum(s.plan for s in spans) if any(s.usual is not None for s in spans) else None
        return spelled_days(Quantity(sum(s.low for s in spans), sum(s.high for s in spans), usual))


def _broadcast_m2(plan: Plan, practice: Practice) -> float:
    """Ground over which a lot is broadcast where it is to stand, by the size of its seed [m²]."""
    by_size = {
        "fine": practice.broadcast_fine_per_m2,
        "medium": practice.broadcast_medium_per_m2,
        "large": practice.broadcast_large_per_m2,
    }
    size = str(plan.decisions.facts["size"])
    return float(plan.decisions.size.seeds / by_size.get(size, practice.broadcast_per_m2))


def _sown_m2(plan: Plan, practice: Practice) -> float:
    """Ground over which a lot is broadcast to be pricked out: each seed as wide again on all sides."""
    own = 4 * plan.seed.width_mm * plan.seed.length_mm
    return float(plan.decisions.size.seeds * max(practice.tray_seed_mm2, own) / 1e6)


def _seedbed_m2(plan: Plan, practice: Practice) -> float:
    """Seedbed for seedlings that are lifted, by those that come where that is told [m²]."""
    plants = plan.expected.plants
    if plants is None:
        return float(plan.decisions.size.seeds / practice.seedbed_seeds_per_m2)
    return float(max(plants.mean / practice.seedbed_plants_per_m2, _sown_m2(plan, practice)))


def _spelled(day: date | None) -> str:
    return "" if day is None else spelled_date(day)


def _sentence(note: str) -> str:
    return f"{note[0].upper()}{note[1:].rstrip('.')}."


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


def _years(span: Quantity) -> str:
    low, high = f"{span.low:g}", f"{span.high:g}"
    return f"{low} {'year' if low == '1' else 'years'}" if low == high else f"{low}–{high} years"


def _graft_mm(knowledge: Knowledge, practice: Practice) -> Quantity | tuple[float, float]:
    offspring = knowledge.value("offspring")
    if offspring is not None and offspring.graft_mm is not None:
        graft: Quantity = offspring.graft_mm
        return graft
    return practice.graft_nut_mm if knowledge.record.plant == "nut tree" else practice.graft_other_mm
