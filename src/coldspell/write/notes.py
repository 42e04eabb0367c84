"""Notes of the recipe: what was assumed, offspring, cautions, law."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date

from coldspell.decide.names.asks import Ask
from coldspell.decide.names.fields import IdentityFields, PlaceFields
from coldspell.records.model import Hazard, Law, Record
from coldspell.rules import Firing
from coldspell.texts import Texts
from coldspell.write.case import Case
from coldspell.write.recipe_work import LawNote, Note


def notes(case: Case) -> tuple[str, ...]:
    """What was assumed, said openly; a refused lot gets none."""
    if case.decisions.route.page != "plan":
        return ()
    found = dict.fromkeys(case.says(firing) for firing in case.plan.notes)
    place = case.decisions.fields(Ask.PLACE, PlaceFields)
    identity = case.decisions.fields(Ask.IDENTITY, IdentityFields)
    first = [case.said(Ask.PLACE)] if place and place.note == "first" else []
    last = [case.said(Ask.IDENTITY)] if identity and identity.note == "last" else []
    first += [case.said(Ask.IDENTITY)] if identity and identity.note == "first" else []
    return (*first, *found, *last)


def lines(case: Case, decision: str) -> tuple[Note, ...]:
    """The texts of a decision that collects."""
    texts: dict[str, Note] = {}
    for note in _notes(case, case.decisions.rules(decision)):
        texts.setdefault(note.text, note)
    return tuple(texts.values())


def _notes(case: Case, firings: Iterable[Firing]) -> tuple[Note, ...]:
    return tuple(
        Note(case.says(f), f"{f.decision}: {f.rule}", case.footnotes.of_rules((f,)), on_page(f))
        for f in firings
    )


def on_page(firing: Firing) -> bool:
    """Whether the one page prints what a rule adds: all, but what its answer keeps for the full page."""
    return firing.fields.get("on_page") != "no"


def offspring(case: Case) -> tuple[Note, ...]:
    """What the rules say of the offspring, and what the record adds."""
    ruled, found = lines(case, Ask.OFFSPRING), case.knowledge.find("offspring")
    if found is None or not found.value.says:
        return ruled
    note = Note(found.value.says, None, case.footnotes.of_record(found.record, found.value.cite))
    return (*ruled, note)


def cautions(case: Case) -> tuple[Note, ...]:
    """Hazards of the records first, then those of the method that belong to no step; always shown."""
    recorded = tuple(
        Note(_hazard(case, hazard, firing), None, case.footnotes.of_record(record, hazard.cite))
        for hazard, record, firing in case.decisions.hazards
    )
    return recorded + _notes(case, case.plan.cautions)


def law(case: Case) -> tuple[LawNote, ...]:
    """Notes on the law with their date."""
    first = case.decisions.schedule.first
    found = []
    for entry, record in case.knowledge.law():
        text = law_told(entry, first, case.texts, case.practice.law_stale_days)
        cites = case.footnotes.of_record(record, entry.cite)
        found.append(LawNote(text, None, cites, entry.place, entry.about, _whom(case, record), local=False))
    return tuple(found)


def law_told(entry: Law, day: date, texts: Texts, stale_days: float) -> str:
    """A note on the law of one place with its date; from ``stale_days`` before ``day`` it says its age."""
    return texts.say(
        "law",
        place=entry.place,
        says=_without_advice(entry.says),
        checked=entry.checked,
        stale=texts.say("law_stale") if (day - date.fromisoformat(entry.checked)).days > stale_days else "",
    )


def _whom(case: Case, record: Record) -> str:
    """The plant for which a note on law stands in a record."""
    if record.rank == "genus":
        return case.texts.say("law_some", genus=_called(record))
    if record.name != case.knowledge.record.name:
        return case.texts.say("law_relative", name=record.name)
    return _called(record)


def _called(record: Record) -> str:
    return next(iter(record.common_names.get("en", ())), record.name)


def _hazard(case: Case, hazard: Hazard, firing: Firing) -> str:
    word = case.says(firing)
    what = word[0].upper() + word[1:]
    whom = f"{hazard.to}, {hazard.part}" if hazard.part else hazard.to
    if not hazard.says:
        return case.texts.say("hazard_alone", what=what, whom=whom)
    return case.texts.say("hazard", what=what, whom=whom, says=hazard.says.rstrip("."))


def _without_advice(says: str) -> str:
    """The text without the closing words that the line gives anyway."""
    return re.sub(r"[;:,.]?\s*ask locally\.?$", "", says.strip(), flags=re.IGNORECASE).rstrip(".")
