"""Why the recipe says what it says: every rule that held, as a tree; and why an answer was not given."""

from __future__ import annotations

from collections.abc import Iterable

from coldspell.rules.model import Near
from coldspell.views.layout import paragraph, plain
from coldspell.write.recipe import Recipe, TraceRow


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
    return plain(text) if ascii_only else text


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
    return plain(text) if ascii_only else text
