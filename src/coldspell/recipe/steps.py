"""The things to do, in order and dated: preparation, waiting, the treatment, sowing."""

from __future__ import annotations

from datetime import date

from msgspec.structs import replace

from coldspell.arithmetic.calendar import DatedStep
from coldspell.library.model import Quantity
from coldspell.library.model import Step as RecordStep
from coldspell.recipe import practice
from coldspell.recipe.candidate import MOIST, TIMED
from coldspell.recipe.decide import Decisions, Judged
from coldspell.recipe.footnotes import Footnotes
from coldspell.recipe.recipe import Range, Step
from coldspell.recipe.wording import Units
from coldspell.recipe.words import Words, fill, step_words
from coldspell.rules import Firing, Session

_PREPARATION_DO = {
    "remove_pulp": "remove_pulp",
    "remove_husk": "remove_husk",
    "remove_wings": "remove_wings",
    "soak": "soak",
    "rehydrate": "soak",
    "surface_dry": "dry_back",
    "discard_bad": "clean",
    "wipe_mould": "clean",
    "air_and_renew": "clean",
    "wash_all": "clean",
    "air_room": "clean",
}
_FIRST = ("test", "clean", "remove_pulp", "remove_husk", "remove_wings")
"""Steps of a treatment that belong to the preparation: done before the seed waits."""
_TREATED = ("treat_indoors", "warm_indoors", "treat_and_sow", "after_ripen")
_PLAIN_STEPS_TOO = ("sow_in_season", "sow_soon", "sow_now_or_hold", "sow_now_warm", "sow_outdoors")
_AT_ONCE = (
    "plant_now",
    "pot_and_keep_cold",
    "sow_now_warm",
    "sow_now_or_hold",
    "sow_soon",
    "sow_now_wintered",
    "sow_outdoors",
)


def range_of(quantity: Quantity | None) -> Range | None:
    """Low, usual and high; the usual value is the one planned with."""
    return None if quantity is None else (quantity.low, quantity.plan, quantity.high)


