"""What may be said of a lot: the choices and the limits of its numbers."""

from __future__ import annotations

from collections.abc import Iterable

_YES_NO = ("yes", "no", "unknown")

CHOICES: dict[str, tuple[str, ...]] = {
    "moisture": ("fresh", "dried"),
    "winter": ("cold", "mild", "none", "unknown"),
    "origin": ("north", "south", "unknown"),
    "gathered": ("green", "ripe", "ground_autumn", "ground_spring", "bought", "unknown"),
    "pulp": _YES_NO,
    "shell": ("husk", "intact", "cracked", "kernel"),
    "frozen": _YES_NO,
    "heated": _YES_NO,
    "swollen": ("yes", "no", "some", "unknown"),
    "soft": _YES_NO,
    "mould": ("none", "shell", "kernel", "unknown"),
    "holes": _YES_NO,
    "smell": ("none", "earthy", "sour", "rotten", "almond", "unknown"),
    "refrigerator": ("own", "food", "none"),
    "grow_in": ("container", "bed", "site"),
    "units": ("metric", "us", "both"),
    "medium": ("vermiculite", "sand", "sawdust", "perlite", "peat", "coir", "sphagnum", "paper"),
}
"""Closed choices by field of a lot (``medium``: each name of the list of media at hand)."""

LIMITS: dict[str, tuple[float, float, str]] = {
    "seeds": (1, 1e9, "seeds"),
    "kilograms": (1e-6, 1e6, "kilograms"),
    "stored_years": (0, 1000, "years"),
    "days_dry": (0, 365_000, "days"),
    "rooted": (0, 1e9, "seeds"),
    "root_mm": (0, 1000, "mm"),
    "cold_days_done": (0, 1500, "days"),
    "warm_days_done": (0, 1500, "days"),
    "fridge_celsius": (-40, 60, "°C"),
    "fridge_litres": (0.1, 10_000, "litres"),
    "want": (1, 1e8, "plants"),
}
"""Least and most of each number of a lot, with its unit."""


def nearest(word: str, allowed: Iterable[str]) -> str:
    """The allowed word most like a mistyped one; all of them, when none is near."""
    from difflib import get_close_matches  # only wanted when something is wrong

    words = sorted(allowed)
    near = get_close_matches(word, words, n=1, cutoff=0.6)
    return near[0] if near else ", ".join(words)
