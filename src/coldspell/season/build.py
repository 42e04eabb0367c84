"""A season from a table: rows planned, added up and handed on, in one pass."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from datetime import date, timedelta

from coldspell.season.lot_plan import LotPlan
from coldspell.season.moves import MOST_MOVED, Mending, mend
from coldspell.season.phrases import Season
from coldspell.season.planning import Planner, Replan, planned, replanning
from coldspell.season.totals import Totals
from coldspell.tables.rows import Refused, Row

MOST_REFUSED = 500
"""Refused rows that the page keeps; all of them go to the reject file."""
_WAYS = 60
Sink = Callable[[LotPlan | Refused], None]


class Building:
    """One pass over the rows of a table.

    Parameters
    ----------
    planner
        Plans one row.
    capacity
        Room in the cold [litres], where it is known.
    sinks
        What every plan and every refusal is handed to, in order.
    """

    def __init__(self, planner: Planner, capacity: float | None = None, sinks: Sequence[Sink] = ()) -> None:
        self._planner, self._capacity, self._sinks = planner, capacity, sinks
        self.totals = Totals(planner.setting.today)
        self.refused: list[Refused] = []
        self.refused_count = 0
        self._rows: dict[int, Row] = {}
        self._cold: list[LotPlan] = []

    def run(self, rows: Iterable[Row | Refused], jobs: int = 1) -> None:
        """Plan every row."""
        for found in planned(self._kept(rows), self._planner, jobs):
            if isinstance(found, Refused):
                self.refused_count += 1
                if len(self.refused) < MOST_REFUSED:
                    self.refused.append(found)
            else:
                self.totals.add(found)
                if found.cold and len(self._cold) <= MOST_MOVED:
                    self._cold.append(found)
            for sink in self._sinks:
                sink(found)

    def season(self, rejects: str = "") -> Season:
        """What the page is made from."""
        replan = replanning(self._rows, self._planner)
        return Season(
            totals=self.totals,
            refused=self.refused,
            refused_count=self.refused_count,
            capacity=self._capacity,
            mending=self._mending(replan),
            working=self._planner.setting.working,
            ways=self._ways(replan),
            rejects=rejects,
            library=self._planner.records.digest,
        )

    def _kept(self, rows: Iterable[Row | Refused]) -> Iterator[Row | Refused]:
        """Rows as they pass, of which the first are kept to be planned anew."""
        for row in rows:
            if isinstance(row, Row) and len(self._rows) <= MOST_MOVED:
                self._rows[row.number] = row
            yield row

    def _mending(self, replan: Replan) -> Mending | None:
        if self._capacity is None or len(self._rows) > MOST_MOVED:
            return None
        if not self.totals.room.over(self._capacity):
            return None
        return mend(self._cold, self._capacity, replan)

    def _ways(self, replan: Replan) -> dict[int, date]:
        """For lots that have something on closed days, the nearest sowing day with which they have not."""
        found = {}
        for lot in self.totals.closed.lots[:_WAYS]:
            if lot.number in self._rows and lot.sow is not None:
                day = _open_day(lot, lot.sow, replan)
                if day is not None:
                    found[lot.number] = day
        return found


def _open_day(lot: LotPlan, sow: date, replan: Replan) -> date | None:
    for days in range(1, 29):
        for shift in (days, -days):
            moved = replan(lot, sow + timedelta(days=shift))
            if moved is not None and not moved.closed:
                return moved.sow
    return None
