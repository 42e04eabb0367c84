"""``coldspell species diff OLD NEW``: what changed between two versions of a library."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any

import typer

from coldspell.cli import figures
from coldspell.cli.figures import Form
from coldspell.cli.species_words import topic
from coldspell.library.compare import Change, Difference, difference
from coldspell.library.load import load_library


def diff(
    old: Annotated[Path, typer.Argument(help="Library directory, older.")],
    new: Annotated[Path, typer.Argument(help="Library directory, newer.")],
    form: Annotated[Form, typer.Option("--format", help="text or json")] = Form.text,
) -> None:
    """Show which records, and what in them, differ between two versions of a library."""
    found = difference(load_library([old]), load_library([new]))
    if form is Form.json:
        values: dict[str, Any] = {
            "added": found.added,
            "removed": found.removed,
            "changes": [{"record": one.record, "topic": one.topic, **_sides(one)} for one in found.changes],
        }
        figures.answer(form, "species-diff", values, ())
    else:
        figures.write(_text(found))


def _sides(change: Change) -> dict[str, str]:
    return {"old": topic(change.old), "new": topic(change.new)}


def _text(found: Difference) -> str:
    lines = [f"added    {name}" for name in found.added] + [f"removed  {name}" for name in found.removed]
    last = ""
    for change in found.changes:
        if change.record != last:
            lines.append(f"changed  {change.record}")
            last = change.record
        sides = _sides(change)
        lines += [f"  {change.topic.replace('_', ' ')}", f"    - {sides['old']}", f"    + {sides['new']}"]
    records = len({change.record for change in found.changes})
    lines.append(f"{len(found.added)} added, {len(found.removed)} removed, {records} changed")
    return "\n".join(lines) + "\n"
