"""What the lot is, and the answer in short: kind, verdict, timing, treatments."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from coldspell.decide.decide import fields_of
from coldspell.decide.judge import Judged
from coldspell.decide.names.asks import VERDICTS, Ask
from coldspell.decide.names.fields import OpeningFields, TimeFields, WayOutFields
from coldspell.decide.schedule import next_season
from coldspell.decide.sowing_season import sowing_season
from coldspell.library.unrecorded import UNKNOWN
from coldspell.lot.lot import Share
from coldspell.lot.table import FACTS
from coldspell.records.model import WhenValue
from coldspell.write import called
from coldspell.write.case import Case
from coldspell.write.recipe_found import (
    Asked,
    Choice,
    LotAnswer,
    NotUsedAnswer,
    Species,
    Timing,
    TreatmentAnswer,
    Verdict,
    WayOut,
)
from coldspell.write.steps import describe

if TYPE_CHECKING:
    from coldspell.write.recipe_kinds import Status


def species(case: Case, asked: str) -> Species:
    """The kind found and where each topic came from."""
    record = case.knowledge.record
    found = case.knowledge.found
    storage, dormancy = case.knowledge.value("storage"), case.knowledge.value("dormancy")
    return Species(
        asked=asked[:200],
        matched_as=found.matched_as,
        variety=found.variety[:200],
        others=found.others,
        note=called.note(found, case.texts),
        known_by=case.knowledge.known_by,
        name=case.texts.say("unknown_name") if record.name == UNKNOWN else record.name,
        family=record.family or None,
        rank=record.rank,
        common_names=tuple(record.common_names.get("en", ())),
        record=record.path or _genus_path(case),
        topics=case.knowledge.sources_of_topics(),
        dormancy=dormancy.class_ if dormancy else None,
        storage=storage.behaviour if storage else None,
        plant=record.plant if record.family else None,
        unit=record.unit,
    )


def _genus_path(case: Case) -> str:
    """The path of the genus record, where the kind is known by it."""
    genus = case.knowledge.genus
    return genus.path if genus is not None and case.knowledge.known_by == "genus" else ""


def lot(case: Case) -> LotAnswer:
    """The lot as understood."""
    said = {}
    for fact in FACTS.values():
        value = getattr(case.plan.lot, fact.field)
        if isinstance(value, date):
            value = value.isoformat()
        elif isinstance(value, tuple):
            value = f"{value[0]}/{value[1]}" if fact.kind is Share else list(value)
        said[fact.name] = value
    seed = case.plan.seed
    sides = (seed.length_mm, seed.width_mm, seed.thickness_mm)
    return LotAnswer(said, case.plan.lot.assumed, tuple(round(side, 2) for side in sides))


def verdict(case: Case) -> Verdict:
    """The answer in one sentence."""
    decisions = case.decisions
    time = decisions.fields(Ask.TIME, TimeFields)
    return Verdict(
        route=decisions.answer(Ask.ROUTE) or "",
        sentence=_sentence(case),
        feasible=time is None or time.fits != "too_short",
        alive=decisions.answer(Ask.ALIVE) or "",
        identity=decisions.answer(Ask.IDENTITY) or "",
    )


def _sentence(case: Case) -> str:
    """The answer, with what has to be said before it."""
    sentence = next(filter(None, map(case.said, VERDICTS)))
    for firing in case.plan.opening:
        if fields_of(firing, OpeningFields).opens == "yes":
            opening = case.answer(Ask.OPENING, firing.answer)
            return case.texts.say("after_opening", opening=opening, sentence=sentence)
    return sentence


def asks(case: Case) -> Asked | None:
    """The question of a mixed genus, with the species that each answer leads to."""
    asked = case.knowledge.asks
    if asked is None or case.decisions.route.page not in ("question", "trial"):
        return None
    record = case.knowledge.genus or case.knowledge.record
    choices = (Choice(a.if_, a.then, a.says, case.footnotes.of_record(record, a.cite)) for a in asked.answers)
    return Asked(asked.question, tuple(choices))


def timing(case: Case) -> Timing:
    """Whether it fits, and what can be done when it does not."""
    decisions, dated = case.decisions, case.decisions.schedule
    time = decisions.fields(Ask.TIME, TimeFields)
    fits = time.fits if time else "not_asked"
    infeasible = dated.infeasible if fits in ("tight", "too_short") else None
    spare = dated.days_spare
    windowed = dated.target is not None and fits in ("fits", "tight") and not dated.held
    return Timing(
        fits=fits,
        constraint=infeasible.constraint if infeasible else None,
        days_short=infeasible.days_short if infeasible else None,
        days_spare=None if spare is None or fits == "not_asked" else int(spare),
        start_first=iso(max(dated.plan.window_first, dated.first)) if windowed else None,
        start_last=iso(dated.plan.window_last) if windowed else None,
        ways_out=ways_out(case),
        begins=iso(case.plan.begins),
    )


def ways_out(case: Case) -> tuple[WayOut, ...]:
    """What can be done when the time is too short, each with the day that its answer asks for."""
    infeasible = case.decisions.schedule.infeasible
    found = []
    for firing in case.decisions.rules(Ask.WAYS_OUT):
        wanted = fields_of(firing, WayOutFields).date
        day = None
        if infeasible is not None and wanted != "none":
            season = sowing_season(case.practice, case.plan.lot)
            day = {
                "sow": infeasible.sow_date,
                "next": next_season(case.decisions.schedule),
                "spring": season.day_for(infeasible.sow_date),
            }[wanted]
        found.append(WayOut(case.says(firing), iso(day), firing.rule))
    return tuple(found)


def treatments(case: Case) -> tuple[TreatmentAnswer, ...]:
    """Every treatment of the record: used, possible or refused, and why."""
    return tuple(_treatment(case, judged) for judged in case.decisions.judged)


def _treatment(case: Case, judged: Judged) -> TreatmentAnswer:
    candidate, treatment, fields = judged.candidate, judged.candidate.treatment, judged.fields
    chosen = judged is case.decisions.chosen
    used = chosen and fields.followed == "yes"
    status: Status = "used" if used else "refused" if fields.rank == "refused" else "possible"
    why, suits = case.said_of(judged.decided), fields.suits == "yes"
    if fields.adds_when == "yes":
        why = case.texts.say("meant_for", why=why.rstrip("."), lots=_meant(case, treatment.when))
    if suits and not used:
        why = case.texts.say("record_first")
    if case.plan.lot.swollen == "yes" and candidate.begun and not chosen:
        status, why = "refused", case.texts.say("open_already")
    steps = zip(treatment.steps, judged.steps, strict=False)
    shown = status != "refused"
    return TreatmentAnswer(
        name=treatment.name,
        status=status,
        why=why,
        steps=tuple(s.do for s in treatment.steps),
        says=tuple(describe(case, judged, s, rule)[0] for s, rule in steps) if shown else (),
        because=treatment.because,
        cites=case.footnotes.of_record(candidate.record, treatment.cite),
        from_record=candidate.record.path if candidate.record else case.knowledge.stands_in,
        suits=suits,
    )


def _meant(case: Case, when: dict[str, WhenValue]) -> str:
    """For which lots a treatment is meant."""
    said = {
        fact: condition
        if isinstance(condition, str)
        else case.texts.say("meant_or").join(map(str, condition))
        for fact, condition in when.items()
        if isinstance(condition, (str, list))
    }
    return "; ".join(f"{fact.replace('_', ' ')} {text.replace('_', ' ')}" for fact, text in said.items())


def not_used(case: Case) -> tuple[NotUsedAnswer, ...]:
    """Dissenting sources of the record."""
    found = case.knowledge.find("not_used")
    if found is None:
        return ()
    return tuple(
        NotUsedAnswer(n.says, n.because, case.footnotes.of_record(found.record, n.cite), n.trained)
        for n in found.value
    )


def iso(day: date | None) -> str | None:
    """ISO 8601 text of a day."""
    return None if day is None else day.isoformat()
