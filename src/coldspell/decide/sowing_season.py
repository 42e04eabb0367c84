"""The seasons in which seed is sown: first and last days, by common practice and the usual last frost."""

from __future__ import annotations

from datetime import date, timedelta
from functools import lru_cache
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from coldspell.arithmetic.seasons import season_month, target_from_last_frost
from coldspell.decide.practice import Pair, Practice
from coldspell.lot.lot import Lot, MonthDay

ANY_YEAR = 2001

SowTime = Literal["early", "spring", "summer", "late_summer", "autumn"]
SownWhen = Literal["early", "spring", "summer", "autumn", "either", "frost_free"]


class SowingSeason(Struct, frozen=True):
    """The days (month and day, northern) between which seedlings are started."""

    opens: tuple[int, int]
    closes: tuple[int, int]
    southern: bool
    time: SowTime = "spring"
    other: SowingSeason | None = None
    """A second season of the same year that does as well."""

    def day_for(self, ready: date) -> date:
        """The first day of a season on which seed can be sown that is ready by a day."""
        day = self._day_for(ready)
        return day if self.other is None else min(day, self.other.day_for(ready))

    def time_of(self, day: date) -> SowTime:
        """In which season a day lies; one outside all of them counts as spring."""
        if self.time != "spring" and self._day_for(day) == day:
            return self.time
        return "spring" if self.other is None else self.other.time_of(day)

    def _day_for(self, ready: date) -> date:
        for year in range(ready.year - self.southern, ready.year + 2):
            if ready <= day_of_year(year, *self.closes, self.southern):
                return max(day_of_year(year, *self.opens, self.southern), ready)
        return ready

    def last_for(self, ready: date) -> date:
        """The last day of the season in which seed can be sown that is ready by a day."""
        closes = (day_of_year(ready.year + n, *self.closes, self.southern) for n in (-1, 0, 1))
        return next(close for close in closes if ready <= close)


def sowing_season(practice: Practice, lot: Lot, sown: SownWhen = "spring") -> SowingSeason:
    """The sowing season of common practice; where the usual last frost is known that of spring opens by it.

    It closes no sooner than as many days after it opens as it does by common practice.
    """
    if sown == "summer":
        best = _season("summer", practice.summer_sown_opens, practice.summer_sown_closes, lot)
        late = _season("late_summer", practice.summer_sown_closes, practice.summer_sown_latest, lot)
        return replace(best, other=late)
    if sown == "autumn":
        return _season("autumn", practice.autumn_sown_opens, practice.autumn_sown_closes, lot)
    if sown == "early":
        return _early_season(practice, lot)
    if sown == "either":
        return replace(sowing_season(practice, lot), other=sowing_season(practice, lot, "autumn"))
    opens = practice.frost_free_opens if sown == "frost_free" else practice.sowing_opens
    return _sowing_season(opens, practice.sowing_closes, lot.usual_frost, lot.grow_in, lot.southern)


def _early_season(practice: Practice, lot: Lot) -> SowingSeason:
    """The weeks before that of spring in which what is long in fruit is sown indoors; else in spring."""
    spring = _sowing_season(
        practice.sowing_opens, practice.sowing_closes, lot.usual_frost, lot.grow_in, lot.southern
    )
    sooner = timedelta(days=practice.early_sown_days)
    opens = max(date(ANY_YEAR, *spring.opens) - sooner, date(ANY_YEAR, 1, 1))
    return SowingSeason((opens.month, opens.day), spring.opens, lot.southern, "early", other=spring)


@lru_cache(maxsize=1024)
def _sowing_season(
    usual_opens: tuple[float, float],
    usual_closes: tuple[float, float],
    usual_frost: MonthDay | None,
    grow_in: str,
    southern: bool,
) -> SowingSeason:
    (m1, d1), (m2, d2) = usual_opens, usual_closes
    opens, closes = date(ANY_YEAR, int(m1), int(d1)), date(ANY_YEAR, int(m2), int(d2))
    if usual_frost is not None:
        from calendar import monthrange  # few say it, and the module costs every start

        month, day = map(int, usual_frost.split("-"))
        frost = date(ANY_YEAR, month, min(day, monthrange(ANY_YEAR, month)[1]))
        begins = max(target_from_last_frost(frost, grow_in), date(ANY_YEAR, 1, 1))
        by_frost = date(ANY_YEAR, season_month(begins.month, southern), min(begins.day, 28))
        opens, closes = by_frost, max(closes, closes + (by_frost - opens))
    return SowingSeason((opens.month, opens.day), (closes.month, closes.day), southern)


def _season(time: SowTime, opens: Pair, closes: Pair, lot: Lot) -> SowingSeason:
    (m1, d1), (m2, d2) = opens, closes
    return SowingSeason((int(m1), int(d1)), (int(m2), int(d2)), lot.southern, time)


def is_early(season: SowingSeason | None, day: date, practice: Practice) -> bool:
    """Whether a day lies so shortly before spring that what is long in fruit is sown then."""
    if season is None or season.time != "early" or season.other is None:
        return False
    return 0 < (season.other.day_for(day) - day).days <= 2 * practice.early_sown_days


def sown_sooner(season: SowingSeason | None, practice: Practice) -> float:
    """Days by which it is sown sooner than other seed before the last frost."""
    return practice.early_sown_days if season is not None and season.time == "early" else 0.0


@lru_cache(maxsize=4096)
def day_of_year(year: int, month: int, day: int, southern: bool) -> date:
    """A day of northern seasons in the year in which its season begins there."""
    return date(year + (southern and month > 6), season_month(month, southern), day)
