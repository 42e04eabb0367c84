"""No record with any lot of the grid reaches a gap or an impossible row, and every recipe can be printed."""

from __future__ import annotations

import os
from collections.abc import Callable

import lots as drawn
import pages
import pytest

from coldspell.library.load import Library
from coldspell.trial.grid import DAY, lots
from coldspell.write.recipe import Recipe

STEP = 1 if os.environ.get("COLDSPELL_FULL") else 40
"""By default a part of the records for each lot; together the forty lots meet every record once."""


@pytest.mark.parametrize("number", range(40))
def test_every_record_answers(number: int, library: Library, ask: Callable[..., Recipe]) -> None:
    said = list(lots())[number]
    for name in drawn.part(library.names, STEP, number % STEP):
        page = pages.render(ask(name, DAY, **said), 60)
        assert "{" not in page, name
        assert "start." not in page.split("\n\n")[1], name
