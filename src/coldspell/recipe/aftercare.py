"""Looking, waiting, sowing, and what to expect."""

from __future__ import annotations

from datetime import date

from coldspell.arithmetic.calendar import add_days
from coldspell.recipe import practice
from coldspell.recipe.amounts import SeedMeasure
from coldspell.recipe.candidate import MOIST
from coldspell.recipe.case import Case
from coldspell.recipe.dates import iso, look_dates, look_days
from coldspell.recipe.expect import LEVEL, Expected
from coldspell.recipe.recipe import Checks, Expectation, Hold, Look, Sowing
from coldspell.recipe.steps import range_of
from coldspell.recipe.wording import number
from coldspell.recipe.words import depth_mm, fill


def hold(case: Case) -> Hold | None:
    """How long it may wait."""
    if case.decisions.answer("wait") is None:
        return None
    chosen = case.decisions.chosen
    hold = chosen.candidate.treatment.hold if chosen else None
    recorded = hold if case.decisions.answer("wait") == "as_recorded" else None
    cites = case.footnotes.of_rules(case.decisions.answers["wait"].firings)
    if recorded and chosen:
        cites = case.footnotes.of_record(chosen.candidate.record, recorded.cite)
    until = hold_until(case) if recorded else None
    return Hold(
        says=case.said("wait"),
        days=range_of(recorded.days) if recorded else None,
        celsius=range_of((recorded and recorded.celsius) or practice.HOLD_CELSIUS) if recorded else None,
        until=iso(until),
        cites=cites,
    )


def hold_until(case: Case) -> date | None:
    """Last day to which the recorded days to hold reach.

    Seed that is sown at once waits from the day it was gathered, treated seed from the earliest day it is
    ready.
    """
    chosen, dated = case.decisions.chosen, case.decisions.schedule
    hold = chosen.candidate.treatment.hold if chosen else None
    if hold is None:
        return None
    if case.decisions.answer("route") == "sow_now_or_hold":
        return add_days(case.lot.collected or dated.first, int(hold.days.high))
    return dated.plan.hold_until if dated.target and dated.infeasible is None else None


def checks(case: Case) -> Checks | None:
    """When to look and what for."""
    testing = case.decisions.answer("route") == "test_first"
    name = "test_results" if testing else "looks"
    decided = case.decisions.answers.get(name)
    if decided is None or not decided.applies:
        return None
    dated, form = case.decisions.schedule, case.decisions.answer("medium") or ""
    moist = [s for s in dated.plan.steps if s.name in MOIST]
    days: tuple[int, ...] = ()
    if moist and case.decisions.answer("route") in ("treat_indoors", "warm_indoors"):
        total = treated = (moist[-1].end - moist[0].start).days
        if dated.held and dated.target:
            total = (dated.target - moist[0].start).days
        least = treated - moist[-1].days + max(0, (moist[-1].least_end - moist[-1].start).days)
        if moist[-1].until != "ready":  # the seed decides, so look weekly from early on
            least = min(least, total // 3 + practice.LOOK_WEEKLY_WITHIN_DAYS)
        days = look_days(total, least, form)
    first = moist[0].start if moist else dated.first
    offset = (first - dated.plan.start).days if moist else 0
    return Checks(
        dates=tuple(d.isoformat() for d in look_dates(first, days)) if dated.target else (),
        days=tuple(offset + d for d in days),
        every_days_after=None if testing else 7 if days else 14,
        looks=tuple(
            Look(case.text(name, f.answer), fill(f.text or "", case.words), f.rule) for f in decided.firings
        ),
        on_mould=case.said("on_mould") or None,
        on_sprouts=case.said("on_sprouts") or None,
    )


def sowing(case: Case, seed: SeedMeasure) -> Sowing | None:
    """How deep and how warm."""
    if case.decisions.answer("finish") is None:
        return None
    sowing, germination = case.knowledge.find("sowing"), case.knowledge.find("germination")
    cites = case.footnotes.of_rules(case.decisions.answers["finish"].firings)
    if sowing is not None:
        cites = tuple(dict.fromkeys((*case.footnotes.of_record(sowing.record, sowing.value.cite), *cites)))
    target = case.decisions.schedule.target
    cool = case.decisions.answer("warmth") == "cool"
    limit = (
        sowing.value.celsius_max.high if sowing and sowing.value.celsius_max else practice.SOW_COOL_CELSIUS
    )
    uncovered = case.decisions.answer("finish") in ("surface_light", "surface_fine")
    return Sowing(
        says=case.said("finish"),
        warmth=case.said("warmth") or None,
        date=iso(target),
        depth_mm=None if uncovered else range_of(depth_mm(case.knowledge, seed)),
        celsius_max=limit if cool else None,
        comes_up_days=range_of(germination.value.days) if germination and _tells(case) else None,
        cites=cites,
    )


def _tells(case: Case) -> bool:
    """Whether the days of a germination test tell when the seedlings show.

    Not for sprouted or wintered seed, nor where the root comes long before the shoot, nor when the days were
    counted in the cold.
    """
    facts = case.decisions.facts
    ready = case.decisions.answer("route") not in ("plant_now", "pot_and_keep_cold", "sow_now_wintered")
    return ready and facts["root_first"] == "no" and facts["ends"] == "ready"


def expectation(case: Case, found: Expected) -> Expectation | None:
    """Plants to expect."""
    if case.decisions.answer("finish") is None:
        return None
    lot, plants = case.lot, found.plants
    per_kg = case.knowledge.value("seeds_per_kg")
    mass = None
    if per_kg is not None:
        typical = (
            per_kg.value.usual
            if per_kg.value.usual is not None
            else (per_kg.value.low + per_kg.value.high) / 2
        )
        mass = float(f"{lot.seeds / typical * 1000:.3g}")
    middle = round(plants.mean)
    share = f"{round(LEVEL * 10)} times in ten".replace("9 times", "nine times")
    several = "plant" if middle == 1 else "plants"
    says = f"about {number(middle)} {several} ({number(plants.low)} to {number(plants.high)}, {share})"
    cites: tuple[int, ...] = ()
    for topic in found.cited:
        source = case.knowledge.find(topic)
        if source is not None:
            cites += case.footnotes.of_record(source.record, source.value.cite)
    return Expectation(
        seeds=lot.seeds,
        seeds_mass_g=mass,
        plants=(plants.low, middle, plants.high),
        says=says,
        seeds_for_wanted=found.seeds_for_wanted,
        assumed=found.assumed,
        cites=tuple(dict.fromkeys(cites)),
    )
