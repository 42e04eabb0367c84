"""Each lot of :mod:`draw_lots` in turn."""

from __future__ import annotations

import pytest
from draw_lots import LOTS


@pytest.fixture(params=sorted(LOTS))
def lot(request: pytest.FixtureRequest) -> str:
    return str(request.param)
