"""What must hold of every recipe (`invariants`): all records, with lots that strain dates and waiting.

By turns a third of the records is met, each in one of the twelve states; in the full run
(``COLDSPELL_FULL=1``) each is met in all.
"""

from __future__ import annotations

import os
from datetime import date
from typing import Any

import invariants
import lots
import pytest
from meeting import meet

from coldspell.decide.tables import Tables
from coldspell.library.load import Library

pytestmark = pytest.mark.long

AUTUMN, WINTER, SUMMER = date(2026, 10, 12), date(2027, 1, 12), date(2026, 7, 1)
LOTS: list[tuple[str, date, dict[str, Any]]] = [
    ("fresh with a date", AUTUMN, {"moisture": "fresh", "sow": "2027-04-15"}),
    ("dried with a date", AUTUMN, {"moisture": "dried", "sow": "2027-04-15"}),
    ("fresh, a year and a half to go", SUMMER, {"moisture": "fresh", "sow": "2028-04-15"}),
    ("dried, no refrigerator", WINTER, {"moisture": "dried", "refrigerator": "none", "winter": "cold"}),
    ("sixty days cold", WINTER, {"moisture": "fresh", "cold_days_done": 60, "sow": "2027-04-15"}),
    ("sixty days warm", WINTER, {"moisture": "fresh", "warm_days_done": 60, "sow": "2027-09-15"}),
    ("some rooted", WINTER, {"moisture": "fresh", "rooted": 5, "root_mm": 5, "sow": "2027-04-15"}),
    ("swollen", WINTER, {"moisture": "dried", "swollen": "yes", "sow": "2027-04-15"}),
    ("southern", date(2027, 4, 1), {"moisture": "dried", "southern": True, "sow": "2027-09-15"}),
    ("fresh without a date", WINTER, {"moisture": "fresh"}),
    ("dried without a date", WINTER, {"moisture": "dried"}),
    ("tight", WINTER, {"moisture": "dried", "sow": "2027-03-15"}),
]
FULL = os.environ.get("COLDSPELL_FULL") == "1"
EVERY = 36


@pytest.mark.parametrize(("name", "today", "said"), LOTS, ids=[each[0] for each in LOTS])
def test_no_recipe_contradicts_itself(
    name: str, today: date, said: dict[str, Any], library: Library, tables: Tables
) -> None:
    faults = []
    turn = 0 if FULL else [each[0] for each in LOTS].index(name) * 3 % EVERY
    for record in lots.part(library.names, 1 if FULL else EVERY, turn):
        met = meet(record, {"seeds": 40, **said}, today, library, tables)
        faults += [f"{record}: {fault}" for fault in invariants.faults(met)]
    assert not faults, f"{len(faults)} recipes ({name}): " + "; ".join(faults[:8])
