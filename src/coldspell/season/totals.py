"""What a season adds up to, gathered lot by lot: what is due, what cannot be, what it takes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from datetime import date, timedelta
from functools import lru_cache

from msgspec import Struct, field

from coldspell.records.do import MOIST
from coldspell.season.lot_plan import Event, Kind, LotPlan
from coldspell.season.room import ColdRoom

MOST_LISTED = 500
"""Lots that a list keeps; beyond them they are only counted."""
_MOST_LABELS = 200_000


class Listed(Struct):
    """Lots of one kind: the first of them, and how many there are."""

    lots: list[LotPlan] = field(default_factory=list)
    count: int = 0

    def add(self, lot: LotPlan) -> None:
        """One more."""
        self.count += 1
        if len(self.lots) < MOST_LISTED:
            self.lots.append(lot)


class Due(Struct, frozen=True):
    """One thing that is due for a lot."""

    lot: LotPlan
    event: Event


class Week:
    """What falls into one week."""

    def __init__(self) -> None:
        self.due: dict[Kind, list[Due]] = {}
        self.count: Counter[Kind] = Counter()

    def add(self, lot: LotPlan, event: Event) -> None:
        """One more."""
        self.count[event.kind] += 1
        listed = self.due.setdefault(event.kind, [])
        if len(listed) < MOST_LISTED:
            listed.append(Due(lot, event))


@lru_cache(maxsize=4096)
def monday(day: date) -> date:
    """The Monday of a day's week (ISO 8601)."""
    return day - timedelta(days=day.weekday())


class Totals:
    """A season as it is read, seen from one day."""

    def __init__(self, today: date) -> None:
        self.today = today
        self.planned = self.assumed = self.labels = 0
        self.late, self.past, self.short = Listed(), Listed(), Listed()
        self.closed, self.unseen, self.unplanned = Listed(), Listed(), Listed()
        self.elsewhere = Listed()
        """Lots that are not sown on the day that was given, though there is time enough."""
        self.this_week, self.next_week = Week(), Week()
        self.weeks: dict[date, Counter[Kind]] = {}
        self.look_days: set[date] = set()
        self.litres: dict[str, float] = {}
        self.bags = self.boxes = self.trays = self.rolls = self.sheets = 0
        self.room = ColdRoom()
        self.twice: dict[str, list[int]] = {}
        self._rows: dict[str, int] = {}
        self._large: list[LotPlan] = []

    def add(self, lot: LotPlan) -> None:
        """Count one lot in."""
        self.planned += 1
        self._called(lot)
        if lot.page != "plan" or not lot.events:
            self.unplanned.add(lot)
        if lot.asked is None and lot.sow is not None:
            self.assumed += 1
        if lot.asked is not None and lot.asked < self.today and lot.sow is not None:
            self.past.add(lot)
        elif lot.short:
            self.short.add(lot)
        elif lot.late:
            self.late.add(lot)
        elif lot.asked is not None and lot.sow not in (None, lot.asked) and not lot.may_hold:
            self.elsewhere.add(lot)
        if lot.closed:
            self.closed.add(lot)
        if lot.unseen:
            self.unseen.add(lot)
        self._by_week(lot)
        self.room.add(lot.cold, lot.wants.room_litres)
        if lot.cold:
            self._large.append(lot)
            if len(self._large) > 40:
                self._large = self.largest(10)
        self.labels += lot.labels
        if not lot.begun and any(event.what in MOIST for event in lot.events):
            self._takes(lot)

    def _called(self, lot: LotPlan) -> None:
        if not lot.own.lot:
            return
        first = self._rows.get(lot.own.lot)
        if first is not None:
            self.twice.setdefault(lot.own.lot, [first]).append(lot.number)
        elif len(self._rows) < _MOST_LABELS:
            self._rows[lot.own.lot] = lot.number

    def _by_week(self, lot: LotPlan) -> None:
        this = monday(self.today)
        for event in lot.tasks:
            week = monday(event.day)
            counts = self.weeks.get(week)
            if counts is None:
                counts = self.weeks[week] = Counter()
            counts[event.kind] += 1
            if event.kind == "look":
                self.look_days.add(event.day)
            if week == this:
                self.this_week.add(lot, event)
            elif (week - this).days == 7:
                self.next_week.add(lot, event)

    def _takes(self, lot: LotPlan) -> None:
        wants = lot.wants
        self.bags += wants.bags
        self.boxes += wants.boxes
        self.trays += wants.trays
        self.rolls += wants.rolls
        self.sheets += wants.sheets
        if wants.medium_litres:
            self.litres[wants.material] = self.litres.get(wants.material, 0.0) + wants.medium_litres

    def largest(self, count: int = 5) -> list[LotPlan]:
        """The lots that take most room in the cold."""
        return sorted(self._large, key=lambda lot: -lot.wants.room_litres)[:count]

    def litres_by_week(self) -> Mapping[date, float]:
        """Most litres in the cold in each week in which something lies there."""
        found: dict[date, float] = {}
        for first, after, litres in self.room.spans():
            week = monday(date.fromordinal(first))
            while week.toordinal() < after:
                found[week] = max(found.get(week, 0.0), litres)
                week += timedelta(days=7)
        return {week: litres for week, litres in found.items() if litres > 0}
