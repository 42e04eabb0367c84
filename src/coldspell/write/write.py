"""From a plan to the finished recipe: the plan with texts and sources."""

from __future__ import annotations

from coldspell import __version__
from coldspell.decide.names.asks import Ask
from coldspell.decide.tables import Tables
from coldspell.library.library import Library
from coldspell.plan.plan import Plan
from coldspell.texts import Texts
from coldspell.write import medium, notes, sowing, verdict
from coldspell.write.case import Case
from coldspell.write.footnotes import Footnotes
from coldspell.write.placeholders import Wording
from coldspell.write.recipe import Recipe
from coldspell.write.recipe_found import TraceRow
from coldspell.write.recipe_trial import RelativeAnswer, Trial
from coldspell.write.steps import steps
from coldspell.write.units import Units


def write(plan: Plan, asked: str, library: Library, tables: Tables, rules_digest: str) -> Recipe:
    """The recipe of a plan.

    Footnotes are numbered in the order in which the parts below are written; sources come last.
    """
    case = case_of(plan, library, tables)
    footnotes = case.footnotes
    species = verdict.species(case, asked)
    lot, answer, asks = verdict.lot(case), verdict.verdict(case), verdict.asks(case)
    timing, treatments, not_used = verdict.timing(case), verdict.treatments(case), verdict.not_used(case)
    to_do, needs = steps(case), notes.lines(case, Ask.NEEDS)
    lies_in, laid, lies_at = medium.medium(case), medium.layout(case), medium.place(case)
    hold, checks, sown = sowing.hold(case), sowing.checks(case), sowing.sowing(case)
    expectation, instead = sowing.expectation(case), notes.lines(case, Ask.INSTEAD)
    offspring, cautions, law = notes.offspring(case), notes.cautions(case), notes.law(case)
    relatives, learning = _by_trial(case, asked)
    reasons, assumed = _trace(case), notes.notes(case)
    return Recipe(
        schema=2,
        tool=f"coldspell {__version__}",
        library=library.digest,
        rules=rules_digest,
        asked_on=plan.today.isoformat(),
        units=plan.lot.units,
        species=species,
        lot=lot,
        verdict=answer,
        asks=asks,
        relatives=relatives,
        trial=learning,
        route=answer.route,
        does=plan.decisions.route,
        timing=timing,
        treatments=treatments,
        not_used=not_used,
        medium=lies_in,
        layout=laid,
        place=lies_at,
        needs=needs,
        steps=to_do,
        hold=hold,
        checks=checks,
        sowing=sown,
        expectation=expectation,
        what_if=sowing.what_if(case),
        instead=instead,
        offspring=offspring,
        cautions=cautions,
        law=law,
        sources=footnotes.all(),
        trace=reasons,
        notes=assumed,
    )


def _by_trial(case: Case, asked: str) -> tuple[tuple[RelativeAnswer, ...], Trial | None]:
    """Relatives of what no record tells of, and how to learn what it wants."""
    if case.plan.trial is None and not case.knowledge.relatives:
        return (), None
    from coldspell.write import trial  # few recipes have one

    return trial.relatives(case), trial.trial(case, asked)


def case_of(plan: Plan, library: Library, tables: Tables) -> Case:
    """What the parts of a recipe, and other answers on the same lot, are written from."""
    texts, units = Texts(tables.texts), Units(plan.lot.units)
    words = Wording(plan, tables.practice, texts, units).all()
    footnotes = Footnotes(library.bibliography, texts)
    return Case(plan, tables.practice, tables.book, texts, footnotes, words, units)


def _trace(case: Case) -> tuple[TraceRow, ...]:
    """One row for each rule that held, those of the notes at the end."""
    rows = []
    trial = case.plan.trial
    noted = {step.ripening.rule: step.ripening for step in case.plan.steps if step.ripening is not None}
    later = (*noted.values(), *case.plan.ground, *case.plan.opening, *case.plan.notes)
    later += trial.firings if trial else ()
    for firing, candidate in (*case.decisions.firings, *((f, None) for f in later)):
        rows.append(
            TraceRow(
                decision=firing.decision,
                asks=case.book.decisions[firing.decision].asks,
                rule=firing.rule,
                answer=firing.answer,
                facts={k: "unknown" if v is None else v for k, v in firing.facts.items()},
                because=firing.because,
                cites=case.footnotes.of_rules((firing,)),
                says=case.answer(firing.decision, firing.answer),
                candidate=candidate,
            )
        )
    return tuple(rows)
