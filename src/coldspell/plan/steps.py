"""The things to do, in order and dated: preparation, waiting, the treatment, sowing. Values only."""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import date

from msgspec import Struct
from msgspec.structs import replace

from coldspell.arithmetic.calendar import DatedStep, add_days
from coldspell.decide.decide import Decisions, fields_of
from coldspell.decide.emergence import comes_up
from coldspell.decide.judge import Judged
from coldspell.decide.names.asks import Ask
from coldspell.decide.names.fields import (
    AfterSowingFields,
    AliveFields,
    FinishFields,
    OutdoorsWaitFields,
    PreparationFields,
    SoakHoursFields,
    as_fields,
)
from coldspell.decide.practice import Practice
from coldspell.decide.schedule import COATS, outdoor_day
from coldspell.plan.first_days import contained, days_of
from coldspell.records.do import FIRST, LAST, MOIST, TIMED, Do
from coldspell.records.model import Step as RecordStep
from coldspell.rules import Firing


class PlanStep(Struct, frozen=True):
    """One thing to do. It comes from rules, or from a step of the record's treatment and the rule for that.

    ``adds`` is what the record adds to a sowing, ``minds`` the cautions that belong to the step;
    ``ripening`` says whether what its record notes of fresh seed is told, where it has a note and a day.
    """

    do: Do
    rules: tuple[Firing, ...]
    of_record: RecordStep | None = None
    adds: tuple[str, ...] = ()
    minds: tuple[Firing, ...] = ()
    ripening: Firing | None = None
    start: date | None = None
    end: date | None = None
    end_earliest: date | None = None
    end_latest: date | None = None

    @property
    def timeless(self) -> bool:
        """Whether it has no dates."""
        return self.start is None

    @property
    def known_by(self) -> tuple[object, ...]:
        """What makes two steps the same thing to do."""
        return (self.do, tuple((f.decision, f.answer) for f in self.rules), self.of_record, self.adds)


def plan_steps(decisions: Decisions, today: date, practice: Practice) -> tuple[PlanStep, ...]:
    """Every step for a lot, in order."""
    if decisions.lot.sown is not None and decisions.rules(Ask.AFTER_SOWING):
        return _after_sowing(decisions, decisions.lot.sown, today, practice)
    return _Planner(decisions, practice).all()


def _after_sowing(decisions: Decisions, sown: date, today: date, practice: Practice) -> tuple[PlanStep, ...]:
    """What is done, and looked for, once it lies in the ground."""
    southern = decisions.lot.southern
    needs = decisions.chosen.candidate.winter_needed if decisions.chosen else None
    up = comes_up(decisions.rests, sown, decisions.knowledge, practice, southern=southern, needs=needs)
    steps = []
    for firing in decisions.rules(Ask.AFTER_SOWING):
        fields = fields_of(firing, AfterSowingFields)
        day = {"now": today, "up": max(up.up, today), "failed": max(up.failed, today)}[fields.day]
        end = max(up.up, today) if fields.day == "now" else day
        steps.append(PlanStep(fields.do, (firing,), start=day, end=end))
    return tuple(steps)


def soak_hours(decisions: Decisions, practice: Practice) -> tuple[float, float]:
    """Least and most hours in which dry seed of a kind takes up water, as the rules say."""
    fields = as_fields(SoakHoursFields, decisions.decided(Ask.SOAK_HOURS).fields)
    hours = {
        "recalcitrant": practice.soak_recalcitrant_hours,
        "conifer": practice.soak_conifer_hours,
        "stone": practice.soak_stone_hours,
        "nut": practice.soak_nut_hours,
        "pip": practice.soak_pip_hours,
    }
    return hours[fields.hours]


def read_day(decisions: Decisions, practice: Practice) -> date:
    """The day on which seed on wet paper is read: after the soak and the days of the test."""
    soak = math.ceil(soak_hours(decisions, practice)[1] / 24)
    return add_days(decisions.schedule.first, soak + int(practice.paper_days))


_APART = frozenset({"clean", "test"})
"""What the state of a lot asks for does not stand in for the record's own: its wax is not the lot's mould."""


