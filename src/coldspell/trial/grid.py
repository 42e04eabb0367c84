"""Every record with a grid of lots: the facts that really occur, for the proof of the rules."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from itertools import product
from typing import Any

from coldspell.decide.decide import decide
from coldspell.decide.knowledge import Knowledge
from coldspell.decide.names.asks import values_of
from coldspell.decide.tables import Tables
from coldspell.library.library import Library
from coldspell.lot.read import make_lot
from coldspell.plan.plan import make_plan
from coldspell.rules.model import FactValue

DAY = date(2026, 11, 25)
MOISTURE: tuple[dict[str, Any], ...] = ({"moisture": "fresh"}, {"moisture": "dried"})
AMOUNT: tuple[dict[str, Any], ...] = ({"seeds": 20}, {"seeds": 5000})
SPECIAL: tuple[dict[str, Any], ...] = (
    {},
    {"shell": "kernel"},
    {"sow": "2027-04-15"},
    {"sow": "2026-12-20"},
    {"stored_years": 3, "professional": True},
    {"refrigerator": "none", "winter": "cold"},
    {"rooted": 15},
    {"gathered": "ground_spring"},
    {"cut": "8/10", "origin": "north"},
    {"cold_days_done": 40, "sow": "2027-04-15"},
)
"""What is special about a lot; each is combined with every moisture and amount."""


def lots() -> Iterator[dict[str, Any]]:
    """The lots of the grid."""
    for parts in product(MOISTURE, AMOUNT, SPECIAL):
        yield {key: value for part in parts for key, value in part.items()}


def grid(library: Library, tables: Tables) -> Iterator[dict[str, FactValue]]:
    """Facts of every record with every lot of the grid.

    Raises
    ------
    RuleFault
        When the decision on a treatment already fails for a lot.
    """
    made = [make_lot(said) for said in lots()]
    for name in library.names:
        record, genus = library.get(name), library.genus(name)
        for lot in made:
            plan = make_plan(decide(Knowledge(record, genus), lot, DAY, tables), DAY, tables)
            yield values_of({**plan.decisions.facts, **plan.note_facts})
