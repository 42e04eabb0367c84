"""Run the rules: choose the treatment among the record's candidates, then everything that hangs on it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from msgspec import Struct
from msgspec.structs import replace

from coldspell.library.model import Record, Treatment
from coldspell.recipe import measure, practice
from coldspell.recipe.candidate import MOIST, Candidate, measure_candidate, without_optional_spells
from coldspell.recipe.dates import Schedule, schedule, sowing_target
from coldspell.recipe.lot import Lot
from coldspell.recipe.topics import Knowledge
from coldspell.rules import Decided, Firing, Session
from coldspell.rules.model import NOT_ASKED


class Judged(Struct, frozen=True):
    """A candidate, its dates, and what the decision ``treatment`` says of it."""

    candidate: Candidate
    schedule: Schedule
    decided: Decided
    left_out: bool = False
    """Whether spells that only help were left out for lack of time."""

    @property
    def status(self) -> str:
        """``use``, ``possible`` or ``refused``."""
        answer = self.decided.answer or "refused"
        return answer.split("_")[0]


class Decisions(Struct, frozen=True):
    """All answers for one lot, with the facts they rest on."""

    facts: measure.Facts
    judged: tuple[Judged, ...]
    chosen: Judged | None
    schedule: Schedule
    answers: dict[str, Decided]
    firings: tuple[tuple[Firing, str | None], ...]
    """Every rule that held, with the candidate it judged."""

    def answer(self, decision: str) -> str | None:
        """The answer of a decision, ``None`` where it was not asked."""
        decided = self.answers.get(decision)
        return decided.answer if decided and decided.applies else None

    def all_facts(self) -> measure.Facts:
        """The facts together with every answer that later decisions looked at."""
        answers = {n: d.answer if d.applies else NOT_ASKED for n, d in self.answers.items()}
        return {**self.facts, **answers}


def decide(knowledge: Knowledge, lot: Lot, today: date, session: Session) -> Decisions:
    """Decide everything about one lot.

    The three-month practice is allowed or not first, then each candidate is judged, then all other decisions
    run in the order that follows from what they are given.
    """
    base = {**measure.record_facts(knowledge, session.book), **measure.lot_facts(lot)}
    firings: list[tuple[Firing, str | None]] = []
    if not knowledge.treatments():
        may = session.decide("fallback", base)
        firings += [(f, None) for f in may.firings]
        knowledge.fallback = may.answer == "three_months"
    base["known"] = knowledge.known()
    base |= measure.test_facts(lot, knowledge, today)
    tested = {name: session.decide(name, base).answer or NOT_ASKED for name in ("cut_test", "age")}
    revived = session.decide("alive", {**base, **tested}).answer == "revive"
    as_treated = replace(lot, moisture="fresh") if revived else lot
    judged = tuple(_judge(t, r, base, as_treated, today, session) for t, r in knowledge.treatments())
    for each in judged:
        firings += [(f, each.candidate.treatment.name) for f in each.decided.firings]
    chosen = _choose(judged)
    facts = {**base, **_chosen_facts(chosen, judged, knowledge, as_treated)}
    answers = session.run(facts, skip=("treatment", "step", "fallback"))
    firings += [(f, None) for d in answers.values() for f in d.firings]
    dated = chosen.schedule if chosen else schedule((), lot, today, None)
    return Decisions(facts, judged, chosen, dated, answers, tuple(firings))


def _judge(
    treatment: Treatment, record: Record | None, base: measure.Facts, lot: Lot, today: date, session: Session
) -> Judged:
    candidate, dated = _dated(treatment, record, base, lot, today)
    shorter = without_optional_spells(treatment)
    left_out = shorter is not None and dated.target is not None and _too_little(candidate, dated)
    no_cold = lot.refrigerator == "none" and lot.winter in ("mild", "none")
    if shorter is not None and (left_out or no_cold):
        candidate, dated = _dated(shorter, record, base, lot, today)
    facts = {**base, **measure.candidate_facts(candidate, dated, lot)}
    return Judged(candidate, dated, session.decide("treatment", facts), left_out)


def _too_little(candidate: Candidate, dated: Schedule) -> bool:
    """Whether the time left is less than the shortest of every spell, the ones that only help included."""
    least = sum(s.days.low for s in candidate.treatment.steps if s.do in MOIST and s.days)
    return dated.infeasible is not None and dated.infeasible.available_days < least


def _dated(
    treatment: Treatment, record: Record | None, base: measure.Facts, lot: Lot, today: date
) -> tuple[Candidate, Schedule]:
    """A candidate on the calendar; what must not dry, or is under way, does not wait for its cold."""
    candidate = measure_candidate(treatment, record, lot)
    wet = lot.lain_moist or lot.swollen == "yes"
    no_hold = bool(candidate.moist_days) and not candidate.at_once
    must_not_dry = base["behaviour"] == "recalcitrant" and candidate.ends == "ready"
    if no_hold and (wet or must_not_dry):  # it can wait neither before its spells nor after them
        lot = replace(lot, sow=None, last_frost=None)
    hold = treatment.hold.days.high if treatment.hold else None
    if candidate.already_cold == "enough" and _far(lot, today):
        lot = replace(lot, sow=None, last_frost=None)  # wintered seed does not wait so long
    at_once = candidate.at_once and (base["behaviour"] == "recalcitrant" or wet or candidate.begun)
    return candidate, schedule(candidate.timed, lot, today, hold, at_once=at_once)


def _far(lot: Lot, today: date) -> bool:
    target = sowing_target(lot)
    return target is not None and (target - today).days > practice.WINTERED_WAIT_DAYS


def _choose(judged: tuple[Judged, ...]) -> Judged | None:
    """The first candidate to use, one that is under way before others; else the first possible one."""
    under_way = [j for j in judged if j.status == "use" and j.candidate.begun and j.candidate.shape != "sow"]
    if under_way and not any(j.candidate.already_cold == "enough" for j in judged):
        return under_way[0]
    for status in ("use", "possible"):
        for each in judged:
            if each.status == status:
                return each
    return None


def _chosen_facts(
    chosen: Judged | None, judged: Sequence[Judged], knowledge: Knowledge, lot: Lot
) -> measure.Facts:
    found = {"use": "yes", "possible": "possible"}.get(chosen.status, "no") if chosen else "no"
    facts = (
        measure.candidate_facts(chosen.candidate, chosen.schedule, lot)
        if chosen
        else measure.nothing_chosen()
    )
    soak = measure.soak_needed(chosen.candidate if chosen else None, knowledge.record)
    shown = [j.candidate.professional_step for j in judged if j.status != "refused"]
    facts["professional_step"] = next((step for step in shown if step != "none"), "none")
    return {**facts, "treatment_found": found, "soak_needed": soak}
