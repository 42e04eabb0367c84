"""The plan for one lot: dates, amounts, numbers and names of rules. Values only; the recipe adds texts."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from msgspec import Struct
from msgspec.structs import replace

from coldspell.arithmetic.calendar import add_days
from coldspell.arithmetic.seasons import in_months
from coldspell.decide.decide import Decisions
from coldspell.decide.emergence import Emergence, comes_up, shoot
from coldspell.decide.expect import Expected, expected
from coldspell.decide.facts import yes
from coldspell.decide.names.asks import Ask, values_of
from coldspell.decide.names.fields import (
    AliveFields,
    EmergenceFields,
    FigureFields,
    InGroundFields,
    LayoutFields,
    MaterialFields,
    MediumFields,
    as_fields,
)
from coldspell.decide.practice import Practice
from coldspell.decide.sizing import SeedMeasure
from coldspell.decide.sowing_season import sowing_season
from coldspell.decide.state import is_growing
from coldspell.decide.tables import Tables
from coldspell.lot.lot import Lot
from coldspell.plan.amounts import Amounts, amounts
from coldspell.plan.looks import Looks, hold_until, plan_looks
from coldspell.plan.minds import minded
from coldspell.plan.notes import note_facts
from coldspell.plan.steps import PlanStep, plan_steps
from coldspell.records.do import COLD, MOIST
from coldspell.records.model import Step
from coldspell.rules import Decided, Firing

if TYPE_CHECKING:
    from collections.abc import Mapping

    from coldspell.decide.names.facts import GroundFacts, NoteFacts, RipeningFacts
    from coldspell.plan.trial import TrialPlan
    from coldspell.rules.model import FactValue


class Dated(Struct, frozen=True):
    """The days, amounts and plants of a lot: all that many lots side by side are planned by."""

    decisions: Decisions
    today: date
    steps: tuple[PlanStep, ...]
    seed: SeedMeasure
    amounts: Amounts
    looks: Looks
    hold_until: date | None
    expected: Expected

    def __repr__(self) -> str:
        """In a line: the whole has the record, the rules and every answer in it."""
        sown = f", sown {self.sowing_day}" if self.sowing_day else ""
        return f"<{type(self).__name__} {self.name}: {self.route}, {len(self.steps)} steps{sown}>"

    @property
    def lot(self) -> Lot:
        """The lot as it was understood."""
        return self.decisions.lot

    @property
    def name(self) -> str:
        """The botanical name of the kind."""
        return self.decisions.knowledge.record.name

    @property
    def route(self) -> str:
        """Which way the lot goes, as the rules name it."""
        return self.decisions.answer(Ask.ROUTE) or ""

    @property
    def sowing_day(self) -> date | None:
        """The day on which it is sown or planted; ``None`` where it is not, or where days are counted."""
        return next((step.start for step in self.steps if step.do == "sow"), None)

    @property
    def begins(self) -> date | None:
        """The day on which hands begin with the treatment; ``None`` where it has no moist days.

        That is the first soak, the coat, the first spell; what waits begins nothing. Seed that is soaked to
        revive it is so at once.
        """
        if not any(step.do in MOIST and step.start for step in self.steps):
            return None
        alive = self.decisions.fields(Ask.ALIVE, AliveFields)
        if alive is not None and alive.revives == "yes":
            return self.decisions.schedule.first
        return next((step.start for step in self.steps if step.start and step.do != "hold"), None)


class Plan(Dated, frozen=True):
    """What is to be done for a lot asked about on a day."""

    cautions: tuple[Firing, ...]
    """What must be minded all along; the rest stands in its step."""
    notes: tuple[Firing, ...]
    """What the grower should know of what was assumed; the rules say it."""
    note_facts: NoteFacts
    up: Emergence | None
    """When it comes up; ``None`` where nothing is sown."""
    ground: tuple[Firing, ...]
    """Which rule says what must still pass from the day on which it is sown."""
    opening: tuple[Firing, ...]
    """What is said before the answer, if anything; the field says whether."""
    trial: TrialPlan | None = None
    """How to learn what it wants, where nothing is known of it or a trial was asked for."""


def make_plan(decisions: Decisions, today: date, tables: Tables, *, trial: bool = False) -> Plan:
    """Fill what was decided with dates, amounts and numbers; with a ``trial`` where it is wanted or needed.

    Raises
    ------
    ColdspellError
        No seed fits the container that the grower named.
    """
    practice = tables.practice
    seed = decisions.size.seed
    amount = _amounts(decisions, practice)
    until = hold_until(decisions)
    steps, cautions = minded(decisions, plan_steps(decisions, today, practice))
    steps = tuple(_with_ripening(step, decisions, today, tables) for step in steps)
    day = _sown_on(decisions, steps)
    decided = decisions.all_facts(tables)
    ground = None if day is None else _in_ground(decisions, day, tables, decided)
    up = None if day is None or ground is None else _comes_up(decisions, day, ground, practice)
    sown = next((step.start for step in steps if step.do == "sow"), None)
    facts = note_facts(decisions, today, until, amount, seed, practice, up, sown)
    known = {**decided, **values_of(facts)}
    learning = trial or decisions.route.page == "trial"
    notes, opening = (tables.session.decide(ask, known) for ask in (Ask.NOTES, Ask.OPENING))
    return Plan(
        decisions=decisions,
        today=today,
        steps=steps,
        cautions=cautions,
        seed=seed,
        amounts=amount,
        looks=plan_looks(decisions, practice),
        hold_until=until,
        expected=_expected(decisions, practice),
        notes=notes.firings,
        note_facts=facts,
        up=up,
        ground=ground.firings if ground else (),
        opening=opening.firings[:1],
        trial=_learning(decisions, today, tables, known) if learning else None,
    )


def _with_ripening(step: PlanStep, decisions: Decisions, today: date, tables: Tables) -> PlanStep:
    """The step with the rule on what its record notes of fresh seed, where it has a note and a day."""
    noted = step.adds or (step.of_record is not None and step.of_record.note)
    if not noted or step.start is None:
        return step
    harvest = decisions.knowledge.value("harvest")
    months = harvest.months if harvest is not None else None
    told: RipeningFacts = {
        "step_in_season": yes(in_months(step.start, *months, southern=decisions.lot.southern))
        if months is not None
        else "unknown",
        "step_later": yes((step.start - today).days > tables.practice.look_every_days),
    }
    facts = {**values_of(decisions.facts), **values_of(told)}
    return replace(step, ripening=tables.session.decide(Ask.RIPENING, facts).firings[0])


def _learning(
    decisions: Decisions, today: date, tables: Tables, noted: Mapping[str, FactValue]
) -> TrialPlan:
    from coldspell.plan.trial import plan_trial  # few recipes have one

    return plan_trial(decisions, today, tables, noted)


LOOKED_AT = (
    *(Ask.AFTER_SOWING, Ask.SORTING, Ask.PREPARATION, Ask.TEST, Ask.MEANWHILE, Ask.OUTDOORS_WAIT, Ask.ALIVE),
    *(Ask.SOAK_HOURS, Ask.FINISH, Ask.IDENTITY, Ask.MEDIUM, Ask.MATERIAL, Ask.LAYOUT, Ask.FIGURE, Ask.ROUTE),
)
"""Decisions that `date_plan` goes by."""


def date_plan(decisions: Decisions, today: date, practice: Practice) -> Dated:
    """The days, amounts and plants of `make_plan`, for which only some decisions have to be asked.

    Raises
    ------
    ColdspellError
        No seed fits the container that the grower named.
    """
    return Dated(
        decisions=decisions,
        today=today,
        steps=plan_steps(decisions, today, practice),
        seed=decisions.size.seed,
        amounts=_amounts(decisions, practice),
        looks=plan_looks(decisions, practice),
        hold_until=hold_until(decisions),
        expected=_expected(decisions, practice, plants_only=True),
    )


def up_of(plan: Dated, tables: Tables) -> Emergence | None:
    """When it comes up: after the day it was sown on, or is to be sown on; ``None`` where nothing is sown."""
    day = _sown_on(plan.decisions, plan.steps)
    if day is None:
        return None
    ground = _in_ground(plan.decisions, day, tables, plan.decisions.all_facts(tables))
    return _comes_up(plan.decisions, day, ground, tables.practice)


def _expected(decisions: Decisions, practice: Practice, *, plants_only: bool = False) -> Expected:
    candidate = decisions.chosen.candidate if decisions.chosen else None
    figure = decisions.fields(Ask.FIGURE, FigureFields)
    lot = _as_grown(decisions)
    return expected(decisions.knowledge, candidate, lot, figure, practice, plants_only=plants_only)


def _sown_on(decisions: Decisions, steps: tuple[PlanStep, ...]) -> date | None:
    """The day on which it was sown, or is to be sown or potted."""
    return decisions.lot.sown or next((step.start for step in steps if step.do == "sow"), None)


def _in_ground(
    decisions: Decisions, day: date, tables: Tables, decided: Mapping[str, FactValue]
) -> Decided:
    """What the rules say of the seasons that must still pass from the day on which it is sown."""
    growing = is_growing(day, tables.practice, southern=decisions.lot.southern)
    facts: GroundFacts = {"rests": decisions.rests.rests, "sown_growing": yes(growing)}
    return tables.session.decide(Ask.IN_GROUND, {**decided, **values_of(facts)})


def _comes_up(decisions: Decisions, day: date, ground: Decided, practice: Practice) -> Emergence:
    left, southern = as_fields(InGroundFields, ground.fields).left, decisions.lot.southern
    if left == "shoot":
        cold = shoot_cold(decisions)
        least = cold.days.low if cold is not None and cold.days else 0
        return shoot(day, least, practice, southern=southern)
    rests = decisions.rests if left == "as_it_rests" else EmergenceFields(left)
    needs = decisions.chosen.candidate.winter_needed if decisions.chosen else None
    return comes_up(rests, day, decisions.knowledge, practice, southern=southern, needs=needs)


def shoot_cold(decisions: Decisions) -> Step | None:
    """The cold that the shoot waits for once the root is out; ``None`` where none is on record."""
    chosen = [decisions.chosen.candidate.treatment] if decisions.chosen else []
    every = (*chosen, *(treatment for treatment, _ in decisions.knowledge.treatments()))
    last = (next((s for s in reversed(one.steps) if s.do in MOIST), None) for one in every)
    return next((step for step in last if step is not None and step.do in COLD and step.days), None)


def planted_out(decisions: Decisions, practice: Practice) -> date:
    """The day on which what has rooted is planted out: the one asked for, else the first of the season.

    The day of the plan is that of the others, which may have all their cold before them. What has rooted is
    not held for a day that lies in another year.
    """
    dated = decisions.schedule
    near = add_days(dated.first, int(practice.rooted_wait_days))
    if dated.asked is not None and dated.first < dated.asked <= near:
        return dated.asked
    frost_free = decisions.facts["sown_when"] == "frost_free"
    season = sowing_season(practice, decisions.lot, "frost_free" if frost_free else "spring")
    return season.day_for(dated.first)


def _amounts(decisions: Decisions, practice: Practice) -> Amounts:
    medium = decisions.fields(Ask.MEDIUM, MediumFields)
    if medium is None:
        return Amounts()
    layout = decisions.fields(Ask.LAYOUT, LayoutFields)
    material = decisions.fields(Ask.MATERIAL, MaterialFields)
    single = 1 if layout is not None and layout.layers == "one" else None
    same_as = material.same_as if material else ""
    return amounts(medium, same_as, decisions.size, decisions.lot, practice, layers_max=single)


def _as_grown(decisions: Decisions) -> Lot:
    """What is started; outdoors it has the losses of a bed, wherever the grower meant to raise it."""
    lot, started = decisions.lot, decisions.size.seeds
    if lot.want is not None and started + lot.rooted < lot.seeds:
        lot = replace(lot, seeds=started + lot.rooted)  # no more are started than the plants wanted take
    bed = decisions.route.losses == "bed" and lot.grow_in == "container"
    return replace(lot, grow_in="bed") if bed else lot
