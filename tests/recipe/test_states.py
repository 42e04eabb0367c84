"""What the state of a lot must change, whatever its kind: every record, asked without a sowing day."""

from __future__ import annotations

import os
from collections.abc import Callable
from datetime import date
from functools import cache

import lots
import pytest

from coldspell.library.load import Library
from coldspell.records.do import MOIST
from coldspell.write.recipe import Recipe

Ask = Callable[..., Recipe]
FULL = os.environ.get("COLDSPELL_FULL") == "1"
DAY = date(2027, 1, 12)
STATES = ("frozen", "mould", "smell", "soft", "bought")
SAID: dict[str, dict[str, str]] = {
    "frozen": {"frozen": "yes"},
    "mould": {"mould": "kernel"},
    "smell": {"smell": "rotten"},
    "soft": {"soft": "yes"},
    "bought": {"gathered": "bought"},
}


def test_cold_behind_a_shut_coat_never_counts(ask: Ask, library: Library) -> None:
    seen = 0
    for name in lots.part(library.names, 1 if FULL else 2):
        record = library.get(name)
        if record.dormancy is None or record.dormancy.class_ not in ("physical", "combinational"):
            continue
        bare = ask(name, DAY, seeds=40, moisture="dried")
        shut = ask(name, DAY, seeds=40, moisture="dried", cold_days_done=200, swollen="no")
        does = [s.do for s in bare.steps if s.do in MOIST or s.do.startswith("scarify")]
        if does and does[0].startswith("scarify") and bare.route == "treat_indoors":
            seen += 1
            assert [(s.do, s.days) for s in shut.steps] == [(s.do, s.days) for s in bare.steps], name
    assert seen > 5


@cache
def _sound(ask: Ask, name: str) -> Recipe:
    return ask(name, DAY, seeds=40, moisture="fresh")


@pytest.mark.parametrize("state", STATES)
def test_a_bad_sign_changes_the_page(ask: Ask, library: Library, state: str) -> None:
    """On every tenth record; a question or a refusal stays what it is."""
    for name in lots.part(library.names, 1 if FULL else 30):
        sound, other = _sound(ask, name), ask(name, DAY, seeds=40, moisture="fresh", **SAID[state])
        if sound.does.page != "plan" or sound.route == "already_sown":
            continue
        assert (sound.verdict, sound.steps, sound.notes) != (other.verdict, other.steps, other.notes), name
