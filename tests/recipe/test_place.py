"""Where a bag stands is said in the step that is cold, never in one that is warm (common practice)."""

from __future__ import annotations

from datetime import date

import pytest

from coldspell.api import shipped
from coldspell.records.do import COLD, MOIST
from coldspell.views.short import short_page


def warm_first(name: str) -> bool:
    """Whether the first treatment of a record begins moist and warm, and has cold after it."""
    moist = [s.do for t in shipped().records.get(name).treatments[:1] for s in t.steps if s.do in MOIST]
    return moist[:1] == ["warm_moist"] and any(do in COLD for do in moist)


NAMES = [name for name in sorted(shipped().records.names) if warm_first(name)][::12]


@pytest.mark.parametrize("name", NAMES)
def test_the_place_stands_in_the_cold_step(name: str) -> None:
    lib = shipped()
    recipe = lib.recipe(name, today=date(2026, 8, 20), moisture="dried", sow=date(2028, 4, 15))
    place = recipe.medium.place if recipe.medium else None
    assert place
    page = short_page(recipe, lib.texts)
    with_place = [step.do for step, told in zip(recipe.steps, page.steps, strict=True) if place in told.text]
    assert len(with_place) == 1
    assert with_place[0] in COLD
