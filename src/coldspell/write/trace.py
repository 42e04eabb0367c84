"""Every rule that held, with its facts and sources."""

from __future__ import annotations

from coldspell.write.case import Case
from coldspell.write.recipe_found import TraceRow


def trace(case: Case) -> tuple[TraceRow, ...]:
    """One row for each rule that held, those of the notes at the end."""
    rows = []
    trial = case.plan.trial
    later = (*case.plan.opening, *case.plan.notes, *(trial.firings if trial else ()))
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
