"""The things to do, in order and dated: preparation, waiting, the treatment, sowing."""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import date

from msgspec.structs import replace

from coldspell.arithmetic.calendar import DatedStep, add_days
from coldspell.library.model import Quantity
from coldspell.library.model import Step as RecordStep
from coldspell.recipe import practice
from coldspell.recipe.candidate import MOIST, TIMED
from coldspell.recipe.dates import outdoor_day
from coldspell.recipe.decide import Decisions, Judged
from coldspell.recipe.footnotes import Footnotes
from coldspell.recipe.lot import Lot
from coldspell.recipe.measure import yes
from coldspell.recipe.recipe import Range, Step
from coldspell.recipe.topics import Knowledge
from coldspell.recipe.wording import Units
from coldspell.recipe.words import Words, fill, soak_hours, step_words
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
_WETTING = ("soak", "swelling_test", "already_swollen", "surface_dry")
"""Preparation that wets dry seed: done when the treatment begins, not before the seed waits."""
_FIRST = ("test", "clean", "remove_pulp", "remove_husk", "remove_wings", "ferment")
"""Steps of a treatment that belong to the preparation: done before the seed waits."""
_DONE_BEFORE = (
    "remove_pulp",
    "remove_husk",
    "remove_wings",
    "float_test",
    "no_float_test",
    "soak",
    "swelling_test",
)
"""Preparation that a lot under way has behind it."""
_LAST = ("sow", "light", "dark")
"""Steps that are the sowing, or come after it."""
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
        self,
        decisions: Decisions,
        knowledge: Knowledge,
        lot: Lot,
        session: Session,
        notes: Footnotes,
        words: Words,
        units: Units,
    ) -> None:
        self._knowledge, self._lot = knowledge, lot
        self._decisions, self._session, self._notes = decisions, session, notes
        self._words, self._units = words, units
        self.firings: list[tuple[Firing, str | None]] = []

    def all(self) -> tuple[Step, ...]:
        """Every step in order."""
        route = self._decisions.answer("route")
        held = self._decisions.schedule.held
        waits = self._meanwhile() if route in (*_TREATED, *_PLAIN_STEPS_TOO, "sow_now_wintered") else []
        after = waits if held else []
        waits = [] if held else waits
        steps = self._preparation(late=False) + ([] if waits else self._preparation(late=True)) + self._test()
        chosen = self._decisions.chosen
        if chosen is not None and route in (*_TREATED, *_PLAIN_STEPS_TOO):
            prepared = {s.do for s in steps}
            first = [s for s in chosen.candidate.treatment.steps if s.do in _FIRST and s.do not in prepared]
            if self._decisions.facts["lain_moist"] == "yes":
                first = []
            steps += [self._plain(chosen, s) for s in first]
        late = self._late(waits) if waits else []  # shortens the waiting
        steps += waits + late
        whole = route in _TREATED or (
            route == "sow_in_season" and self._decisions.schedule.target is not None
        )
        if chosen is not None and whole:
            steps += self._treatment(chosen)
        elif chosen is not None and route in _PLAIN_STEPS_TOO:
            plain = [
                self._plain(chosen, s)
                for s in chosen.candidate.treatment.steps
                if s.do not in (*_LAST, *MOIST, *_FIRST)
            ]
            day = self._outdoors() if route == "sow_outdoors" and waits else None
            steps += [step if day is None else _dated(step, day, day) for step in plain]
        sowing = self._sowing()
        if chosen is not None and sowing and route in (*_TREATED, *_PLAIN_STEPS_TOO):
            lit = [s for s in chosen.candidate.treatment.steps if s.do in ("light", "dark")]
            sowing += [_same_days(self._plain(chosen, s), sowing[0]) for s in lit]
        return tuple(_once([*steps, *after, *sowing]))

    def describe(self, judged: Judged) -> tuple[str, ...]:
        """The steps of one treatment in words, without dates."""
        return tuple(self._plain(judged, s).text for s in judged.candidate.treatment.steps)

    def _preparation(self, *, late: bool) -> list[Step]:
        """What is done before the treatment: what wets the seed (``late``), or all the rest."""
        dried = self._decisions.facts["moisture"] == "dried"
        under_way = self._decisions.facts["lain_moist"] == "yes"
        steps = []
        for name in ("sorting", "preparation"):
            decided = self._decisions.answers.get(name)
            for firing in decided.firings if decided else ():
                if firing.answer in _DONE_BEFORE and under_way:
                    continue
                if firing.answer == "surface_dry":  # after any soak, before it goes into its bag
                    continue
                wets = firing.answer in _WETTING or (firing.answer == "float_test" and dried)
                if wets != late:
                    continue
                do = _PREPARATION_DO.get(firing.answer, "test")
                steps.append(self._ruled(do, self._text(firing), (firing,)))
        return steps

    def _surface_dry(self) -> list[Step]:
        """Drying of the surface, for seed that goes into a bag without medium."""
        decided = self._decisions.answers.get("preparation")
        firings = [f for f in (decided.firings if decided else ()) if f.answer == "surface_dry"]
        return [self._ruled("dry_back", self._text(f), (f,)) for f in firings]

    def _late(self, waits: list[Step]) -> list[Step]:
        """What wets dry seed, on the days before the treatment; the waiting gives way to a soak."""
        late = self._preparation(late=True)
        end = date.fromisoformat(waits[-1].end or "")
        first = date.fromisoformat(waits[-1].start or "")
        days = math.ceil(soak_hours(self._knowledge)[1] / 24)
        out = []
        for step in late:
            start = max(first, add_days(end, -days)) if step.do == "soak" else end
            if start < end:
                waits[-1] = replace(waits[-1], end=start.isoformat())
            out.append(_dated(step, start, end))
        return out

    def _test(self) -> list[Step]:
        decided = self._decisions.answers.get("test")
        if decided is None or not decided.firings:
            return []
        return [self._ruled("test", self._text(decided.firings[0]), decided.firings)]

    def _meanwhile(self) -> list[Step]:
        """The waiting: before the treatment, or after it when that was begun at once."""
        decided = self._decisions.answers.get("meanwhile")
        dated = self._decisions.schedule
        if decided is None or not decided.firings:
            return []
        start, end = dated.first, dated.plan.start
        if self._decisions.answer("route") == "sow_outdoors":
            end = self._outdoors()
        elif dated.target is None:
            return []
        elif dated.held:
            start, end = dated.plan.ready, dated.target
        if end <= start:
            return []
        return [_dated(self._ruled("hold", self._text(decided.firings[0]), decided.firings), start, end)]

    def _outdoors(self) -> date:
        """Day of sowing outdoors: at once if a record has fresh seed so or it must not dry, else autumn."""
        first, facts = self._decisions.schedule.first, self._decisions.facts
        asked_for = facts["moisture"] == "dried" or facts["shape"] != "sow_outdoors"
        waits = asked_for and facts["behaviour"] != "recalcitrant"
        return outdoor_day(self._lot, first, str(facts["shape"])) if waits else first

    def _treatment(self, chosen: Judged) -> list[Step]:
        """The steps of the treatment, each on its days; what takes no time is done as the next one begins."""
        dated = list(chosen.schedule.plan.steps)
        target = chosen.schedule.target
        day = chosen.schedule.plan.start if dated or target is not None else None
        steps: list[Step] = []
        soaked = self._decisions.answer("alive") == "revive"
        for record_step in chosen.candidate.treatment.steps:
            if record_step.do in (*_FIRST, *_LAST):  # before the waiting, and after all of it
                continue
            if record_step.do == "soak" and soaked:
                dated = [d for d in dated if d.name != "soak"]
                continue
            if record_step.do in MOIST and not any(s.do in MOIST for s in steps):
                steps += [s if day is None else self._on(s, day, day) for s in self._surface_dry()]
            step = self._plain(chosen, record_step)
            if record_step.do in TIMED and dated and dated[0].name == record_step.do:
                day = dated[0].end
                step = self._dates(step, dated.pop(0))
            elif day is not None:
                step = self._on(step, day, day)
            steps.append(step)
        return steps

    def _plain(self, chosen: Judged, record_step: RecordStep) -> Step:
        facts = {
            **self._decisions.facts,
            "do": record_step.do,
            "step_ends": record_step.until,
            "step_short": yes(record_step.minutes is not None),
        }
        decided = self._session.decide("step", facts)
        firing = decided.firings[0]
        name = chosen.candidate.treatment.name
        if all(f.rule != firing.rule or n != name for f, n in self.firings):
            self.firings.append((firing, name))
        words = {**self._words, **step_words(record_step, self._units)}
        text = fill(self._session.book.decisions["step"].answers[firing.answer], words)
        if record_step.do == "sow" and record_step.note:
            text = ""  # the note says how
        if record_step.need == "optional":
            text = f"{text.rstrip('.')} (helps; not all need it)."
        if record_step.note:
            text = f"{text} {record_step.note[0].upper()}{record_step.note[1:].rstrip('.')}.".strip()
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
        if route in _AT_ONCE and not (route == "sow_now_wintered" and dated.held):
            day = self._outdoors() if route == "sow_outdoors" else dated.first
            return [_dated(step, day, day)]
        if self._decisions.answer("time") == "too_short" or dated.target is None:
            ready = dated.plan.ready
            after = (ready - dated.plan.start).days
            return [_numbered(step, after, after) if dated.target is None else _dated(step, ready, ready)]
        return [_dated(step, dated.target, dated.target)]

    def _sowing_note(self) -> str:
        """What the record adds to a treatment that is a sowing."""
        chosen = self._decisions.chosen
        steps = chosen.candidate.treatment.steps if chosen else ()
        notes = [s.note for s in steps if s.do == "sow" and s.note]
        return "".join(f" {note[0].upper()}{note[1:].rstrip('.')}." for note in notes)

    def _dates(self, step: Step, dated: DatedStep) -> Step:
        whole = self._on(step, dated.start, dated.end)
        if self._decisions.schedule.target is None or dated.until == "ready":
            return whole
        return replace(
            whole, end_earliest=dated.end_earliest.isoformat(), end_latest=dated.end_latest.isoformat()
        )

    def _on(self, step: Step, start: date, end: date) -> Step:
        """The step on dates, or on days counted from the start when no date was asked for."""
        schedule = self._decisions.schedule
        if schedule.target is not None:
            return _dated(step, start, end)
        return _numbered(step, (start - schedule.plan.start).days, (end - schedule.plan.start).days)

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


def _once(steps: Sequence[Step]) -> list[Step]:
    """Without the undated steps that say what an earlier one said; a spell that comes again stays."""
    seen: set[str] = set()
    kept = []
    for step in steps:
        timeless = step.start is None and step.start_day is None
        if not (timeless and step.text in seen):
            kept.append(step)
        seen.add(step.text)
    return kept


def _same_days(step: Step, other: Step) -> Step:
    return replace(step, start=other.start, end=other.end, start_day=other.start_day, end_day=other.end_day)


def _dated(step: Step, start: date, end: date) -> Step:
    return replace(step, start=start.isoformat(), end=end.isoformat())


def _numbered(step: Step, start: int, end: int) -> Step:
    return replace(step, start_day=start, end_day=end)
