"""Judge each treatment of the record for a lot: when it would run, and whether it can be used."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING, Any, Literal

from msgspec import Struct
from msgspec.structs import replace

from coldspell.arithmetic.calendar import StepDays, add_days, total_days
from coldspell.decide.emergence import emergence
from coldspell.decide.facts import (
    NO_TREATMENT,
    TreatmentContext,
    schedule_facts,
    sown_said,
    treatment_facts,
    yes,
)
from coldspell.decide.home import made_longer
from coldspell.decide.names.asks import Ask, values_of
from coldspell.decide.names.fields import (
    EmergenceFields,
    SeasonFields,
    SowingTimeFields,
    SpanFields,
    StartFields,
    TreatmentFields,
    as_fields,
)
from coldspell.decide.schedule import (
    COATS,
    Run,
    Schedule,
    Season,
    as_long_as_cold,
    first_day,
    outdoor_day,
    scheduled,
    season_of,
    sowing_target,
)
from coldspell.decide.sowing_season import sowing_season, sown_sooner
from coldspell.decide.span import Takes, planned_by, span_facts
from coldspell.decide.state import days_lain_dry
from coldspell.decide.tables import Tables
from coldspell.decide.treatment import (
    WARM_THEN_COLD,
    Candidate,
    measure_candidate,
    opens_first,
    said,
    without_optional_spells,
)
from coldspell.lot.lot import Lot
from coldspell.records.do import COLD, MOIST, OPENING
from coldspell.records.model import Record, Step, Treatment
from coldspell.rules import Decided, Firing

if TYPE_CHECKING:
    from coldspell.decide.names.facts import StepFacts


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
    """Whether spells that only help were left out for lack of time or of any cold."""

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
    moist: bool
    """Whether it lies moist."""
    shut: bool = False
    """Whether its coats kept water out so far."""
    cold_times: float = 1.0
    """How many times as long a cold lasts in the refrigerator of the grower."""
    known: dict[tuple[object, ...], Candidate] = {}
    """Candidates of the same kind as they were measured for other lots."""

    def all(self, treatments: Sequence[tuple[Treatment, Record | None]]) -> tuple[Judged, ...]:
        """Judge the treatments in the order of the record."""
        measured = [self._measured(place, t, r) for place, (t, r) in enumerate(treatments)]
        behind = any(c.already_cold == "enough" for c in measured)
        green = self.lot.gathered == "green"  # sown green it needs no summer
        sooner = not green and any(self._a_spring_sooner(c) for c in measured)
        found: list[Judged] = []
        for place, ((treatment, _), candidate) in enumerate(zip(treatments, measured, strict=True)):
            longer = any(_fails_by_time(j) for j in found)
            open_cold = self._open_cold(treatment, candidate)
            slower = candidate.outdoor_sowing and sooner
            undried = _undried(candidate, measured)
            context = TreatmentContext(behind, longer, self.moist, self._wet, open_cold, slower, undried)
            found.append(self._judge(place, treatment, candidate, context))
        return tuple(found)

    def _a_spring_sooner(self, candidate: Candidate) -> bool:
        """Whether warmth and then cold indoors, from today, end a spring before one outdoors comes up."""
        if candidate.shape != WARM_THEN_COLD or not (candidate.fits_lot and candidate.usable):
            return False
        least, planned, _ = total_days(candidate.timed)
        if not least:  # spells that may help are no sure way
            return False
        practice, southern = self.tables.practice, self.lot.southern
        first = first_day(self.lot, self.today)
        ready = add_days(first, planned)
        sown = sowing_season(practice, self.lot).day_for(ready)
        outdoors = emergence(EmergenceFields("summer_winter"), first, 0, practice, southern=southern).up
        return (outdoors - sown).days > practice.season_lost_days

    def _open_cold(self, treatment: Treatment, candidate: Candidate) -> Literal["none", "part", "enough"]:
        """How much of the cold would be behind it were its coat open, where that is why it does not count."""
        if candidate.lost_days != "coat":
            return "none"
        swollen = replace(self.lot, swollen="yes")
        return measure_candidate(treatment, candidate.record, swollen).already_cold

    def _measured(
        self, place: int, treatment: Treatment, record: Record | None, *, whole: bool = True
    ) -> Candidate:
        """What is left of the treatment in a place of the record; not ``whole``: without some spells."""
        first, lot = self.base["root_first"] == "yes" and self.base["rooted"] != "most", self.lot
        root_days = self.tables.practice.root_more_days if first else 0
        rests = any(step.do == "after_ripen" for step in treatment.steps)
        dry = (days_lain_dry(lot, self.today) if rests else 0.0, self.tables.practice.warm_celsius[-1])
        asked = [said(lot, fact) for fact in treatment.when]
        had = (lot.cold_days_done, lot.warm_days_done, lot.swollen, lot.gathered)
        key = (place, whole, self.shut, self.moist, root_days, dry, had, *asked)
        found = self.known.get(key)
        if found is None:
            if len(self.known) >= 256:  # memory stays flat over any number of lots
                self.known.clear()
            found = self.known[key] = measure_candidate(
                treatment,
                record,
                lot,
                shut=self.shut,
                lies_moist=self.moist,
                root_days=root_days,
                dry=dry,
            )
        return found if self.cold_times == 1 else made_longer(found, self.cold_times)

    def _judge(
        self, place: int, treatment: Treatment, candidate: Candidate, context: TreatmentContext
    ) -> Judged:
        facts, dated, start = self._dated(treatment, candidate, context)
        shorter = without_optional_spells(treatment)
        left_out = shorter is not None and dated.target is not None and _too_little(candidate, dated)
        no_cold = self._no_cold and any(s.do in COLD and s.need == "optional" for s in treatment.steps)
        left_out = left_out or (shorter is not None and no_cold)
        if shorter is not None and left_out:
            candidate = self._measured(place, shorter, candidate.record, whole=False)
            facts, dated, start = self._dated(shorter, candidate, context)
        asked = {**self.base, **facts}
        decide = self.tables.session.decide
        told = decide(Ask.SEASON, asked)
        season = season_of(as_fields(SeasonFields, told.fields), self.tables.practice)
        season = as_long_as_cold(season, candidate.winter_needed, self.tables.practice)
        on_dates = schedule_facts(
            candidate, dated, self.lot, season, self.tables.practice, self.base["kept_months"]
        )
        facts.update(on_dates)
        asked.update(on_dates)
        decided = decide(Ask.TREATMENT, asked)
        fields = as_fields(TreatmentFields, decided.fields)
        shown = fields.rank != "refused"
        steps = tuple(self._step(s) for s in candidate.treatment.steps) if shown else ()
        started = (*start, *told.firings)
        return Judged(candidate, dated, season, facts, started, decided, fields, steps, left_out)

    @property
    def _wet(self) -> bool:
        """Whether it has swollen, or some of it of a kind whose coats let water in."""
        some = self.lot.swollen == "some" and self.base["dormancy"] not in ("physical", "combinational")
        return some or self.lot.swollen == "yes"

    @property
    def _no_cold(self) -> bool:
        return self.lot.refrigerator == "none" and self.lot.winter in ("mild", "none")

    def _dated(
        self, treatment: Treatment, candidate: Candidate, context: TreatmentContext
    ) -> tuple[dict[str, Any], Schedule, tuple[Firing, ...]]:
        """The facts of a candidate, its steps on the calendar as the rules have it begin, and those rules."""
        practice = self.tables.practice
        decide = self.tables.session.decide
        first = first_day(self.lot, self.today)
        winter = self._winter_day(candidate) if candidate.then_outdoors else None
        if winter is not None:
            candidate = _until(candidate, (winter - first).days)
        said_of = {"sown_said": sown_said(treatment), "shape": candidate.shape}
        asked_with: dict[str, Any] = {**self.base, **NO_TREATMENT, **said_of}
        when = decide(Ask.SOWING_TIME, asked_with)
        sown = as_fields(SowingTimeFields, when.fields).time
        season = sowing_season(practice, self.lot, sown)
        asked = sowing_target(self.lot, sown_sooner(season, practice))
        coats = self._coat_days(candidate)
        opened = add_days(first, int(total_days(coats)[0]))
        lengths = span_facts(candidate, opened, asked, season, practice)
        asked_with.update(lengths)
        span = decide(Ask.SPAN, asked_with)
        takes = as_fields(SpanFields, span.fields).takes
        candidate = candidate if takes == "short" else planned_by(candidate, takes)
        facts: dict[str, Any] = {
            **treatment_facts(candidate, asked, first, season, context, practice),
            **lengths,
            "sown_when": sown,
            "span_taken": takes,
        }
        asked_with.update(facts)
        told = decide(Ask.START, asked_with)
        start = as_fields(StartFields, told.fields)
        facts["winter_met"] = yes(winter is not None)
        run = Run(
            (*coats, *self._timed(candidate, takes, start)),
            candidate.hold_days,
            start.begins,
            practice.early_start_days,
            practice.season_lost_days,
            practice.short_slack_days,
            sum(s.days.low for s in candidate.treatment.steps if s.do in MOIST and s.days),
            season if start.date != "dropped" else None,
            takes == "short",
        )
        dated = scheduled(asked if start.date == "kept" else None, first, self.today, run)
        assumed = dated.assumed and asked is None
        firings = (*when.firings, *span.firings, *told.firings)
        return facts, replace(dated, asked=asked, assumed=assumed, season=season), firings

    @staticmethod
    def _timed(candidate: Candidate, takes: Takes, start: StartFields) -> tuple[StepDays, ...]:
        """Its steps as they are planned; the shortest days are fitted to the season where one is met."""
        fitted = takes != "short" or start.date != "dropped"
        return candidate.timed if fitted else planned_by(candidate, takes).timed

    def _coat_days(self, candidate: Candidate) -> tuple[StepDays, ...]:
        """The days that trying and soaking hard coats takes, before they are opened."""
        opens = [s.do for s in candidate.treatment.steps if s.do in OPENING]
        hard = self.base["dormancy"] in ("physical", "combinational")
        wet = self.base["lain_moist"] == "yes"
        if wet or not (hard and opens and opens_first(candidate.treatment.steps)):
            return ()
        practice = self.tables.practice
        tried = self.lot.seeds > practice.batch_first_seeds
        days = practice.swell_days + tried * practice.batch_days
        return (StepDays(COATS, days, days),)

    def _winter_day(self, candidate: Candidate) -> date | None:
        """The last day on which its warmth can end in time for a winter; ``None``: there is none."""
        practice = self.tables.practice
        (m1, d1), (m2, d2) = practice.late_autumn_opens, practice.late_autumn_closes
        winter = Season((int(m1), int(d1)), (int(m2), int(d2)), int(practice.late_autumn_least_days))
        first = first_day(self.lot, self.today)
        least, _, most = total_days(candidate.timed)
        lot = replace(self.lot, sow=None, last_frost=None)
        days = (add_days(first, n) for n in range(most, least - 1, -1))
        return next((day for day in days if outdoor_day(lot, day, winter) == day), None)

    def _step(self, step: Step) -> Firing:
        facts: StepFacts = {
            "do": step.do,
            "step_ends": step.until,
            "step_short": yes(step.minutes is not None),
            "step_noted": yes(step.note),
        }
        return self.tables.session.decide(Ask.STEP, values_of(facts)).firings[0]


def _undried(candidate: Candidate, all_of_them: Sequence[Candidate]) -> Literal["no", "same", "other"]:
    """Whether it is offered for seed that never dried, and whether dried seed would get other spells."""
    for_any = [c for c in all_of_them if c.fits_lot and not _for_undried(c)]
    if not _for_undried(candidate) or not for_any:
        return "no"
    return "same" if for_any[0].shape == candidate.shape else "other"


def _for_undried(candidate: Candidate) -> bool:
    return candidate.fits_lot and candidate.treatment.when.get("moisture") == "fresh"


def _until(candidate: Candidate, days: int) -> Candidate:
    """The candidate with a warmth that lasts so many days."""
    timed = tuple(replace(s, usual_days=days) if s.name in MOIST else s for s in candidate.timed)
    return replace(candidate, timed=timed)


def _fails_by_time(judged: Judged) -> bool:
    """Whether a treatment that the record puts first would do if there were more time."""
    short = judged.schedule.days_spare_short
    return judged.fields.rank == "possible" and short is not None and short < 0


def _too_little(candidate: Candidate, dated: Schedule) -> bool:
    """Whether the time left is less than the shortest of every spell, the ones that only help included."""
    least = sum(s.days.low for s in candidate.treatment.steps if s.do in MOIST and s.days)
    emptied = any(step.name in MOIST and step.days == 0 for step in dated.plan.steps)
    if dated.infeasible is not None and dated.infeasible.target_passed:  # it is planned for another day
        return emptied
    return dated.infeasible is not None and (emptied or dated.infeasible.available_days < least)
