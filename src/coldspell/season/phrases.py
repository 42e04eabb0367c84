"""What is said of a season, lot by lot and sum by sum: the same on the page, the sheet and the web."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from datetime import date, timedelta
from itertools import groupby

from msgspec import Struct

from coldspell.records.do import MOIST
from coldspell.season.due import WEEKDAYS, Working
from coldspell.season.lot_plan import Event, Kind, LotPlan, Spell
from coldspell.season.moves import MOST_MOVED, WEEKS, Mending, Move
from coldspell.season.room import up
from coldspell.season.totals import Due, Totals, Week
from coldspell.tables.rows import Fault, Refused
from coldspell.texts import Texts
from coldspell.write.units import MONTHS, number, short_date

TABLE_KINDS: tuple[Kind, ...] = ("start", "move", "sow", "look")
"""Kinds of tasks that the calendar counts."""
_MOST_ALIKE = 3
"""Rows with the same fault that are named one by one."""
_MOST_DAYS = 8
"""Days off the look day that are named."""


class Season(Struct, frozen=True):
    """All that the page is made from."""

    totals: Totals
    refused: Sequence[Refused]
    refused_count: int
    capacity: float | None
    mending: Mending | None
    working: Working
    ways: dict[int, date]
    """For rows that fall on closed days, a sowing day with which they do not."""
    rejects: str = ""
    library: str = ""
    """Digest of the records that it was planned by."""


class WeekRow(Struct, frozen=True):
    """One week of the calendar: what falls into it, the most litres in the cold, and how many too many."""

    week: date
    counts: Counter[Kind]
    litres: float
    over: float


class Phrases(Struct, frozen=True):
    """The sentences of one season."""

    season: Season
    texts: Texts

    def say(self, key: str, **values: object) -> str:
        """A sentence, filled in."""
        return self.texts.say(key, **values)

    def day(self, day: date) -> str:
        """A day, with its year where that is not plain."""
        return short_date(day, day.year if -60 <= (day - self.season.totals.today).days < 330 else None)

    def look_on(self, day: date) -> str:
        """A day of looks, with its weekday where it is not the one on which lots are looked at."""
        weekday = self.season.working.look_day
        usual = weekday is None or day.weekday() == weekday
        return self.day(day) if usual else self.weekday(day)

    def weekday(self, day: date) -> str:
        """A day with its weekday."""
        return f"{WEEKDAYS[day.weekday()][:3].capitalize()} {self.day(day)}"

    def month(self, day: date) -> str:
        """The month of a day, with its year where that begins."""
        name = MONTHS[day.month - 1][:3]
        return f"{name} {day.year}" if day.month == 1 else name

    def span(self, spell: Spell) -> str:
        """From a first day to the day before the second."""
        return f"{self.day(spell[0])} – {self.day(spell[1] - timedelta(days=1))}"

    def who(self, lot: LotPlan) -> str:
        """Which lot."""
        return f"{lot.label}  {lot.name}, {number(lot.seeds)}"

    def head(self) -> tuple[str, str, list[str]]:
        """Title, when it was printed, and what holds for all of it."""
        totals, refused = self.season.totals, self.season.refused_count
        count = totals.planned + refused
        lots = self.say("season_lot" if count == 1 else "season_lots")
        planned = (
            self.say("season_counts", planned=number(totals.planned), refused=number(refused))
            if refused
            else self.say("season_no_faults")
        )
        first = f"{planned}."
        if self.season.working.look_day is not None:
            first += " " + self._look_day(self.season.working.look_day)
        told = [first]
        if totals.assumed:
            told.append(self.say("season_assumed", count=number(totals.assumed)))
        for lot, rows in list(totals.twice.items())[:5]:
            told.append(self.say("season_twice", lot=lot, rows=", ".join(map(str, rows[:8]))))
        title = self.say("season_title", count=number(count), lots=lots)
        return title, self.say("season_printed", day=short_date(totals.today)), told

    def _look_day(self, weekday: int) -> str:
        """On which day of the week lots are looked at, and the days that are none, with their weekday."""
        others = sorted(day for day in self.season.totals.look_days if day.weekday() != weekday)
        name = WEEKDAYS[weekday].capitalize()
        if not others:
            return self.say("season_look_day", day=name)
        told = [self.look_on(day) for day in others]
        if len(told) > _MOST_DAYS:
            told = [*told[:_MOST_DAYS], "…"]
        return self.say("season_look_day_but", day=name, others=", ".join(told))

    def due(self, kind: Kind, week: Week) -> list[list[Due]]:
        """What is due of one kind in a week, by lot, the soonest first."""
        due = week.due.get(kind, [])
        if kind == "do":  # told with the start where that is in the same week
            begun = {d.lot.number for k in ("start", "move", "sow") for d in week.due.get(k, [])}
            due = [d for d in due if d.lot.number not in begun]
        by_lot = [list(group) for _, group in groupby(due, key=lambda d: d.lot.number)]
        return sorted(by_lot, key=lambda group: group[0].event.day)

    def tasks(self, due: Sequence[Due], week: Week) -> str:
        """What is done with a lot in a week."""
        lot, told = due[0].lot, []
        if lot.first and due[0].event.kind in ("start", "sow") and due[0].event.day == lot.start:
            told.append(self.say("season_first", tasks=first_tasks(lot, self.texts)))
        events = [d.event for d in due]
        if due[0].event.kind == "start":
            events += [d.event for d in week.due.get("do", []) if d.lot.number == lot.number]
        by_day: dict[date, list[Event]] = {}
        for event in sorted(events, key=lambda e: e.day):
            by_day.setdefault(event.day, []).append(event)
        for day, several in by_day.items():
            tasks = ", ".join(dict.fromkeys(self.say(f"task_{lot.word(e)}") for e in several))
            told.append(self.say("season_then", tasks=tasks, day=self.day(day)))
        if due[0].event.kind == "start" and (held := self.containers(lot)):
            told.append(self.say("season_in", containers=held))
        if due[0].event.kind == "sow" and lot.may_hold:
            told.append(self._or_hold(lot))
        return "; ".join(told)

    def _or_hold(self, lot: LotPlan) -> str:
        """That a lot may be kept instead of being sown, and until when."""
        if lot.held_until is None:
            return self.say("season_or_hold")
        return self.say("season_or_hold_until", day=self.day(lot.held_until))

    def containers(self, lot: LotPlan) -> str:
        """What a lot lies in."""
        wants = lot.wants
        found = [
            self._some("season_bag", "season_bags", wants.bags),
            self._some("season_box", "season_boxes", wants.boxes),
            self._some("season_tray", "season_trays", wants.trays),
            self._rolls(wants.rolls, wants.sheets),
        ]
        return ", ".join(text for text in found if text)

    def lies(self, lot: LotPlan) -> str:
        """What a lot lies in while it is moist; nothing where it does not lie moist."""
        return self.containers(lot) if any(event.what in MOIST for event in lot.events) else ""

    def _some(self, one: str, many: str, count: int, **values: object) -> str:
        return self.say(one if count == 1 else many, count=number(count), **values) if count else ""

    def _rolls(self, count: int, sheets: int) -> str:
        sheet = self.say("sheet" if sheets == 1 else "sheets")
        return self._some("season_roll", "season_rolls", count, sheets=number(sheets), sheet=sheet)

    def late(self, most: int) -> list[tuple[LotPlan, str]]:
        """Lots that should have begun sooner, then those whose day is past."""
        totals = self.season.totals
        rows = [(lot, self.say("season_late_tight", days=lot.late)) for lot in totals.late.lots[:most]]
        for lot in totals.past.lots[:most]:
            assert lot.asked is not None
            told = self.say("season_late_past", day=self.day(lot.asked), instead=self._instead(lot))
            rows.append((lot, told))
        return rows

    def _instead(self, lot: LotPlan) -> str:
        if lot.sow is None:
            return self.say("season_no_day")
        return self.say("season_sow_on", day=self.day(lot.sow))

    def short_line(self, lot: LotPlan) -> str:
        """By how much a lot cannot make its day."""
        assert lot.asked is not None
        return self.say(
            "season_short_line", asked=self.day(lot.asked), days=lot.short, instead=self._instead(lot)
        )

    def closed_line(self, lot: LotPlan) -> str:
        """What of a lot falls on closed days."""
        task = "; ".join(
            self.say("season_closed_line", task=self.say(f"task_{lot.word(e)}"), day=self.weekday(e.day))
            for e in lot.closed
        )
        way = self.season.ways.get(lot.number)
        if way is None:
            return task
        return self.say("season_closed_way", tasks=task, instead=self.day(way))

    def elsewhere_line(self, lot: LotPlan) -> str:
        """That a lot is not sown on the day that was given."""
        assert lot.asked is not None
        return self.say("season_elsewhere_line", asked=self.day(lot.asked), instead=self._instead(lot))

    def unseen(self) -> Iterator[tuple[str, list[str]]]:
        """Times in which nobody looks for too long, each with the lots of which that is so."""
        by_spell: dict[Spell, list[str]] = {}
        for lot in self.season.totals.unseen.lots:
            for spell in lot.unseen:
                by_spell.setdefault(spell, []).append(lot.label)
        for (first, last), labels in sorted(by_spell.items()):
            days = (last - first).days
            text = self.say("season_unseen_line", days=days, first=self.day(first), last=self.day(last))
            yield text, labels

    def faults(self, most: int) -> list[str]:
        """Why rows have no plan: row by row, and once what is wrong with many in the same way."""
        refused = self.season.refused
        ways = Counter(_way(fault) for row in refused for fault in row.faults)
        told: dict[object, str] = {}
        for row in refused:
            for fault in row.faults:
                way = _way(fault)
                mend = f" ({fault.mend})" if fault.mend else ""
                if ways[way] <= _MOST_ALIKE:
                    told[row.place, fault] = f"{row.place}: {fault}{mend}"
                elif way not in told:
                    many = self.say("season_refused_alike", count=number(ways[way]), place=str(row.place))
                    told[way] = f"{many}: {fault}{mend}"
        return [" ".join(text.split()) for text in list(told.values())[:most]]

    def needs(self) -> list[str]:
        """What the season takes."""
        totals = self.season.totals
        peak, when = totals.room.peak()
        found = [
            self._some("season_bag", "season_bags", totals.bags),
            self._some("season_box", "season_boxes", totals.boxes),
            self._some("season_tray", "season_trays", totals.trays),
            self._rolls(totals.rolls, totals.sheets),
            *(
                self.say("season_medium", litres=number(up(litres)), material=material.replace("_", " "))
                for material, litres in sorted(totals.litres.items())
            ),
            self._some("season_label", "season_labels", totals.labels),
            self.say("season_peak", litres=number(up(peak)), day=self.day(when)) if when else "",
        ]
        return [text for text in found if text]

    def weeks(self) -> Iterator[WeekRow | int]:
        """The calendar, week by week; a number stands for so many weeks in which nothing falls."""
        totals, capacity = self.season.totals, self.season.capacity
        litres = totals.litres_by_week()
        quiet = 0
        for week in _weeks([*totals.weeks, *litres]):
            counts, held = totals.weeks.get(week, Counter[Kind]()), litres.get(week, 0.0)
            over = 0.0 if capacity is None or held <= capacity + 1e-6 else held - capacity
            if not over and not any(counts[kind] for kind in TABLE_KINDS):
                quiet += 1
                continue
            if quiet:
                yield quiet
                quiet = 0
            yield WeekRow(week, counts, held, over)

    def quiet(self, weeks: int) -> str:
        """So many weeks in which nothing falls."""
        return self.say("season_quiet_one") if weeks == 1 else self.say("season_quiet", count=weeks)

    def room(self, peak: float, capacity: float | None) -> str:
        """How the cold is filled where nothing overflows."""
        if capacity is None:
            return self.say("season_room_unknown")
        return self.say("season_fits", capacity=number(capacity), peak=number(up(peak)))

    def overflows(self) -> list[str]:
        """Days on which more lies in the cold than it holds."""
        room, capacity = self.season.totals.room, self.season.capacity
        return [
            self.say(
                "season_over_line",
                first=self.day(first),
                last=self.day(after - timedelta(days=1)),
                litres=number(up(litres)),
                over=number(up(litres - (capacity or 0.0))),
            )
            for (first, after), litres in (room.over(capacity) if capacity is not None else [])
        ]

    def moves(self) -> list[tuple[str, list[tuple[LotPlan, str]]]]:
        """What makes it fit: sentences, each with the lots that it is about."""
        mending = self.season.mending
        if mending is None:
            return [(self.say("season_moves_many", count=number(MOST_MOVED)), [])]
        large = [
            (lot, self.say("season_too_large", litres=number(up(lot.wants.room_litres))))
            for lot in mending.too_large
        ]
        found: list[tuple[str, list[tuple[LotPlan, str]]]] = [("", large)] if large else []
        if mending.fits:
            if not mending.moves:
                return [*found, (self.say("season_fits_else"), [])]
            mended = "season_moves_others" if mending.too_large else "season_moves"
            return [*found, (self.say(mended), self._moved(mending.moves))]
        key = "season_moves_none" if mending.sure else "season_moves_not_found"
        near = "season_moves_near" if mending.moves else "season_moves_near_none"
        told = f"{self.say(key, weeks=WEEKS)} {self.say(near, needed=number(up(mending.peak)))}"
        return [*found, (told, self._moved(mending.moves)), self._largest()]

    def _largest(self) -> tuple[str, list[tuple[LotPlan, str]]]:
        """The lots that take most room, where no sowing days make it fit."""
        rows = [
            (lot, self.say("season_largest_line", litres=number(up(lot.wants.room_litres))))
            for lot in self.season.totals.largest()
        ]
        return self.say("season_largest"), rows

    def _moved(self, moves: Sequence[Move]) -> list[tuple[LotPlan, str]]:
        return [(move.before, self._move(move)) for move in moves]

    def _move(self, move: Move) -> str:
        before, after = move.before.sow, move.after.sow
        assert before is not None
        assert after is not None
        cold = ", ".join(self.span(spell) for spell in move.after.cold)
        return self.say("season_move", before=self.day(before), after=self.day(after), cold=cold)


def first_tasks(lot: LotPlan, texts: Texts) -> str:
    """What is done before all that has a day, with the hours of a soak."""
    told = []
    for what in lot.first:
        task = texts.say(f"task_{what}")
        if what == "soak" and lot.soak_hours is not None:
            low, high = (number(hours) for hours in lot.soak_hours)
            task = texts.say("season_soak", task=task, hours=low if low == high else f"{low}–{high}")
        told.append(task)
    return ", ".join(dict.fromkeys(told))


def _way(fault: Fault) -> tuple[str, str]:
    """How a cell is wrong, whatever stands in it; without a column each fault is one of its own."""
    return (fault.column, fault.mend) if fault.column else (fault.what, fault.mend)


def _weeks(found: Iterable[date]) -> Iterable[date]:
    """Every week from the first to the last, those between included."""
    weeks = sorted(found)
    week = weeks[0]
    while week <= weeks[-1]:
        yield week
        week += timedelta(days=7)
