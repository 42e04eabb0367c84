"""Offspring, cautions, law, notes and the trace."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date

from coldspell.arithmetic.seasons import in_months, months_between, season_month
from coldspell.recipe.amounts import Amounts, SeedMeasure
from coldspell.recipe.case import Case
from coldspell.recipe.recipe import Note, TraceRow
from coldspell.recipe.wording import MONTHS, plural
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


def offspring_of_record(case: Case) -> tuple[Note, ...]:
    """What the record adds on the offspring."""
    found = case.knowledge.find("offspring")
    if found is None or not found.value.says:
        return ()
    return (Note(found.value.says, None, case.footnotes.of_record(found.record, found.value.cite)),)


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


def notes(case: Case, seed: SeedMeasure, amount: Amounts) -> tuple[str, ...]:
    """What was assumed, said openly."""
    found = []
    if case.decisions.answer("route") in (
        "ask",
        "identify_first",
        "do_not",
        "gather_anew",
        "test_first",
    ):
        return ()
    if "seeds" in case.lot.assumed and case.lot.kilograms is None:
        several = plural(case.knowledge.record.unit, 2)
        found.append(f"You did not say how many; reckoned for {case.lot.seeds} {several}.")
    if "moisture" in case.lot.assumed:
        found.append(f"You did not say whether they were dried; taken as {case.lot.moisture}.")
    found += _out_of_season(case)
    room, needed = case.lot.fridge_litres, amount.space_litres
    if room is not None and needed is not None and needed > room:
        takes, have = case.units.volume(needed), case.units.volume(room)
        found.append(f"It takes about {takes} of cold room; you have {have}. Start fewer, or in two turns.")
    if not seed.from_record and case.decisions.answer("medium") == "bag":
        found.append("The record has no seed size; spacing is reckoned for a typical one of its class.")
    if (case.decisions.answer("place") or "").startswith("mend_"):
        found.insert(0, case.said("place"))
    if case.decisions.answer("identity") in ("unsure", "genus_only", "common_practice_only"):
        found.append(case.said("identity"))
    return tuple(found)


def _out_of_season(case: Case) -> list[str]:
    """A remark when the lot was gathered far from the months in which this kind ripens."""
    harvest, gathered = case.knowledge.value("harvest"), case.lot.collected
    if gathered is None or harvest is None or harvest.months is None or case.lot.gathered == "ground_spring":
        return []
    first, last = harvest.months
    wide = ((first - 2) % 12 + 1, last % 12 + 1)
    if len(months_between(*wide)) >= 12 or in_months(gathered, *wide, southern=case.lot.southern):
        return []
    names = " to ".join(MONTHS[season_month(m, case.lot.southern) - 1] for m in dict.fromkeys((first, last)))
    month = MONTHS[gathered.month - 1]
    return [f"It usually ripens in {names}; yours was gathered in {month}. Is it that kind?"]


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
