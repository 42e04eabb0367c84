"""Months and frost dates: both hemispheres, months that wrap over New Year, targets from a frost date."""

from __future__ import annotations

from datetime import date
from functools import lru_cache

from coldspell.arithmetic.calendar import add_days
from coldspell.errors import ColdspellError

FROST_OFFSET_DAYS: dict[str, int] = {"container": -28, "bed": 0, "site": 0}
"""Days from the last frost to sowing (common practice, no source): pots under cover four weeks before; bed
and site on the day, since the shoot of a chilled seed shows two weeks later or more."""


def season_month(month: int, southern: bool) -> int:
    """Month of the same season: records name northern months, the south is six months away.

    Parameters
    ----------
    month : int
        Northern month [1 to 12].
    southern : bool
        Whether to give the southern month [yes or no].

    Raises
    ------
    ColdspellError
        When there is no such month.

    >>> season_month(9, southern=False), season_month(9, southern=True), season_month(12, southern=True)
    (9, 3, 6)
    """
    _check_month(month)
    return (month + 5) % 12 + 1 if southern else month


@lru_cache(maxsize=4096)
def season_day(year: int, month_day: tuple[float, float], southern: bool) -> date:
    """Day of a year that stands in its season as a northern month and day do.

    Parameters
    ----------
    year : int
        Year [calendar year].
    month_day : tuple of float
        Northern month [1 to 12] and day [1 to 28].
    southern : bool
        Whether to give the day of the south, six months away [yes or no].

    Raises
    ------
    ColdspellError
        When there is no such month.

    >>> str(season_day(2027, (3, 20), southern=False)), str(season_day(2027, (3, 20), southern=True))
    ('2027-03-20', '2027-09-20')
    """
    return date(year, season_month(int(month_day[0]), southern), int(month_day[1]))


def months_between(first: int, last: int) -> tuple[int, ...]:
    """Months of a range that may wrap over New Year.

    Parameters
    ----------
    first, last : int
        First and last month [1 to 12].

    Raises
    ------
    ColdspellError
        When there is no such month.

    >>> months_between(11, 1)
    (11, 12, 1)
    """
    _check_month(first)
    _check_month(last)
    return tuple((first - 1 + i) % 12 + 1 for i in range((last - first) % 12 + 1))


def in_months(day: date, first: int, last: int, *, southern: bool = False) -> bool:
    """Whether a date falls in a range of northern months, shifted for the south.

    Parameters
    ----------
    day : date
        Day to judge [calendar date].
    first, last : int
        First and last northern month [1 to 12].
    southern : bool
        Whether the range is shifted by six months [yes or no].

    Raises
    ------
    ColdspellError
        When there is no such month.
    """
    opens, closes = season_month(first, southern), season_month(last, southern)
    return (day.month - opens) % 12 <= (closes - opens) % 12


def target_from_last_frost(last_frost: date, finish: str, offset_days: int | None = None) -> date:
    """Sowing date from the average date of the last frost.

    Parameters
    ----------
    last_frost : date
        Average date of the last frost of the coming spring [calendar date].
    finish : str
        ``container`` (pots under cover), ``bed`` or ``site`` [name].
    offset_days : int, optional
        After (negative: before) the frost date, instead of :data:`FROST_OFFSET_DAYS` [days].

    Raises
    ------
    ColdspellError
        When the place is unknown, or the date lies outside the years 1 to 9999.

    >>> target_from_last_frost(date(2027, 5, 10), "container").isoformat()
    '2027-04-12'
    """
    if offset_days is None:
        if finish not in FROST_OFFSET_DAYS:
            known = ", ".join(FROST_OFFSET_DAYS)
            raise ColdspellError(f"unknown place to grow {finish!r}", mend=f"use {known}")
        offset_days = FROST_OFFSET_DAYS[finish]
    return add_days(last_frost, offset_days)


def _check_month(month: int) -> None:
    if not 1 <= month <= 12:
        raise ColdspellError(f"there is no month {month}", mend="months are 1 to 12")