class StepWriter:
    """Writes the steps of one recipe."""

    def __init__(
        self, decisions: Decisions, session: Session, notes: Footnotes, words: Words, units: Units
    ) -> None:
        self._decisions, self._session, self._notes = decisions, session, notes
        self._words, self._units = words, units
        self.firings: list[tuple[Firing, str | None]] = []

    def all(self) -> tuple[Step, ...]:
        """Every step in order."""
        route = self._decisions.answer("route")
        steps = self._preparation() + self._test()
        chosen = self._decisions.chosen
        if chosen is not None and route in (*_TREATED, *_PLAIN_STEPS_TOO):
            prepared = {s.do for s in steps}
            first = [s for s in chosen.candidate.treatment.steps if s.do in _FIRST and s.do not in prepared]
            steps += [self._plain(chosen, s) for s in first]
        if route in _TREATED or route in _PLAIN_STEPS_TOO:
            steps += self._meanwhile()
        if chosen is not None and route in _TREATED:
            steps += self._treatment(chosen)
        elif chosen is not None and route in _PLAIN_STEPS_TOO:
            steps += [
                self._plain(chosen, s)
                for s in chosen.candidate.treatment.steps
                if s.do not in ("sow", *MOIST, *_FIRST)
            ]
        return (*steps, *self._sowing())

    def describe(self, judged: Judged) -> tuple[str, ...]:
        """The steps of one treatment in words, without dates."""
        return tuple(self._plain(judged, s).text for s in judged.candidate.treatment.steps)

    def _preparation(self) -> list[Step]:
        steps = []
        for name in ("sorting", "preparation"):
            decided = self._decisions.answers.get(name)
            for firing in decided.firings if decided else ():
                do = _PREPARATION_DO.get(firing.answer, "test")
                steps.append(self._ruled(do, self._text(firing), (firing,)))
        return steps

    def _test(self) -> list[Step]:
        decided = self._decisions.answers.get("test")
        if decided is None or not decided.firings:
            return []
        return [self._ruled("test", self._text(decided.firings[0]), decided.firings)]

    def _meanwhile(self) -> list[Step]:
        decided = self._decisions.answers.get("meanwhile")
        dated = self._decisions.schedule
        if decided is None or not decided.firings or dated.target is None or dated.plan.start <= dated.first:
            return []
        step = self._ruled("hold", self._text(decided.firings[0]), decided.firings)
        return [_dated(step, dated.first, dated.plan.start)]

    def _treatment(self, chosen: Judged) -> list[Step]:
        dated = list(chosen.schedule.plan.steps)
        steps = []
        soaked = self._decisions.answer("alive") == "revive"
        for record_step in chosen.candidate.treatment.steps:
            if record_step.do in _FIRST:
                continue
            if record_step.do == "soak" and soaked:
                dated = [d for d in dated if d.name != "soak"]
                continue
            step = self._plain(chosen, record_step)
            if record_step.do in TIMED and dated and dated[0].name == record_step.do:
                step = self._dates(step, dated.pop(0))
            steps.append(step)
        return steps

    def _plain(self, chosen: Judged, record_step: RecordStep) -> Step:
        facts = {**self._decisions.facts, "do": record_step.do, "step_ends": record_step.until}
        decided = self._session.decide("step", facts)
        firing = decided.firings[0]
        name = chosen.candidate.treatment.name
        if all(f.rule != firing.rule or n != name for f, n in self.firings):
            self.firings.append((firing, name))
        words = {**self._words, **step_words(record_step, self._units)}
        text = fill(self._session.book.decisions["step"].answers[firing.answer], words)
        if record_step.need == "optional":
            text = f"{text.rstrip('.')} (helps; not all need it)."
        if record_step.note:
            text = f"{text} {record_step.note[0].upper()}{record_step.note[1:].rstrip('.')}."
        celsius = record_step.celsius
        usual = {"cold_moist": practice.COLD_CELSIUS, "warm_moist": practice.WARM_CELSIUS}.get(record_step.do)
        cites = self._notes.of_record(chosen.candidate.record, chosen.candidate.treatment.cite)
        if celsius is None and usual is not None:
            cites = tuple(dict.fromkeys((*cites, self._notes.practice())))
        return Step(
            do=record_step.do,
            text=text,
            days=range_of(record_step.days),
            celsius=range_of(celsius or usual),
            need=record_step.need,
            until=record_step.until,
            start=None,
            end=None,
            start_day=None,
            end_day=None,
            end_earliest=None,
            end_latest=None,
            rules=(f"{firing.decision}: {firing.rule}",),
            cites=cites,
        )

    def _sowing(self) -> list[Step]:
        decided = self._decisions.answers.get("finish")
        if decided is None or not decided.firings:
            return []
        step = self._ruled("sow", self._text(decided.firings[0]) + self._sowing_note(), decided.firings)
        dated, route = self._decisions.schedule, self._decisions.answer("route")
        if route in _AT_ONCE:
            return [_dated(step, dated.first, dated.first)]
        if self._decisions.answer("time") == "too_short" or dated.target is None:
            ready = dated.plan.ready
            day = (ready - dated.plan.start).days
            return [_numbered(step, day, day) if dated.target is None else _dated(step, ready, ready)]
        return [_dated(step, dated.target, dated.target)]

    def _sowing_note(self) -> str:
        """What the record adds to a treatment that is a sowing."""
        chosen = self._decisions.chosen
        steps = chosen.candidate.treatment.steps if chosen else ()
        notes = [s.note for s in steps if s.do == "sow" and s.note]
        return "".join(f" {note[0].upper()}{note[1:].rstrip('.')}." for note in notes)

    def _dates(self, step: Step, dated: DatedStep) -> Step:
        schedule = self._decisions.schedule
        if schedule.target is None:
            first = schedule.plan.start
            return _numbered(step, (dated.start - first).days, (dated.end - first).days)
        whole = _dated(step, dated.start, dated.end)
        if dated.until == "ready":
            return whole
        return replace(
            whole, end_earliest=dated.end_earliest.isoformat(), end_latest=dated.end_latest.isoformat()
        )

    def _text(self, firing: Firing) -> str:
        text = firing.text or self._session.book.decisions[firing.decision].answers[firing.answer]
        return fill(text, self._words)

    def _ruled(self, do: str, text: str, firings: tuple[Firing, ...]) -> Step:
        return Step(
            do=do,
            text=text,
            days=None,
            celsius=None,
            need="required",
            until="ready",
            start=None,
            end=None,
            start_day=None,
            end_day=None,
            end_earliest=None,
            end_latest=None,
            rules=tuple(f"{f.decision}: {f.rule}" for f in firings),
            cites=self._notes.of_rules(firings),
        )


def _dated(step: Step, start: date, end: date) -> Step:
    return replace(step, start=start.isoformat(), end=end.isoformat())


def _numbered(step: Step, start: int, end: int) -> Step:
    return replace(step, start_day=start, end_day=end)
