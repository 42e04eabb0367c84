"""The whole flow: look-up, measure, decide, quantify, and the finished recipe."""

from __future__ import annotations

from datetime import date

from msgspec import Struct
from msgspec.structs import replace

from coldspell import __version__
from coldspell.errors import ColdspellError
from coldspell.library.load import Library
from coldspell.library.names import Found, Several, look_up
from coldspell.recipe import about, aftercare, bedding, practice, remarks
from coldspell.recipe.amounts import Amounts, SeedMeasure, amounts, seed_measure
from coldspell.recipe.candidate import Candidate
from coldspell.recipe.case import Case
from coldspell.recipe.choices import nearest
from coldspell.recipe.decide import Decisions, decide
from coldspell.recipe.expect import expected
from coldspell.recipe.footnotes import Footnotes
from coldspell.recipe.lot import Lot
from coldspell.recipe.notes import notes as noted
from coldspell.recipe.recipe import Recipe
from coldspell.recipe.steps import StepWriter
from coldspell.recipe.topics import Knowledge
from coldspell.recipe.wording import Units
from coldspell.recipe.words import Words, base_words, name_of, treatment_words
from coldspell.rules import Near, Session


class Question(Struct, frozen=True):
    """One lot of a named kind, asked on a day."""

    name: str
    lot: Lot
    today: date


def answer(
    question: Question, library: Library, session: Session, rules_digest: str, notes: tuple[str, ...] = ()
) -> Recipe:
    """Make the recipe for one lot.

    Parameters
    ----------
    question
        The name as typed, the lot, and the day that counts as today.
    library, session
        Records and rules; the session may be kept for many lots.
    rules_digest
        What changes whenever a rule file does; goes into the recipe.
    notes
        Remarks of the caller, for example on the engine in use.

    Raises
    ------
    ColdspellError
        The name is unknown or means several plants, or the lot cannot be (no seed fits its container, …).
    """
    knowledge = find(question.name, library)
    lot = _counted(question.lot, knowledge)
    decisions = decide(knowledge, lot, question.today, session)
    seed = seed_measure(knowledge, lot)
    form = decisions.answer("medium")
    single = 1 if decisions.answer("layout") == "one_layer" else None
    material = decisions.answer("material") or ""
    amount = amounts(form, material, seed, lot, layers_max=single) if form else Amounts()
    units = Units(lot.units)
    words = _words(knowledge, lot, units, seed, amount, decisions)
    case = Case(
        knowledge, lot, question.today, decisions, session.book, Footnotes(library.bibliography), words, units
    )
    writer = StepWriter(decisions, knowledge, lot, session, case.footnotes, words, units)
    return Recipe(
        schema=1,
        tool=f"coldspell {__version__}",
        library=library.digest,
        rules=rules_digest,
        asked_on=question.today.isoformat(),
        units=lot.units,
        species=about.species(case, question.name),
        lot=about.lot(case),
        verdict=about.verdict(case),
        asks=about.asks(case),
        route=decisions.answer("route") or "",
        timing=about.timing(case),
        treatments=about.treatments(case, writer.describe),
        not_used=about.not_used(case),
        steps=writer.all(),
        medium=bedding.medium(case, amount),
        layout=bedding.layout(case, amount),
        place=bedding.place(case),
        hold=aftercare.hold(case),
        checks=aftercare.checks(case),
        sowing=aftercare.sowing(case, seed),
        expectation=aftercare.expectation(
            case, expected(knowledge, _candidate(decisions), _as_grown(lot, decisions))
        ),
        instead=remarks.lines(case, "instead"),
        offspring=remarks.offspring(case),
        cautions=remarks.cautions(case),
        law=remarks.law(case),
        trace=remarks.trace(case, (*decisions.firings, *writer.firings)),
        notes=(*notes, *noted(case, seed, amount)),
        sources=case.footnotes.all(),
    )


