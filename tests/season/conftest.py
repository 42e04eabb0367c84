"""One planner for all tests of seasons."""

from __future__ import annotations

import pytest
from seasons import DAY

from coldspell.season.planning import Planner, Setting


@pytest.fixture(scope="session")
def planner() -> Planner:
    return Planner(Setting(DAY))
