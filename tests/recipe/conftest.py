"""The shipped library and rules, loaded once for all recipe tests."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import pages
import pytest

from coldspell.ask import Question, answer
from coldspell.decide.tables import Tables, tables_of
from coldspell.library.load import Library, load_library, shipped_dirs
from coldspell.lot.read import make_lot
from coldspell.rulebook import asked, rule_paths
from coldspell.rules import Session, best_engine, load_rules
from coldspell.write.recipe import Recipe

TODAY = date(2026, 11, 25)


@pytest.fixture(scope="session")
def library() -> Library:
    """The shipped library, and the invented records of the cases."""
    return load_library([*shipped_dirs(), Path(__file__).parent.parent / "cases" / "library"])


@pytest.fixture(scope="session")
def tables(library: Library) -> Tables:
    """The shipped rules with the engine that runs here; the library's sources are the ones rules may cite."""
    return tables_of(load_rules(rule_paths(), set(library.bibliography), asked), best_engine())


@pytest.fixture(scope="session")
def session(tables: Tables) -> Session:
    """The rules alone."""
    return tables.session


@pytest.fixture(scope="session")
def ask(library: Library, tables: Tables) -> Callable[..., Recipe]:
    """Ask for a recipe as the command does: a name, facts of the lot, and the day that counts as today."""

    def _ask(name: str, today: date = TODAY, **said: Any) -> Recipe:
        said = {"float" if k == "float_" else k: v for k, v in said.items()}
        return answer(Question(name, make_lot(said), today), library, tables, "test")

    return _ask


@pytest.fixture(scope="session")
def page(ask: Callable[..., Recipe]) -> Callable[..., str]:
    """The recipe as the page a grower reads, on one line so that wrapping does not matter."""

    def _page(name: str, today: date = TODAY, **said: Any) -> str:
        return " ".join(pages.render(ask(name, today, **said), 100).split())

    return _page
