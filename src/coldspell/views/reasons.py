"""Why the recipe says what it says: every rule that held, as a tree; and why an answer was not given."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from coldspell.rules.model import Decision, Near
from coldspell.texts import Texts
from coldspell.views.layout import in_ascii, paragraph
from coldspell.write.recipe import Recipe, TraceRow

MATTERS = (
    "identity", "alive", "route", "treatment", "start", "time", "medium", "material", "place", "meanwhile",
    "finish", "warmth", "wait", "relatives", "harm", "arms",
)  # fmt: skip
"""Decisions in the order of what they change for a grower."""


def sentences(recipe: Recipe, texts: Texts, width: int, *, ascii_only: bool = False) -> str:
    """What made the answer, the most important first: question, answer, the facts of the lot, the reason."""
    practice = {s.number for s in recipe.sources if s.basis == "practice" and s.source is None}
    used = next((t.name for t in recipe.treatments if t.status == "used"), None)
    rows = [row for name in MATTERS for row in recipe.trace if row.decision == name]
    lines = [texts.say("why_head")]
    for row in rows:
        if row.candidate is None or row.candidate == used:
            lines += paragraph(_sentence(row, texts, practice), width, 4, "  •")
    if recipe.not_used:
        lines += paragraph(texts.say("why_not_followed"), width, 2)
    for other in recipe.not_used:
        lines += paragraph(f"{other.says} {other.because}", width, 4, "  •")
    if _shares(recipe):
        lines += paragraph(texts.say("why_shares", shares="; ".join(_shares(recipe))), width, 2)
    lines += paragraph(texts.say("why_more"), width, 2)
    text = "\n".join(lines) + "\n"
    return in_ascii(text) if ascii_only else text


def _shares(recipe: Recipe) -> tuple[str, ...]:
    return recipe.expectation.assumed if recipe.expectation else ()


def _sentence(row: TraceRow, texts: Texts, practice: set[int]) -> str:
    """One rule that held, as a person would say it."""
    facts = texts.say("and").join(f"{_said(name)} is {_said(value)}" for name, value in row.facts.items())
    since = texts.say("why_since", facts=facts) if facts else ""
    sourced = [n for n in row.cites if n not in practice]
    marks = f" [{', '.join(map(str, sourced))}]" if sourced else ""
    because = row.because[0].lower() + row.because[1:] if row.because[:2].istitle() else row.because
    answer = _said(row.answer)
    return texts.say("why_row", asks=row.asks, answer=answer, since=since, because=because) + marks


def tree(recipe: Recipe, width: int, *, ascii_only: bool = False) -> str:
    """Decision, rule, the facts that held, the reason and its sources; with dissenting sources at the end."""
    practice = {s.number for s in recipe.sources if s.basis == "practice" and s.source is None}
    lines = ["Why"]
    last = ""
    for row in recipe.trace:
        head = f"{row.decision}" + (f" ({row.candidate})" if row.candidate else "")
        if head != last:
            lines += paragraph(f"{head}: {row.asks}", width, 2)
            last = head
        lines += _row(row, width, practice)
    for other in recipe.not_used:
        lines += paragraph(f"not followed: {other.says} {other.because}", width, 2)
    text = "\n".join(lines) + "\n"
    return in_ascii(text) if ascii_only else text


def _row(row: TraceRow, width: int, practice: set[int]) -> list[str]:
    facts = ", ".join(f"{name} is {_said(value)}" for name, value in row.facts.items()) or "whatever the lot"
    sourced = [n for n in row.cites if n not in practice]
    numbers = f" [{', '.join(map(str, sourced))}]" if sourced else " (common practice)" if row.cites else ""
    lines = paragraph(f"└ {row.answer}: rule “{row.rule}”", width, 6, "    ")
    lines += paragraph(f"since {facts}", width, 8)
    return lines + paragraph(f"{row.because}{numbers}", width, 8)


def _said(value: str | float) -> str:
    return f"{value:g}" if isinstance(value, float) else str(value).replace("_", " ")


def near_misses(wanted: str, found: Iterable[Near], width: int, *, ascii_only: bool = False) -> str:
    """For each rule that would give the answer: which conditions failed, and what would change it."""
    lines = [f"Why not {wanted}"]
    for near in found:
        if near.held:
            lines += paragraph(f"{near.decision} does say {near.answer}, by rule “{near.rule}”.", width, 2)
            continue
        name = f"rule “{near.rule}”" if near.rule else "it is not asked here"
        lines += paragraph(f"{near.decision}, {near.answer}: {name}", width, 2)
        for failed in near.failed:
            value = "unknown" if failed.value is None else failed.value
            lines += paragraph(f"{failed.fact} is {value}; it would have to be {failed.needs}", width, 6)
        if near.behind and not near.failed:
            lines += paragraph(f"its conditions hold, but rule “{near.behind}” comes first", width, 6)
    text = "\n".join(lines) + "\n"
    return in_ascii(text) if ascii_only else text


def askable(decisions: Mapping[str, Decision], width: int, *, ascii_only: bool = False) -> str:
    """Every answer that ``--why-not`` can be asked for, by decision."""
    lines: list[str] = []
    for table in decisions.values():
        if table.per is None:
            lines += paragraph(f"{table.name}: {table.asks}", width)
            lines += paragraph(", ".join(table.answers), width, 4)
    text = "\n".join(lines) + "\n"
    return in_ascii(text) if ascii_only else text
