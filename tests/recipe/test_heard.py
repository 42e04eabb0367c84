"""Nothing that a grower says of a lot is passed over in silence: it changes the page, or the page names it.

Every fact of a lot that `lots.AWKWARD` draws, on a sample of the records (all of them in the full run). What
says that nothing is wrong (no mould, no holes) need not be named, nor what is kept from an answer that ends
before it: a question which species it is, or that heated seed does not grow.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from datetime import date, timedelta
from functools import cache
from typing import Any

import lots
import pages
import pytest

from coldspell import ask as flow
from coldspell.errors import ColdspellError
from coldspell.library.load import Library
from coldspell.write.recipe import Recipe

FULL = os.environ.get("COLDSPELL_FULL") == "1"
Ask = Callable[..., Recipe]
DAY = date(2027, 1, 12)
NO_NEWS = ("no", "none", "ripe", "earthy", "unknown")
ROOTED = {"one": 1, "few": 10, "most": 30, "all": 40}
QUIET = ("children", "animals", "professional", "refrigerator", "winter", "place", "units")
QUIET += ("fridge_celsius", "fridge_litres")
"""Of the household and its settings: they hold for many lots, and a line on each would be no news."""


@cache
def _plain(ask: Ask, name: str) -> Recipe:
    return ask(name, DAY, seeds=40)


def _silent(ask: Ask, name: str, fact: str, value: Any) -> bool:
    """Whether one fact changes nothing on the page of a plain lot, and the page does not name it."""
    if fact in lots.DATED:
        value = (DAY + timedelta(days=value)).isoformat()
    said = {fact: ROOTED[value] if fact == "rooted" else value}
    try:
        plain, told = _plain(ask, name), ask(name, DAY, **{"seeds": 40, **said})
        denied = ask(name, DAY, **{"seeds": 40, fact: "no"}) if value == "yes" else told
    except ColdspellError:  # no lot can be so
        return False
    if {plain.does.page, told.does.page} & {"question", "refusal", "trial"}:
        return False
    return pages.render(plain, 100) == pages.render(told, 100) == pages.render(denied, 100)


@pytest.mark.parametrize("fact", [fact for fact, _ in lots.AWKWARD if fact not in QUIET])
def test_what_was_said_is_heard(fact: str, ask: Ask, library: Library) -> None:
    values = [value for value in dict(lots.AWKWARD)[fact] if value not in NO_NEWS]
    for place, name in enumerate(lots.part(library.names, 5 if FULL else 200)):
        value = values[place % len(values)]
        assert not _silent(ask, name, fact, value), f"{fact} {value} of {name}"


@pytest.mark.parametrize("name", ["Juglans nigra", "Malus domestica", "Corylus avellana"])
def test_a_yes_that_a_step_answers_is_not_called_idle(name: str, ask: Ask) -> None:
    assert "changes nothing" not in pages.render(ask(name, DAY, seeds=40, pulp="yes"), 100)


def test_a_fact_that_no_name_is_known_for_is_found(
    ask: Ask, library: Library, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(flow, "_unheard", lambda *_: [])
    facts = [(fact, values[0]) for fact, values in lots.AWKWARD if fact not in QUIET]
    found = [(name, *fact) for name in lots.part(library.names, 400) for fact in facts]
    assert any(_silent(ask, *one) for one in found)
