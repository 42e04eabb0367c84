"""Random lots over all declared facts, with many values at and just beside the limits that rules name."""

from __future__ import annotations

import math
import random
import re
from pathlib import Path
from typing import Any

from coldspell.rulebook import load_rulebook
from coldspell.rules import RuleBook, RuleFault, Session, load_rules

HERE = Path(__file__).parent
GOOD = HERE / "good"
SHIPPED = HERE.parent.parent / "rules"
SOURCES = {"handbook", "tables"}


def book_of(folder: Path) -> RuleBook:
    """The rules of a folder; the shipped ones with what the program declares for them."""
    return load_rulebook().book if folder == SHIPPED else load_rules([folder])


def limits(folder: Path) -> list[float]:
    """Every number that stands behind `over` or `up to` in the files."""
    text = " ".join(path.read_text(encoding="utf-8") for path in sorted(folder.glob("*.yaml")))
    return sorted({float(n) for n in re.findall(r"(?:over|up to) (-?[0-9.]+[0-9]|-?[0-9])", text)})


def random_lot(book: RuleBook, chance: random.Random, marks: list[float]) -> dict[str, Any]:
    """One value for every fact that can be tested; numbers fall on a limit or beside it half of the time."""
    lot: dict[str, Any] = {}
    for fact in book.facts.values():
        if fact.values:
            lot[fact.name] = chance.choice(fact.values)
        elif fact.bounds:
            low, high = fact.bounds
            near = [m for m in marks if low <= m <= high]
            if fact.may_be_unknown and chance.random() < 0.25:
                lot[fact.name] = None
            elif near and chance.random() < 0.6:
                mark = chance.choice(near)
                value = chance.choice([mark, math.nextafter(mark, -1e9), math.nextafter(mark, 1e9)])
                lot[fact.name] = min(max(value, low), high)
            else:
                lot[fact.name] = chance.choice(
                    [low, high, chance.uniform(low, min(high, 1000 + max(low, 0)))]
                )
    return lot


def outcome(session: Session, lot: dict[str, Any], **how: Any) -> Any:
    """What a session answers; or, where random facts meet in a way that no record can, the row that says so.

    A gap or two rules at once is no such row and is raised.
    """
    try:
        return session.run(lot, **how)
    except RuleFault as fault:
        if "impossible row" not in fault.what:
            raise
        return (fault.decision, fault.rules)
