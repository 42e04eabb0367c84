"""Amounts and lengths of common practice (no source): used where no record says better, and marked so."""

from __future__ import annotations

from coldspell.library.model import Quantity

COLD_CELSIUS = Quantity(1, 5)
"""Cold moist stratification in a refrigerator."""
WARM_CELSIUS = Quantity(18, 25)
"""Warm moist stratification in a room."""
HOLD_CELSIUS = Quantity(0, 2)
"""Holding treated seed."""
SOW_COOL_CELSIUS = 20.0
"""Warmest soil for chilled seed; warmer, it may fall back into dormancy."""
THREE_MONTHS_DAYS = Quantity(90, 150, 90)
"""The least for hardy nuts and tree fruit of which nothing better is known; five months do nuts no harm."""
GAP_MM = 25.0
LAYER_MM = (25.0, 50.0)
POT_DEPTH_MM = (200, 360)
MESH_MM = (6, 13)
SOAK_HOURS = {
    "nut": (24, 72),
    "stone": (24, 72),
    "pip": (12, 24),
    "conifer": (24, 48),
    "recalcitrant": (12, 24),
}
ROOT_POT_UP_MM = {"nut": (5, 30), "small": (5, 10)}
FIRST_LOOK_DAYS = {"towel_roll": 8, "other": 14}
LOOK_EVERY_DAYS = 14
LOOK_WEEKLY_WITHIN_DAYS = 21
"""Weekly within three weeks of the least treatment, and after the first root."""
GRAFT_MM = {"nut tree": (10, 20), "other": (6, 10)}
GRAFT_YEARS = (2, 3)
SOUND_PERCENT = (70, 85)
"""Sound seed that grows, when no source gives a germination percentage."""
ROT_PERCENT = (5, 15)
"""Loss to rot in the cold."""
SEEDLING_TO_PLANT_PERCENT = {"container": (75, 85), "bed": (50, 70), "site": (0, 50)}
WIDTH_MM = {"fine": 1.0, "small": 5.0, "medium": 12.0, "large": 22.0, "unknown": 20.0}
"""Seed width when the record gives none, by size class."""
VOLUME_LOT_SEEDS = 100
"""Above about so many nuts a lot is mixed by volume."""
OFTEN_EMPTY_PERCENT = 65.0
TOWEL_SEEDS_PER_SHEET = 25
DRIED_AFTER_DAYS = 30
EARLY_MONTHS = (1, 8)
"""Seed ripe within these months (northern) is shed early."""
_SUMMER = ((6, 1), (8, 15), 240)
OUTDOOR_SOWING = {
    "other": ((10, 1), (1, 15), 90),
    "cold": ((11, 1), (1, 15), 90),
    "warm_then_cold": _SUMMER,
    "scarify_then_warm_cold": _SUMMER,
    "repeated": _SUMMER,
}
"""By the shape of the treatment: first and last day (month, day; northern) on which dry seed is sown
outdoors, and the least days before seedlings are wanted."""
WINTERED_WAIT_DAYS = 150
"""Chilled seed waits moist near freezing for some months at most; by then most has rooted."""
SPRING_MONTH = 6
"""Seed ripe by then (northern) is shed in spring."""
DAYS_PER_YEAR = 365.25
"""For the age of a lot from the day it was gathered."""
WEEKS_ONLY_YEARS = 0.25
"""Seed that keeps no longer than this is sown at once."""
