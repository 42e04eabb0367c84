"""Offspring, cautions, law and the trace."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date

from coldspell.recipe.case import Case
from coldspell.recipe.recipe import Note, TraceRow
from coldspell.rules import Firing


def lines(case: Case, decision: str) -> tuple[Note, ...]:
    """The texts of a decision that collects."""
    decided = case.decisions.answers.get(decision)
    firings = decided.firings if decided else ()
    texts: dict[str, Note] = {}
    for f in firings:
        text = case.text(decision, f.answer)
        texts.setdefault(text, Note(text, f"{decision}: {f.rule}", case.footnotes.of_rules((f,))))
    return tuple(texts.values())


def offspring(case: Case) -> tuple[Note, ...]:
    """What the rules say of the offspring, and what the record adds; of the sexes only one of them speaks."""
    ruled, found = lines(case, "offspring"), case.knowledge.find("offspring")
    if found is None or not found.value.says:
        return ruled
    if re.search(r"\bmales?\b", found.value.says):
        ruled = tuple(n for n in ruled if n.rule != "offspring: two sexes")
    note = Note(found.value.says, None, case.footnotes.of_record(found.record, found.value.cite))
    return (*ruled, note)


def cautions(case: Case) -> tuple[Note, ...]:
    """Hazards of the records first, then those of the method; shown whatever the answer is."""
    recorded = tuple(
        Note(_hazard_text(h.kind, h.to, h.part, h.says), None, case.footnotes.of_record(record, h.cite))
        for h, record in case.knowledge.hazards()
    )
    return recorded + lines(case, "cautions")


def law(case: Case) -> tuple[Note, ...]:
    """Notes on the law with their date."""
    return tuple(
        Note(
            f"{entry.place}: {_without_advice(entry.says)} (seen {entry.checked}; ask locally)."
            + _stale(entry.checked, case.decisions.schedule.first),
            None,
            case.footnotes.of_record(record, entry.cite),
        )
        for entry, record in case.knowledge.law()
    )


def trace(case: Case, firings: Iterable[tuple[Firing, str | None]]) -> tuple[TraceRow, ...]:
    """Every rule that held."""
    rows = []
    for firing, candidate in firings:
        rows.append(
            TraceRow(
                decision=firing.decision,
                asks=case.book.decisions[firing.decision].asks,
                rule=firing.rule,
                answer=firing.answer,
                facts={k: "unknown" if v is None else v for k, v in firing.facts.items()},
                because=firing.because,
                cites=case.footnotes.of_rules((firing,)),
                candidate=candidate,
            )
        )
    return tuple(rows)


def _hazard_text(kind: str, to: str, part: str | None, says: str | None) -> str:
    head = f"{_HAZARDS[kind]} ({to}{', ' + part if part else ''})"
    head = head[0].upper() + head[1:]
    return f"{head}: {says.rstrip('.')}." if says else f"{head}."


_HAZARDS = {
    "cyanide": "gives off prussic acid",
    "poison": "poisonous",
    "skin": "harms the skin",
    "allergy": "causes allergy",
    "dust": "irritating dust",
    "infection": "can infect",
    "stains": "stains",
    "choking": "can choke",
    "look_alike": "easily confused",
}


def _without_advice(says: str) -> str:
    """The text without the closing words that the line gives anyway."""
    return re.sub(r"[;:,.]?\s*ask locally\.?$", "", says.strip(), flags=re.IGNORECASE).rstrip(".")


def _stale(checked: str, today: date) -> str:
    age = (today - date.fromisoformat(checked)).days
    return " This note is more than two years old; it may have changed." if age > 730 else ""
