"""Closed words that facts and fields share."""

from typing import Literal

YesNo = Literal["yes", "no"]
YesNoUnknown = Literal["yes", "no", "unknown"]
Fits = Literal["no_date", "fits", "tight", "too_short"]
Material = Literal[
    "paper", "nothing", "vermiculite", "sand", "sawdust", "perlite", "peat", "coir", "sphagnum"
]
