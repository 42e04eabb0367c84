"""What the lot is, and the answer in short: kind, verdict, timing, treatments."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from coldspell.library.model import Condition
from coldspell.recipe.case import Case
from coldspell.recipe.dates import iso
from coldspell.recipe.decide import Judged
from coldspell.recipe.lot import FILE_NAMES, Lot
from coldspell.recipe.recipe import (
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
from coldspell.recipe.topics import PRACTICE

_VERDICTS = ("verdict", "verdict_outdoors", "verdict_indoors")
"""Exactly one of them is asked for a lot, by its route."""
_SAID_ORDER = tuple(name for name in Lot.__struct_fields__ if name != "assumed")


def species(case: Case, asked: str) -> Species:
    """The kind found and where each topic came from."""
    record = case.knowledge.record
    storage, dormancy = case.knowledge.value("storage"), case.knowledge.value("dormancy")
    return Species(
        asked=asked[:200],
        name=record.name,
        family=record.family,
        rank=record.rank,
        common_names=tuple(record.common_names.get("en", ())),
        record=record.path,
        topics=case.knowledge.sources_of_topics(),
        dormancy=dormancy.class_ if dormancy else None,
        storage=storage.behaviour if storage else None,
        plant=record.plant,
        unit=record.unit,
    )


def lot(case: Case) -> LotAnswer:
    """The lot as understood."""
    said = {}
    for name in _SAID_ORDER:
        value = getattr(case.lot, name)
        if isinstance(value, date):
            value = value.isoformat()
        elif isinstance(value, tuple):
            value = f"{value[0]}/{value[1]}" if name in ("cut", "float_test") else list(value)
        said[FILE_NAMES.get(name, name)] = value
    return LotAnswer(said, case.lot.assumed)


def verdict(case: Case) -> Verdict:
    """The answer in one sentence."""
    name = next(n for n in _VERDICTS if case.decisions.answer(n))
    too_short = case.decisions.answer("time") == "too_short"
    return Verdict(
        route=case.decisions.answer("route") or "",
        sentence=case.said(name),
        feasible=not too_short,
        alive=case.decisions.answer("alive") or "",
        identity=case.decisions.answer("identity") or "",
    )


def asks(case: Case) -> Asked | None:
    """The question of a mixed genus, with the species that each answer leads to."""
    record = case.knowledge.record
    if record.asks is None or case.decisions.answer("route") != "ask":
        return None
    choices = (
        Choice(a.if_, a.then, a.says, case.footnotes.of_record(record, a.cite)) for a in record.asks.answers
    )
    return Asked(record.asks.question, tuple(choices))


def timing(case: Case) -> Timing:
    """Whether it fits, and what can be done when it does not."""
    dated = case.decisions.schedule
    fits = case.decisions.answer("time") or "not_asked"
    infeasible = dated.infeasible if fits in ("tight", "too_short") else None
    dates = {
        "sow_later": infeasible and infeasible.sow_date,
        "keep_dry": infeasible and infeasible.next_target,
    }
    ways = case.decisions.answers.get("ways_out")
    spare = dated.days_spare
    windowed = dated.target is not None and fits in ("fits", "tight") and not dated.held
    return Timing(
        fits=fits,
        constraint=infeasible.constraint if infeasible else None,
        days_short=infeasible.days_short if infeasible else None,
        days_spare=None if spare is None or fits == "not_asked" else int(spare),
        start_first=max(dated.plan.window_first, dated.first).isoformat() if windowed else None,
        start_last=dated.plan.window_last.isoformat() if windowed else None,
        ways_out=tuple(
            WayOut(case.text("ways_out", f.answer), iso(dates.get(f.answer)), f.rule)
            for f in (ways.firings if ways else ())
        ),
    )


def treatments(case: Case, describe: Callable[[Judged], tuple[str, ...]]) -> tuple[TreatmentAnswer, ...]:
    """Every treatment of the record: used, possible or refused, and why."""
    found = []
    for judged in case.decisions.judged:
        candidate, treatment = judged.candidate, judged.candidate.treatment
        followed = judged.status == "use" or judged.decided.answer == "possible_too_long"
        used = judged is case.decisions.chosen and followed
        status = "used" if used else "possible" if judged.status in ("use", "possible") else "refused"
        why = case.text("treatment", judged.decided.answer or "")
        if judged.decided.answer == "refused_other_lot":
            why = f"{why.rstrip('.')}: {_meant(treatment.when)}."
        if judged.status == "use" and not used:
            why = "It suits the lot; the record puts another one first."
        if case.lot.swollen == "yes" and candidate.begun and judged is not case.decisions.chosen:
            status, why = "refused", "The coat is open already."
        found.append(
            TreatmentAnswer(
                name=treatment.name,
                status=status,
                why=why,
                steps=tuple(s.do for s in treatment.steps),
                says=describe(judged) if status != "refused" else (),
                because=treatment.because,
                cites=case.footnotes.of_record(candidate.record, treatment.cite),
                from_record=candidate.record.path if candidate.record else PRACTICE,
            )
        )
    return tuple(found)


def _meant(when: dict[str, Condition]) -> str:
    """For which lots a treatment is meant."""
    said = {
        fact: condition if isinstance(condition, str) else " or ".join(map(str, condition))
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
        NotUsedAnswer(n.says, n.because, case.footnotes.of_record(found.record, n.cite)) for n in found.value
    )
