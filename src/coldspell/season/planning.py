"""From rows to plans, one at a time, in one process or several: the same plans in the same order."""

from __future__ import annotations

import gc
import os
from collections import deque
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from contextlib import contextmanager
from datetime import date, timedelta
from functools import lru_cache
from itertools import islice
from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace

from coldspell.ask import find
from coldspell.decide.decide import decide
from coldspell.decide.knowledge import Knowledge
from coldspell.decide.sowing_season import sowing_season
from coldspell.decide.tables import Tables, tables_for
from coldspell.errors import ColdspellError, InternalFault, Place, on_one_line
from coldspell.library.library import Library
from coldspell.library.load import load_library, shipped_dirs
from coldspell.lot.lot import Lot
from coldspell.lot.read import refuse_by_today
from coldspell.plan.plan import Dated, date_plan
from coldspell.rulebook import load_rulebook
from coldspell.rules.engine import ColumnEngine
from coldspell.season.due import Working, as_worked
from coldspell.season.lot_plan import ASKED, LotPlan, lot_plan, room_litres, waits_cold
from coldspell.tables.rows import Fault, Refused, Row
from coldspell.typed import as_day
from coldspell.workers import workers

_MOST_NAMES = 20_000
_CLOSED_DAYS = 150
"""To the next opening of the sowing season from a day after it closed, at the least."""
_SELDOM = 50_000
CHUNK = 200
"""Rows that a process is given at once."""


class Setting(Struct, frozen=True):
    """All that a plan depends on beside its row; small, so that other processes can be told."""

    today: date
    libraries: tuple[str, ...] = ()
    working: Working = Working()
    file: str = ""
    rules: str = ""


class Planner:
    """Plans rows by one library, kept for all of them."""

    def __init__(self, setting: Setting) -> None:
        self.setting = setting = replace(setting, today=as_day("today", setting.today))
        self.records: Library = load_library([*shipped_dirs(), *map(Path, setting.libraries)])
        rules = [Path(setting.rules)] if setting.rules else ()
        self.tables: Tables = tables_for(ASKED, load_rulebook(rules).book, ColumnEngine())
        self._known: dict[str, Knowledge] = {}

    def plan(self, row: Row) -> LotPlan | Refused:
        """The plan of one row, or why there is none."""
        try:
            found = self.dated(row, row.lot)
        except InternalFault:
            raise
        except ColdspellError as error:
            fault = Fault("", error.what, on_one_line(error.mend))
            place = Place(self.setting.file, row.number)
            return Refused(place, (fault,), row.cells, row.name, row.own.lot)
        return as_worked(found, self.setting.working)

    def sown_on(self, row: Row, day: date) -> LotPlan | None:
        """The plan of a row for another sowing day; ``None`` where that cannot be met as planned.

        Nor is it after the sowing season has closed, by common practice, or sooner and before it opens.
        """
        season, asked = sowing_season(self.tables.practice, row.lot), row.lot.sow
        opens = season.day_for(day)
        if (opens - day).days > _CLOSED_DAYS or (opens != day and asked is not None and day < asked):
            return None
        try:
            found = self.dated(row, replace(row.lot, sow=day, last_frost=None))
        except InternalFault:
            raise
        except ColdspellError:
            return None
        if found.late or found.short or found.sow != day:
            return None
        return as_worked(found, self.setting.working)

    def dated(self, row: Row, lot: Lot) -> LotPlan:
        """The plan of a row, its lot as said or otherwise; looks as its kind has them.

        Raises
        ------
        ColdspellError
            There is no plan: as `coldspell.ask.plan`.
        """
        today = self.setting.today
        refuse_by_today(lot, today)
        decisions = decide(self._kind(row.name), lot, today, self.tables)
        plan = date_plan(decisions, today, self.tables.practice)
        waiting = self._untreated_litres(row, lot, plan) if waits_cold(plan) else 0.0
        return lot_plan(row, plan, self.tables.practice, waiting)

    def _untreated_litres(self, row: Row, lot: Lot, plan: Dated) -> float:
        """Room of what a treated lot was laid in [litres]: that of the same lot as its treatment began."""
        before = replace(lot, cold_days_done=0.0, warm_days_done=0.0, sow=None)
        day = self.setting.today - timedelta(days=plan.lot.cold_days_done + plan.lot.warm_days_done)
        try:
            decisions = decide(self._kind(row.name), before, day, self.tables)
            return room_litres(date_plan(decisions, day, self.tables.practice))
        except InternalFault:
            raise
        except ColdspellError:
            return 0.0

    def _kind(self, name: str) -> Knowledge:
        """What is known of a kind, looked up once a name."""
        found = self._known.get(name)
        if found is None:
            found = find(name, self.records, in_row=True)
            if not found.on_record and found.genus is None and not found.relatives:
                raise ColdspellError(
                    f"neither {name!r} nor its genus is on record: no day can be planned",
                    mend="check the name; what such seed wants can be learnt: coldspell recipe NAME",
                )
            if len(self._known) < _MOST_NAMES:
                self._known[name] = found
        return found


@lru_cache(maxsize=1)
def planner_of(setting: Setting) -> Planner:
    """The planner of a process, made when it is first asked for."""
    return Planner(setting)


Rows = Iterable[Row | Refused]


def plan_rows(rows: Rows, planner: Planner) -> Iterator[LotPlan | Refused]:
    """A plan for each row that has one, in order; rows that were refused come through.

    The same rows give the same plans in any process: ``--jobs`` and `plan_batch` are both made of it.
    """
    for row in rows:
        yield row if isinstance(row, Refused) else planner.plan(row)


def planned(rows: Rows, planner: Planner, jobs: int = 1) -> Iterator[LotPlan | Refused]:
    """`plan_rows` in one process or several."""
    if jobs <= 1:
        with seldom_collected():
            yield from plan_rows(rows, planner)
        return
    with workers(min(jobs, os.cpu_count() or 1, 61)) as pool:
        yield from _in_order(rows, pool, planner.setting, jobs)


def _in_order(
    rows: Rows, pool: ProcessPoolExecutor, setting: Setting, jobs: int
) -> Iterator[LotPlan | Refused]:
    """Chunks go out as they come back, so that memory does not grow with the rows."""
    source = iter(rows)
    waiting: deque[Future[list[LotPlan | Refused]]] = deque()
    try:
        while True:
            while len(waiting) < 3 * jobs and (chunk := list(islice(source, CHUNK))):
                waiting.append(pool.submit(_plan_chunk, chunk, setting))
            if not waiting:
                return
            yield from waiting.popleft().result()
    finally:
        for each in waiting:
            each.cancel()


def _plan_chunk(rows: Sequence[Row | Refused], setting: Setting) -> list[LotPlan | Refused]:
    with seldom_collected():
        return list(plan_rows(rows, planner_of(setting)))


@contextmanager
def seldom_collected() -> Iterator[None]:
    """Look for objects that hold each other more seldom: plans do not, and what is kept for them is much."""
    usual = gc.get_threshold()
    gc.set_threshold(_SELDOM, *usual[1:])
    try:
        yield
    finally:
        gc.set_threshold(*usual)


Replan = Callable[[LotPlan, date], LotPlan | None]


def replanning(rows: dict[int, Row], planner: Planner) -> Replan:
    """Plans of known rows for other sowing days."""

    def replan(before: LotPlan, day: date) -> LotPlan | None:
        return planner.sown_on(rows[before.number], day)

    return replan
