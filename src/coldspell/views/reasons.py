"""Why the recipe says what it says: every rule that held, as a tree; and why an answer was not given."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from msgspec import Struct

from coldspell.rules.model import Decision, Near
from coldspell.texts import Texts
from coldspell.views.layout import in_ascii, paragraph
from coldspell.views.short import short_page
from coldspell.views.sources import Sources
from coldspell.write.recipe import Recipe
from coldspell.write.recipe_found import TraceRow

MATTERS = (
    "identity", "alive", "route", "treatment", "start", "time", "medium", "material", "place", "meanwhile",
    "finish", "warmth", "wait", "relatives", "harm", "arms",
)  # fmt: skip
"""Decisions in the order of what they change for a grower."""


class Why(Struct, frozen=True):
    """What made an answer: the rules in sentences, what other sources say, what is reckoned with."""

    rows: tuple[str, ...]
    not_followed: tuple[str, ...]
    shares: str


def why(recipe: Recipe, texts: Texts, sources: Sources) -> Why:
    """What made the answer: first what hangs on the lot, then on the kind; the rest is the same for all.

    Within each the order is that of what a decision changes for a grower. Who told a fact stands with it.
    """
    used = next((t.name for t in recipe.treatments if t.status == "used"), None)
    rows = [row for name in MATTERS for row in recipe.trace if row.decision == name]
    rows = [row for row in rows if row.facts and row.says and row.candidate in (None, used)]
    rows.sort(key=lambda row: not _of_lot(row, recipe))
    shares = _shares(recipe)
    return Why(
        rows=tuple(_sentence(row, recipe, texts, sources) for row in rows),
        not_followed=tuple(f"{other.says} {other.because}" for other in recipe.not_used),
        shares=texts.say("why_shares", shares="; ".join(shares)) if shares else "",
    )


def sentences(recipe: Recipe, texts: Texts, width: int, *, ascii_only: bool = False) -> str:
    """What made the answer, under its page: works have its numbers, further ones follow."""
    sources = Sources(recipe.sources, texts)
    short_page(recipe, texts, sources=sources)
    named = sources.count
    found = why(recipe, texts, sources)
    lines = [texts.say("why_head")]
    for row in found.rows:
        lines += paragraph(row, width, 4, "  •")
    if found.not_followed:
        lines += paragraph(texts.say("why_not_followed"), width, 2)
    for other in found.not_followed:
        lines += paragraph(other, width, 4, "  •")
    if found.shares:
        lines += paragraph(found.shares, width, 2)
    if sources.count > named:
        lines += paragraph(sources.listed(beyond=named), width, 2)
    lines += paragraph(texts.say("why_more"), width, 2)
    text = "\n".join(lines) + "\n"
    return in_ascii(text) if ascii_only else text


def _of_lot(row: TraceRow, recipe: Recipe) -> dict[str, str]:
    """The facts of a rule that the grower told, or that were taken for granted: by name, in words."""
    lot, decided = recipe.lot, {other.decision for other in recipe.trace}
    told = {n: v for n, v in row.facts.items() if n in lot.said and n not in decided and v != "unknown"}
    return {n: _said(v) for n, v in told.items() if n in lot.assumed or lot.said[n] not in _UNSAID}


_UNSAID = (None, False, 0, 0.0, "unknown")
"""Values of a lot that say nothing."""


def _shares(recipe: Recipe) -> tuple[str, ...]:
    return recipe.expectation.assumed if recipe.expectation else ()


def _sentence(row: TraceRow, recipe: Recipe, texts: Texts, sources: Sources) -> str:
    """One rule that held, as a person would say it: the answer, the reason, and who told the facts."""
    mine = _of_lot(row, recipe)
    parts = (
        ("why_told", [f"{_said(n)} {v}" for n, v in mine.items() if n not in recipe.lot.assumed]),
        ("why_taken", [f"{_said(n)} {v}" for n, v in mine.items() if n in recipe.lot.assumed]),
    )
    whose = [texts.say(key, facts=", ".join(facts)) for key, facts in parts if facts]
    says = f"{row.says[0].upper()}{row.says[1:].rstrip('.')}."
    return sources.marked(" ".join([texts.say("why_row", says=says, because=row.because), *whose]), row.cites)


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
