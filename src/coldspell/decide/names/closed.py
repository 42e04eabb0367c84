"""Closed words that facts and fields share."""

from typing import Literal

YesNo = Literal["yes", "no"]
YesNoUnknown = Literal["yes", "no", "unknown"]
BreakCosts = Literal["none", "short", "half", "lost"]
"""What a break in warmth costs of the cold before it."""
Packs = Literal["layers", "rolled", "netted", "mixed", "loose", "surface"]
Into = Literal["deep_pot", "pot", "bed", "sunk", "its_tray"]
Fits = Literal["no_date", "fits", "tight", "too_short"]
Material = Literal[
    "paper", "nothing", "vermiculite", "sand", "sawdust", "perlite", "peat", "coir", "sphagnum"
]