def near_answers(wanted: str, question: Question, library: Library, session: Session) -> list[Near]:
    """Why an answer of some decision was not given: for each rule that gives it, the conditions that failed.

    Parameters
    ----------
    wanted
        An answer (``towel_roll``), or a decision and an answer (``medium=towel_roll``).

    Raises
    ------
    ColdspellError
        No decision has that answer.
    """
    knowledge = find(question.name, library)
    decisions = decide(knowledge, _counted(question.lot, knowledge), question.today, session)
    facts = decisions.all_facts()
    decision, _, answer_ = wanted.rpartition("=")
    found = []
    answers = set()
    for name, table in session.book.decisions.items():
        answers |= set(table.answers)
        if answer_ in table.answers and decision in ("", name) and name not in ("step", "fallback"):
            found += session.book.why_not(name, answer_, facts)
    if not found:
        raise ColdspellError(
            f"no decision answers {wanted!r}", mend=f"did you mean {nearest(answer_, answers)}?"
        )
    return found


def find(name: str, library: Library) -> Knowledge:
    """Look a name up; never a silent first match.

    Raises
    ------
    ColdspellError
        Nothing is known by that name (the nearest are offered), or it means several plants (they are listed).
    """
    found = look_up(library, name)
    if isinstance(found, Found):
        return Knowledge(found.record, library.genus(found.record.name))
    if isinstance(found, Several):
        some = ", ".join(_both_names(Knowledge(r, None)) for r in found.records[:12])
        more = f" and {len(found.records) - 12} more" if len(found.records) > 12 else ""
        none = (
            f" Also {', '.join(found.unrecorded)}, of which there is no record." if found.unrecorded else ""
        )
        raise ColdspellError(
            f"{name!r} is the name of several plants", mend=f"Which one: {some}{more}?{none}"
        )
    near = ", ".join(found.nearest[:5])
    genus = library.genus(name.strip().capitalize())
    raise ColdspellError(
        f"no record for {name[:80]!r}",
        mend=(f"Did you mean: {near}? " if near else "")
        + (f"For the genus ask: coldspell recipe {genus.name}. " if genus else "")
        + "If it is none of these: not known, do not chill yet; "
        "find out what it is, and if it was shed moist sow half of it now.",
    )


def _both_names(knowledge: Knowledge) -> str:
    common, botanical = name_of(knowledge), knowledge.record.name
    return botanical if common == botanical else f"{common} ({botanical})"


def _candidate(decisions: Decisions) -> Candidate | None:
    return decisions.chosen.candidate if decisions.chosen else None


def _as_grown(lot: Lot, decisions: Decisions) -> Lot:
    """What is sown outdoors has the losses of a bed, wherever the grower meant to raise it."""
    outdoors = decisions.answer("route") == "sow_outdoors" and lot.grow_in == "container"
    return replace(lot, grow_in="bed") if outdoors else lot


def _counted(lot: Lot, knowledge: Knowledge) -> Lot:
    """Seeds from kilograms; dried seed that the record keeps moist stays what the grower said."""
    lot = _dried_by_days(lot, knowledge)
    if lot.kilograms is None:
        return lot
    per_kg = knowledge.value("seeds_per_kg")
    if per_kg is None:
        raise ColdspellError(
            f"nobody says how many seeds of {knowledge.record.name} make a kilogram",
            mend="weigh and count a handful, and give --seeds",
        )
    value = per_kg.value
    typical = value.usual if value.usual is not None else (value.low + value.high) / 2
    return replace(lot, seeds=max(1, min(round(lot.kilograms * typical), 1_000_000_000)))


def _dried_by_days(lot: Lot, knowledge: Knowledge) -> Lot:
    """Seed that must not dry and lay dry for over a month counts as dried, unless said to be fresh."""
    storage = knowledge.value("storage")
    long_dry = (lot.days_dry or 0) > practice.DRIED_AFTER_DAYS
    if storage and storage.behaviour == "recalcitrant" and long_dry and "moisture" in lot.assumed:
        return replace(lot, moisture="dried")
    return lot


def _words(
    knowledge: Knowledge, lot: Lot, units: Units, seed: SeedMeasure, amount: Amounts, decisions: Decisions
) -> Words:
    per_sheet = amount.seeds_per_sheet or practice.TOWEL_SEEDS_PER_SHEET
    candidate = _candidate(decisions)
    return {
        **base_words(knowledge, lot, units, seed, per_sheet),
        **treatment_words(candidate, decisions.schedule, units),
        "how_long": "",
        "changed": "",
        "how_warm": "",
        "substance": "",
    }
