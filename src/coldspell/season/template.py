"""The commented table that ``season new`` writes."""

from __future__ import annotations

import csv
import io

from coldspell.lot.table import FACTS, LotFact
from coldspell.tables.heading import OWN
from coldspell.texts import Texts

USUAL = (
    "lot", "name", "seeds", "grams", "moisture", "stored_years", "collected", "sow", "last_frost", "cut",
    "shell", "refrigerator", "supplier", "origin", "shelf", "note",
)  # fmt: skip
"""The columns that the template has; any other fact of a lot may be added as a column."""


def template(texts: Texts) -> str:
    """A table of lots as CSV, with what each column takes above it and one invented lot below."""
    lines = [texts.say("season_new_first"), texts.say("season_new_rows"), texts.say("season_new_dates"), ""]
    lines += [f"{column}: {_meaning(column)}" for column in USUAL]
    rest = [name for name in FACTS if name not in USUAL]
    lines += ["", texts.say("season_new_more", columns=", ".join(rest))]
    out = io.StringIO()
    for line in lines:
        out.write(f"# {line}".rstrip() + "\n")
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(USUAL)
    example = {
        "lot": "A1",
        "name": "apple",
        "seeds": "40",
        "moisture": "dried",
        "sow": "2027-04-15",
        "note": texts.say("season_new_example"),
    }
    writer.writerow([example.get(column, "") for column in USUAL])
    return out.getvalue()


def _meaning(column: str) -> str:
    fact = FACTS.get(column)
    if fact is None or column in OWN:
        return OWN[column]
    takes = _takes(fact)
    return f"{fact.about.means} ({takes})" if takes else fact.about.means


def _takes(fact: LotFact) -> str:
    if fact.words:
        return ", ".join(fact.words)
    return fact.about.example or fact.about.unit
