"""What an answer keeps for the full page: gone from the one page, whole on the full one and in JSON."""

from __future__ import annotations

import json
from datetime import date

import pytest

from coldspell.api import shipped, to_json

KINDS = ["Quercus rubra", "Malus domestica", "Penstemon digitalis"]


@pytest.mark.parametrize("name", KINDS)
def test_what_serves_few_stands_on_the_full_page_alone(name: str) -> None:
    library = shipped()
    recipe = library.recipe(name, today=date(2026, 11, 30), seeds=40, moisture="fresh")
    assert recipe.checks is not None
    rows = [(k.then_do, k.on_page) for k in recipe.checks.looks]
    rows += [(n.text, n.on_page) for n in recipe.offspring]
    kept = [text for text, shown in rows if not shown]
    assert kept, name
    short, full = (" ".join(page.split()) for page in (library.page(recipe), library.page(recipe, full=True)))
    assert not [text for text in kept if text in short]
    assert not [text for text, _ in rows if text not in full]
    assert not [text for text, shown in rows if shown and text not in short]
    said = json.loads(to_json(recipe))
    assert len(said["checks"]["looks"]) == len(recipe.checks.looks)


@pytest.mark.parametrize("name", KINDS)
def test_no_caution_is_left_off_the_one_page(name: str) -> None:
    """What can hurt stands on every page."""
    library = shipped()
    recipe = library.recipe(name, today=date(2026, 11, 30), seeds=40, moisture="fresh")
    assert all(note.on_page for note in recipe.cautions)
