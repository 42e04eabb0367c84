"""The place of a lot: which regions that notes on law name it lies in, and on which half of the world."""

from __future__ import annotations

import re
from typing import Literal

EUROPEAN_UNION = (
    "Austria", "Belgium", "Bulgaria", "Croatia", "Cyprus", "Czechia", "Czech Republic", "Denmark", "Estonia",
    "Finland", "France", "Germany", "Greece", "Hungary", "Ireland", "Italy", "Latvia", "Lithuania",
    "Luxembourg", "Malta", "Netherlands", "Poland", "Portugal", "Romania", "Slovakia", "Slovenia", "Spain",
    "Sweden",
)  # fmt: skip
GREAT_BRITAIN = ("England", "Scotland", "Wales", "United Kingdom", "UK", "Britain")
UNITED_STATES = ("USA", "United States", "U.S.", "U.S.A.")
NORTH_AMERICA = (*UNITED_STATES, "Canada", "Mexico")
WITHIN: dict[str, tuple[str, ...]] = {
    "european union": EUROPEAN_UNION,
    "great britain": GREAT_BRITAIN,
    "united states": UNITED_STATES,
    "usa": UNITED_STATES,
    "north america": NORTH_AMERICA,
}
"""What lies within a region that a note on law names."""
NORTHERN = (
    *EUROPEAN_UNION, *GREAT_BRITAIN, *NORTH_AMERICA, "Norway", "Switzerland", "Iceland", "Ukraine", "Russia",
    "Turkey", "Japan", "China", "Korea", "India", "Nepal", "Pakistan", "Iran", "Israel", "Morocco", "Egypt",
)  # fmt: skip
SOUTHERN = (
    "Australia", "New Zealand", "South Africa", "Chile", "Argentina", "Uruguay", "Paraguay", "Bolivia",
    "Peru", "Zimbabwe", "Botswana", "Namibia", "Mozambique", "Madagascar", "Zambia", "Lesotho", "Tasmania",
    "Victoria, Australia", "New South Wales", "Queensland",
)  # fmt: skip
"""Countries that lie wholly, or with nearly all who live there, on one half of the world."""


def is_within(place: str, region: str) -> bool:
    """Whether a place lies in a region that contains several countries (`WITHIN`, in any case).

    The member states are those that the European Union lists.

    >>> is_within("California, USA", "North America")
    True
    >>> is_within("Ireland", "European Union"), is_within("Northern Ireland", "Great Britain")
    (True, False)
    """
    return _names(place, WITHIN.get(region.strip().casefold(), ()))


def is_noted_for(place: str, noted: str) -> bool:
    """Whether a note on the law of one place is one for the place of a lot; case does not matter.

    >>> is_noted_for("Bavaria, Germany", "European Union"), is_noted_for("oregon", "Oregon, USA")
    (True, True)
    >>> is_noted_for("Norway", "European Union"), is_noted_for("", "European Union")
    (False, False)

    A whole country takes in its parts; one part of it is not another.

    >>> is_noted_for("USA", "Ohio, USA"), is_noted_for("Oregon, USA", "Ohio, USA")
    (True, False)
    """
    place, own = place.strip().casefold(), _parts(place)
    parts = _parts(noted)
    if not own or not parts:
        return False
    if len(own) > 1:  # the country that both lie in tells nothing
        return is_within(place, parts[0]) or parts[0] in place or own[0] in parts
    return any(is_within(place, part) or part in place or place in part for part in parts)


def _parts(place: str) -> list[str]:
    return [part.strip() for part in place.casefold().split(",") if part.strip()]


def half_of(place: str) -> Literal["northern", "southern", "unknown"]:
    """On which half of the world a place lies, where it names a country that lies on one of them.

    >>> half_of("Ireland"), half_of("Tasmania"), half_of("Brazil")
    ('northern', 'southern', 'unknown')
    """
    if _names(place, SOUTHERN):
        return "southern"
    return "northern" if _names(place, NORTHERN) else "unknown"


def _names(place: str, countries: tuple[str, ...]) -> bool:
    if not place or not countries:
        return False
    either = "|".join(map(re.escape, countries))
    return re.search(rf"(?<!northern )(?<!new )(?:{either})(?!\w)", place, re.IGNORECASE) is not None
