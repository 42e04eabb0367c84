"""Judge each treatment of the record for a lot: when it would run, and whether it can be used."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

import msgspec
from msgspec import Struct
from msgspec.structs import replace

from coldspell.decide.facts import TreatmentContext, schedule_facts, treatment_facts, yes
from coldspell.decide.names import Ask, SeasonFields, StartFields, StepFacts, TreatmentFields, values_of
from coldspell.decide.schedule import Schedule, Season, schedule, season_of
from coldspell.decide.tables import Tables
from coldspell.decide.treatment import Candidate, measure_candidate, without_optional_spells
from coldspell.lot.lot import Lot
from coldspell.records.do import MOIST
from coldspell.records.model import Record, Step, Treatment
from coldspell.rules import Decided, Firing


class Judged(Struct, frozen=True):
    """A candidate, its dates, and what the rules say of it and of each of its steps."""

    candidate: Candidate
    schedule: Schedule
    season: Season
    facts: dict[str, Any]
    started: tuple[Firing, ...]
    """The rules that say when it begins, and in which season outdoors."""
    decided: Decided
    fields: TreatmentFields
    steps: tuple[Firing, ...]
    """The rule for each step of the treatment."""
    left_out: bool
    """Whether spells that only help were left out for lack of time."""

    @property
    def ruled(self) -> list[tuple[Firing, str | None]]:
        """The rules for its steps, each once, with the name of the treatment."""
        name = self.candidate.treatment.name
        return [(firing, name) for firing in {f.rule: f for f in self.steps}.values()]


class Judging(Struct, frozen=True):
    """One lot before its treatments are judged."""

    base: dict[str, Any]
    lot: Lot
    today: date
    tables: Tables

    def all(self, treatments: Sequence[tuple[Treatment, Record | None]]) -> tuple[Judged, ...]:
        """Judge the treatments in the order of the record."""
        measured = [measure_candidate(t, r, self.lot) for t, r in treatments]
        behind = any(c.already_cold == "enough" for c in measured)
        context = TreatmentContext(self.tables.practice.wintered_wait_days, behind)
        return tuple(self._judge(t, c, context) for (t, _), c in zip(treatments, measured, strict=True))

    def _judge(self, treatment: Treatment, candidate: Candidate, context: TreatmentContext) -> Judged:
        facts, dated, start = self._dated(treatment, candidate, context)
        shorter = without_optional_spells(treatment)
        left_out = shorter is not None and dated.target is not None and _too_little(candidate, dated)
        no_cold = self.lot.refrigerator == "none" and self.lot.winter in ("mild", "none")
        if shorter is not None and (left_out or no_cold):
            candidate = measure_candidate(shorter, candidate.record, self.lot)
            facts, dated, start = self._dated(shorter, candidate, context)
        asked = {**self.base, **facts}
        decide = self.tables.session.decide
        told = decide(Ask.SEASON, asked)
        season = season_of(msgspec.convert(told.fields, SeasonFields), self.tables.practice)
        facts |= schedule_facts(candidate, dated, self.lot, season)
        decided = decide(Ask.TREATMENT, {**asked, **facts})
        fields = msgspec.convert(decided.fields, TreatmentFields)
        shown = fields.rank != "refused"
        steps = tuple(self._step(s) for s in candidate.treatment.steps) if shown else ()
        started = (*start.firings, *told.firings)
        return Judged(candidate, dated, season, facts, started, decided, fields, steps, left_out)

    def _dated(
        self, treatment: Treatment, candidate: Candidate, context: TreatmentContext
    ) -> tuple[dict[str, Any], Schedule, Decided]:
        """The facts of a candidate, and its steps on the calendar as the rules have it begin."""
        facts: dict[str, Any] = {**treatment_facts(candidate, self.lot, self.today, context)}
        told = self.tables.session.decide(Ask.START, {**self.base, **facts})
        start = msgspec.convert(told.fields, StartFields)
        lot = self.lot if start.date == "kept" else replace(self.lot, sow=None, last_frost=None)
        hold = treatment.hold.days.high if treatment.hold else None
        at_once = start.begins == "at_once"
        return facts, schedule(candidate.timed, lot, self.today, hold, at_once=at_once), told

    def _step(self, step: Step) -> Firing:
        facts: StepFacts = {
            "do": step.do,
            "step_ends": step.until,
            "step_short": yes(step.minutes is not None),
        }
        return self.tables.session.decide(Ask.STEP, values_of(facts)).firings[0]


def _too_little(candidate: Candidate, dated: Schedule) -> bool:
    """Whether the time left is less than the shortest of every spell, the ones that only help included."""
    least = sum(s.days.low for s in candidate.treatment.steps if s.do in MOIST and s.days)
    return dated.infeasible is not None and dated.infeasible.available_days < least
