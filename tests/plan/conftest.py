"""The shipped rules and records, and a plan as the program makes it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from coldspell.ask import Question, plan
from coldspell.decide.practice import Practice
from coldspell.decide.tables import Tables
from coldspell.library.load import Library, load_library, shipped_dirs
from coldspell.lot.read import make_lot
from coldspell.plan.plan import Plan
from coldspell.rulebook import load_tables
from coldspell.rules.plain import PlainEngine

TODAY = date(2026, 11, 25)


@pytest.fixture(scope="session")
def tables() -> Tables:
    """The shipped rules."""
    return load_tables(PlainEngine())


@pytest.fixture(scope="session")
def practice(tables: Tables) -> Practice:
    """The numbers of common practice."""
    return tables.practice


@pytest.fixture(scope="session")
def planned(tables: Tables) -> Callable[..., Plan]:
    """Plan a lot: a name and facts of the lot."""
    library: Library = load_library(shipped_dirs())

    def of(name: str, today: date = TODAY, **said: Any) -> Plan:
        return plan(Question(name, make_lot(said), today), library, tables)

    return of
