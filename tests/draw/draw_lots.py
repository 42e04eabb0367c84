"""Lots for drawings: one of each way of lying, each with its day."""

from __future__ import annotations

from datetime import date
from typing import Any

from coldspell.api import shipped
from coldspell.draw.drawing import pictures
from coldspell.draw.picture import Picture
from coldspell.write.recipe import Recipe

AUTUMN, WINTER = date(2026, 10, 12), date(2026, 11, 30)
LOTS: dict[str, tuple[str, dict[str, Any], date]] = {
    "acorns": ("northern red oak", {"seeds": 12, "moisture": "fresh", "sow": "2027-04-15"}, AUTUMN),
    "loose acorns": ("northern red oak", {"seeds": 40, "moisture": "fresh", "sow": "2027-04-15"}, AUTUMN),
    "four": ("northern red oak", {"seeds": 4, "moisture": "fresh", "sow": "2027-04-15"}, AUTUMN),
    "four hundred": ("northern red oak", {"seeds": 400, "moisture": "fresh", "sow": "2027-04-15"}, AUTUMN),
    "box": ("black walnut", {"seeds": 20, "container": "400x300x250", "units": "both"}, AUTUMN),
    "bulk box": ("black walnut", {"seeds": 400, "container": "600x400x400"}, AUTUMN),
    "towel": ("apple", {"seeds": 15}, WINTER),
    "towels": ("apple", {"seeds": 90}, WINTER),
    "tray": ("paper birch", {"seeds": 500}, WINTER),
    "net": ("common hawthorn", {"seeds": 100, "moisture": "dried"}, date(2027, 1, 10)),
    "outdoors": ("black walnut", {"seeds": 5000, "refrigerator": "none", "winter": "cold"}, AUTUMN),
    "rooted": ("white oak", {"seeds": 40, "rooted": 40}, WINTER),
    "warm": ("mango", {"seeds": 4}, WINTER),
    "bare": ("white spruce", {"kilograms": 2, "moisture": "dried"}, WINTER),
    "dried": ("northern red oak", {"seeds": 40, "moisture": "dried", "collected": "2026-09-30"}, WINTER),
    "empty": ("Liriodendron tulipifera", {"seeds": 300, "cut": "1/10", "moisture": "dried"}, WINTER),
    "pit": ("black walnut", {"seeds": 5000, "moisture": "fresh", "winter": "cold"}, date(2026, 11, 20)),
    "tub": ("black walnut", {"seeds": 300, "moisture": "fresh"}, AUTUMN),
    "us": ("peach", {"seeds": 4, "units": "us"}, WINTER),
}


def recipe_of(lot: str) -> Recipe:
    name, facts, today = LOTS[lot]
    return shipped().recipe(name, today=today, **facts)


def drawn(lot: str) -> dict[str, Picture]:
    """The pictures of a lot by name."""
    return {one.name: one for one in pictures(recipe_of(lot), shipped().texts)}
