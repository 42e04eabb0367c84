"""The head of the short page: the state of the lot, and the day on which work starts."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import pages
import pytest

from coldspell.views.days import gaps, looks_told
from coldspell.write.recipe import Recipe
from coldspell.write.units import short_date


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


@pytest.mark.parametrize(
    ("days", "says"),
    [
        ((1, 15, 22, 29, 36, 50), "then every week to 19 Feb"),
        ((1, 15, 29, 43, 57, 71), "1 Jan, then every two weeks to 12 Mar; weekly from the first root"),
        ((1, 8, 15, 22, 29, 30), "1 Jan, 8 Jan, then every week to 30 Jan"),
        (
            (1, 15, 29, 43, 57, 71, 78, 85, 90),
            "1 Jan, then every two weeks; weekly from 12 Mar or the first root",
        ),
        ((1, 15, 29), "1 Jan, 15 Jan, 29 Jan; weekly from the first root"),
    ],
)
def test_the_days_of_looking_name_their_rhythm(days: tuple[int, ...], says: str) -> None:
    """Nobody has to guess how it goes on after the days that are printed (common practice)."""
    dates = [date.fromordinal(date(2026, 12, 31).toordinal() + day) for day in days]
    told = looks_told([short_date(day, 2027) for day in dates], gaps(days), pages.texts())
    assert says in told
    assert "…" not in told
