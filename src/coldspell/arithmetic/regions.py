"""Countries and the regions that notes name: what lies in what, and on which half of the world."""

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
    """Whether a place lies in a region that contains several countries.

    Parameters
    ----------
    place : str
        What a grower says of the place [text that names a country].
    region : str
        A region of `WITHIN` [its name, in any case].

    Returns
    -------
    bool
        Whether it does; of a region that is not listed, no.

    Raises
    ------
    Nothing is raised.

    References
    ----------
    The member states are those that the European Union lists.

    Examples
    --------
    >>> is_within("California, USA", "North America")
    True
    >>> is_within("Ireland", "European Union"), is_within("Northern Ireland", "Great Britain")
    (True, False)
    """
    return _names(place, WITHIN.get(region.strip().casefold(), ()))


def half_of(place: str) -> Literal["northern", "southern", "unknown"]:
    """On which half of the world a place lies, where it names a country that lies on one of them.

    Parameters
    ----------
    place : str
        What a grower says of the place [text that names a country].

    Returns
    -------
    str
        The half; unknown for a country on both, and for one that is not listed.

    Raises
    ------
    Nothing is raised.

    Examples
    --------
    >>> half_of("Ireland"), half_of("Tasmania"), half_of("Brazil")
    ('northern', 'southern', 'unknown')
    """
    if _names(place, SOUTHERN):
        return "southern"
    return "northern" if _names(place, NORTHERN) else "unknown"


def _names(place: str, countries: tuple[str, ...]) -> bool:
    found = (rf"(?<!northern )(?<!new ){re.escape(name)}(?!\w)" for name in countries)
    return any(re.search(pattern, place, re.IGNORECASE) for pattern in found)
