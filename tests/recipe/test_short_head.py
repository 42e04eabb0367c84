"""The head of the short page: the state of the lot, and the day on which work starts."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import pages
import pytest

from coldspell.write.recipe import Recipe


@pytest.mark.parametrize(
    ("name", "lot", "day", "start"),
    [
        ("Pinus edulis", {"moisture": "fresh", "seeds": 600}, date(2026, 11, 30), "12 Feb"),
        ("Acer negundo", {"moisture": "fresh", "seeds": 5}, date(2027, 9, 26), "15 Jan"),
        ("Cornus sanguinea", {"moisture": "dried", "seeds": 2000}, date(2026, 8, 20), "13 Nov"),
    ],
)
def test_a_soak_is_the_start(
    ask: Callable[..., Recipe], name: str, lot: dict[str, object], day: date, start: str
) -> None:
    """The first day on which something is done is a soak, not the cold after it (common practice)."""
    page = " ".join(pages.short(ask(name, today=day, **lot), 120).split())
    assert f"START {start}" in page


@pytest.mark.parametrize(
    ("said", "head"),
    [
        ({"moisture": "dried", "cold_days_done": 90}, "moist"),
        ({"moisture": "dried", "rooted": 3}, "3 rooted"),
        ({"moisture": "dried", "swollen": "yes"}, "swollen"),
        ({"moisture": "dried"}, "dried"),
    ],
)
def test_what_lies_wet_is_not_called_dried(
    ask: Callable[..., Recipe], said: dict[str, object], head: str
) -> None:
    """What has had its cold or shows a root is not dry any more (common practice)."""
    page = pages.short(ask("Malus domestica", today=date(2027, 1, 9), seeds=40, **said), 120)
    assert page.splitlines()[0].endswith(f"40 pips, {head}")
