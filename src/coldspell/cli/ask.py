"""Ask for one recipe and print it."""

from __future__ import annotations

import shutil
import sys
from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import Any

from coldspell import shipped
from coldspell.errors import ColdspellError
from coldspell.library.load import load_library, shipped_dirs
from coldspell.recipe.build import Question, answer, near_answers
from coldspell.recipe.lot import make_lot, read_date
from coldspell.rules import Session, best_engine
from coldspell.rules.load import built_rules

FORMATS = ("text", "json")


def run(
    name: str,
    lot_file: Path | None,
    said: Mapping[str, Any],
    today: str | date,
    form: str,
    why: bool,
    why_not: str | None,
    libraries: Sequence[Path],
) -> None:
    """Make one recipe and print it in the form asked for."""
    if form not in FORMATS:
        raise ColdspellError(f"--format cannot be {form!r}", mend=f"one of: {', '.join(FORMATS)}")
    facts: dict[str, Any] = {}
    if lot_file is not None:
        from coldspell.recipe.lot_file import read_lot_file

        facts = read_lot_file(lot_file)
    given = {k: v for k, v in said.items() if v is not None}
    for instead, of in (
        ("seeds", "kilograms"),
        ("kilograms", "seeds"),
        ("sow", "last_frost"),
        ("last_frost", "sow"),
        ("container", "bag"),
        ("bag", "container"),
    ):
        if instead in given and of not in given:
            facts.pop(of, None)
    lot = make_lot({**facts, **given})
    library = load_library([*shipped_dirs(), *libraries])
    rules = built_rules([shipped.find("rules")])
    session = Session(rules.book, best_engine())
    question = Question(name, lot, read_date("today", today))
    found = answer(question, library, session, rules.digest)
    if form == "json":
        from coldspell.views.json_view import render

        put(render(found))
        return
    from coldspell.views import text

    width, ascii_only = shutil.get_terminal_size((80, 24)).columns, not _unicode()
    page = text.render(found, width, ascii_only=ascii_only)
    if why:
        from coldspell.views import reasons

        page += "\n" + reasons.tree(found, width, ascii_only=ascii_only)
    if why_not:
        from coldspell.views import reasons

        near = near_answers(why_not, question, library, session)
        page += "\n" + reasons.near_misses(why_not, near, width, ascii_only=ascii_only)
    put(page)


def put(text: str) -> None:
    """Write to standard output; the encoding of the terminal decides what it can show."""
    encoding = sys.stdout.encoding or "ascii"
    sys.stdout.write(text.encode(encoding, "replace").decode(encoding))


def _unicode() -> bool:
    try:
        "–°×½".encode(sys.stdout.encoding or "ascii")
    except (UnicodeEncodeError, LookupError):
        return False
    return True