class _Planner(Struct, frozen=True):
    """One lot whose steps are planned."""

    decisions: Decisions
    practice: Practice

    def all(self) -> tuple[PlanStep, ...]:
        """Every step in order."""
        route, held = self.decisions.route, self.decisions.schedule.held
        waits = self._meanwhile()
        first = held or (route.sown == "later" and route.lies != "dry")  # prepared before it is laid down
        after = waits if first else []
        waits = [] if first else waits
        late = [] if waits else self._coats(self._prepared("before_treatment"))
        steps = self._judged([s for s in late if s.timeless])
        chosen = self.decisions.chosen
        steps += [*(s for s in late if not s.timeless), *self._wetted(waits)]
        if chosen is not None and self._whole:
            steps += self._treatment(chosen)
        elif chosen is not None and route.steps != "none":
            steps += self._plain(chosen, outdoors=bool(waits))
        steps = self._contained(_once([*steps, *after, *self._sowing()]))
        return tuple(self._with_reading(steps))

    def _contained(self, steps: list[PlanStep]) -> list[PlanStep]:
        """With the days that the preparation of a lot takes which is sown at once."""
        first = self.decisions.schedule.first
        sown = next((step for step in steps if step.do == "sow"), None)
        if sown is None or sown.start is None:
            return steps
        if sown.start == first:
            return contained(steps, first, self._leads)
        return steps if self._whole else self._led_to(self._before_wait(steps), sown.start)

    def _before_wait(self, steps: list[PlanStep]) -> list[PlanStep]:
        """With the days of a soak, or of coats that are tried, before it is laid down moist to wait."""
        first, held = self.decisions.schedule.first, self.decisions.schedule.held
        at = next((i for i, step in enumerate(steps) if held and step.do == "hold"), None)
        if at is None:
            return steps
        led = contained(steps[:at], first, self._leads)
        done = max((step.end for step in led if step.end is not None), default=first)
        wait = steps[at]
        start = done if wait.start is None or wait.start < done else wait.start
        left = [replace(wait, start=start)] if wait.end is None or start < wait.end else []
        return [*led, *left, *steps[at + 1 :]]

    def _led_to(self, steps: list[PlanStep], day: date) -> list[PlanStep]:
        """With the soaks of its record before a sowing on a later day; the wait before them ends sooner."""
        led_up = [s for s in steps if s.of_record is not None and self._leads(s)]
        soaks = [s for s in led_up if s.start is None or s.start == s.end == day]
        start = add_days(day, -sum(map(self._leads, soaks)))
        if not soaks or start < self.decisions.schedule.first:
            return steps
        led, begins = [], start
        for step in steps:
            if step in soaks:
                led.append(replace(step, start=begins, end=(begins := add_days(begins, self._leads(step)))))
            elif step.end == day and step.start is not None and step.start < start:
                led.append(replace(step, end=start))
            else:
                led.append(step)
        return led

    def _leads(self, step: PlanStep) -> int:
        """Days that a step takes which comes before a sowing at once."""
        if step.of_record is not None:
            if step.do not in ("soak", "leach"):
                return 0
            hours, days = step.of_record.hours, step.of_record.days
            return days_of(24 * days.high if days else hours.high if hours else 0)
        return self._takes(step) if step.rules[0].decision in (Ask.SORTING, Ask.PREPARATION) else 0

    @property
    def _whole(self) -> bool:
        """Whether the steps of the treatment are dated."""
        steps, dated = self.decisions.route.steps, self.decisions.schedule.target is not None
        return steps == "whole" or (steps == "whole_if_dated" and dated)

    @property
    def _under_way(self) -> bool:
        return self.decisions.facts["lain_moist"] == "yes"

    @property
    def _soaked(self) -> bool:
        """Whether it is soaked before all else, so that no soak of the record follows."""
        alive = self.decisions.fields(Ask.ALIVE, AliveFields)
        revived = alive is not None and alive.revives == "yes"
        return revived and any(step.do == "soak" for step in self._prepared("judged"))

    def _prepared(self, when: str) -> list[PlanStep]:
        """The preparation that is done at one time; a lot under way has some of it behind it."""
        steps = []
        for decision in (Ask.SORTING, Ask.PREPARATION):
            for firing in self.decisions.rules(decision):
                fields = fields_of(firing, PreparationFields)
                if fields.when == when and not (fields.under_way == "done" and self._under_way):
                    steps.append(PlanStep(fields.do, (firing,)))
        return steps

    def _with_reading(self, steps: list[PlanStep]) -> list[PlanStep]:
        """With the day on which a test beside the treatment is read, after what begins before it."""
        found = self._prepared("read")
        if not found:
            return steps
        day = read_day(self.decisions, self.practice)
        read = [replace(step, start=day, end=day) for step in found]
        later = (i for i, step in enumerate(steps) if step.start is not None and step.start > day)
        at = next(later, len(steps))
        if at == len(steps) and steps and steps[-1].do == "sow" and steps[-1].start is None:
            at -= 1
        return [*steps[:at], *read, *steps[at:]]

    def _ruled(self, decision: str, do: Do) -> list[PlanStep]:
        rules = self.decisions.rules(decision)
        return [PlanStep(do, rules)] if rules else []

    def _judged(self, untimed: list[PlanStep]) -> list[PlanStep]:
        """What has to come off, by rules and record, and then the tests: wax, wings and flesh float."""
        record, first = self._first(), self._prepared("first")
        tests = [*self._prepared("judged"), *untimed, *self._ruled(Ask.TEST, "test")]
        notes = {s.do: s.of_record.note for s in record if s.of_record is not None and s.do not in _APART}
        off = [replace(s, adds=_noted(notes.get(s.do))) for s in first]
        done = {s.do for s in first if s.do not in _APART} | {s.do for s in tests if s.do == "test"}
        left = [s for s in record if s.do not in done]
        return [*off, *(s for s in left if s.do != "test"), *tests, *(s for s in left if s.do == "test")]

    def _first(self) -> list[PlanStep]:
        """Steps of the treatment that belong to the preparation; so few that none is spared get no test."""
        chosen = self.decisions.chosen
        if chosen is None or self.decisions.route.steps == "none" or self._under_way:
            return []
        few = self.decisions.lot.seeds < self.practice.cut_share
        steps = enumerate(chosen.candidate.treatment.steps)
        return [_of_record(chosen, i) for i, s in steps if s.do in FIRST and not (few and s.do == "test")]

    def _meanwhile(self) -> list[PlanStep]:
        """The waiting: before the treatment, or after it when that was begun at once."""
        steps, dated = self._ruled(Ask.MEANWHILE, "hold"), self.decisions.schedule
        start, end = dated.first, dated.plan.start
        if self.decisions.route.sown == "later":
            return [replace(step, start=start, end=self._without_cold()) for step in steps]
        if self.decisions.route.sown == "outdoor_day":
            end = self._outdoors()
        elif dated.target is None:
            return []
        elif dated.held:
            start, end = dated.plan.ready, dated.target
        return [replace(step, start=start, end=end) for step in steps if end > start]

    def _without_cold(self) -> date:
        """How long seed waits for a cold place: dry until the cold must begin, moist for some weeks."""
        dated = self.decisions.schedule
        if self.decisions.route.lies != "dry":
            return add_days(dated.first, int(self.practice.no_cold_days))
        if dated.target is None:
            return dated.first
        return max(dated.first, dated.target - (dated.plan.ready - dated.plan.start))

    def _wetted(self, waits: list[PlanStep]) -> list[PlanStep]:
        """The waiting, and what wets dry seed on its last days; the waiting gives way to a soak."""
        if not waits:
            return []
        wait, late = waits[0], []
        first, end = wait.start, wait.end
        assert first is not None
        assert end is not None
        steps = self._prepared("before_treatment")
        if self._coat_days is not None and self._whole:
            return [wait, *self._coats(steps)]
        days = [self._takes(step) for step in steps]
        start = max(first, add_days(end, -sum(days)))
        wait = replace(wait, end=start)
        for step, length in zip(steps, days, strict=True):
            done = min(end, add_days(start, length))
            late.append(replace(step, start=start, end=done))
            start = done
        return [wait, *late]

    @property
    def _coat_days(self) -> DatedStep | None:
        """The days on which hard coats are tried and soaked."""
        return next((step for step in self.decisions.schedule.plan.steps if step.name == COATS), None)

    def _coats(self, steps: list[PlanStep]) -> list[PlanStep]:
        """What is done before coats are opened, on the days that are kept for it."""
        days = self._coat_days
        if days is None or not self._whole:
            return steps
        dated, day = [], days.start
        for step in steps:
            done = min(days.end, add_days(day, self._takes(step)))
            dated.append(replace(step, start=day, end=done))
            day = done
        return dated

    def _takes(self, step: PlanStep) -> int:
        """Days that a preparation takes, by its rule."""
        takes = fields_of(step.rules[0], PreparationFields).takes
        if takes == "soak":
            return math.ceil(soak_hours(self.decisions, self.practice)[1] / 24)
        return {"nothing": 0, "moment": 0, "day": 1, "two_days": 2}[takes]

    def _outdoors(self) -> date:
        """Day of sowing outdoors: at once, or in its season."""
        decisions = self.decisions
        waits = decisions.fields(Ask.OUTDOORS_WAIT, OutdoorsWaitFields)
        if waits is None or waits.waits == "no" or decisions.chosen is None:
            return decisions.schedule.first
        return outdoor_day(decisions.lot, decisions.schedule.first, decisions.chosen.season)

    def _plain(self, chosen: Judged, *, outdoors: bool) -> list[PlanStep]:
        """The steps of the treatment that take no moist days; outdoors on the day of sowing."""
        wet = self._soaked or self.decisions.facts["swollen"] == "yes"
        left_out = LAST | MOIST | FIRST | ({"soak"} if wet else set())
        steps = enumerate(chosen.candidate.treatment.steps)
        plain = [_of_record(chosen, i) for i, s in steps if s.do not in left_out]
        if not outdoors or self.decisions.route.sown != "outdoor_day":
            return plain
        day = self._outdoors()
        return [replace(step, start=day, end=day) for step in plain]

    def _treatment(self, chosen: Judged) -> list[PlanStep]:
        """The steps of the treatment, each on its days; what takes no time is done as the next one begins."""
        dated = [step for step in chosen.schedule.plan.steps if step.name != COATS]
        day = self._coat_days.end if self._coat_days else chosen.schedule.plan.start
        steps: list[PlanStep] = []
        for index, record_step in enumerate(chosen.candidate.treatment.steps):
            if record_step.do in FIRST | LAST:  # before the waiting, and after all of it
                continue
            if record_step.do == "soak" and self._soaked:
                dated = [d for d in dated if d.name != "soak"]
                continue
            if record_step.do in MOIST and not any(s.do in MOIST for s in steps):
                bagged = self._prepared("before_bag")
                steps += [replace(s, start=day, end=day) for s in bagged]
            step = _of_record(chosen, index)
            if record_step.do in TIMED and dated and dated[0].name == record_step.do:
                day = dated[0].end
                step = self._days(step, dated.pop(0))
            else:
                step = replace(step, start=day, end=day)
            steps.append(step)
        return steps

    def _sowing(self) -> list[PlanStep]:
        """The sowing on its day, and light or dark from then on."""
        chosen, route = self.decisions.chosen, self.decisions.route
        record_steps = chosen.candidate.treatment.steps if chosen else ()
        planted = route.lies in ("pot", "cold_pot")  # what has a root is not laid as the record lays seed
        adds = () if planted else tuple(s.note for s in record_steps if s.do == "sow" and s.note)
        sowing = [self._sown(replace(s, adds=adds)) for s in self._ruled(Ask.FINISH, "sow")]
        if chosen is None or not sowing or route.steps == "none" or route.sown == "outdoor_day":
            return sowing
        days = {name: getattr(sowing[0], name) for name in ("start", "end")}
        finish = self.decisions.fields(Ask.FINISH, FinishFields)
        in_light = finish is not None and (finish.covered == "no" or finish.into == "its_tray")
        lit = [
            i for i, s in enumerate(record_steps)
            if s.do == "dark" or (s.do == "light" and not (in_light and s.hours_light is None))
        ]  # fmt: skip
        return [*sowing, *(replace(_of_record(chosen, i), **days) for i in lit)]

    def _sown(self, step: PlanStep) -> PlanStep:
        dated, route = self.decisions.schedule, self.decisions.route
        if route.sown == "outdoor_day":
            return replace(step, start=self._outdoors(), end=self._outdoors())
        if route.sown == "first_day" or (route.sown == "when_waited" and not dated.held):
            return replace(step, start=dated.first, end=dated.first)
        ready = dated.plan.ready
        if dated.target is None:
            return replace(step, start=ready, end=ready)
        return replace(step, start=dated.target, end=dated.target)

    def _days(self, step: PlanStep, dated: DatedStep) -> PlanStep:
        whole = replace(step, start=dated.start, end=dated.end)
        if dated.until == "ready":
            return whole
        return replace(whole, end_earliest=dated.end_earliest, end_latest=dated.end_latest)


def _of_record(chosen: Judged, index: int) -> PlanStep:
    step = chosen.candidate.treatment.steps[index]
    return PlanStep(step.do, (chosen.steps[index],), step)


def _noted(note: str | None) -> tuple[str, ...]:
    return (note,) if note else ()


def _once(steps: Sequence[PlanStep]) -> list[PlanStep]:
    """Without the undated steps that say what an earlier one said; a spell that comes again stays."""
    kept: list[PlanStep] = []
    for step in steps:
        alike = (other for other in kept if other.do == step.do)
        if not (step.timeless and any(other.known_by == step.known_by for other in alike)):
            kept.append(step)
    return kept
