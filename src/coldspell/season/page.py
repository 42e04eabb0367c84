"""The page of a season as it is printed: what is due, what cannot be, what it takes, the cold room."""

from __future__ import annotations

import textwrap
from collections import Counter
from collections.abc import Iterable, Sequence
from datetime import date, timedelta
from itertools import groupby

from msgspec import Struct

from coldspell.season.due import WEEKDAYS, Working
from coldspell.season.lot_plan import Event, Kind, LotPlan, Spell
from coldspell.season.room import MOST_MOVED, Mending
from coldspell.season.totals import Due, Listed, Totals, Week, monday
from coldspell.tables.rows import Refused
from coldspell.texts import Texts
from coldspell.views.layout import in_ascii, labelled, paragraph
from coldspell.write.units import number, short_date

_SHOWN = 40
_INDENT = 10
_WEEK_KINDS: tuple[Kind, ...] = ("start", "move", "do", "sow")
_TABLE_KINDS: tuple[Kind, ...] = ("start", "move", "sow", "look")


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


def render(season: Season, texts: Texts, width: int = 80, *, ascii_only: bool = False) -> str:
    """The page, wrapped to a width."""
    lines = list(_Page(season, texts, max(40, min(width, 120))).lines())
    text = "\n".join(line.rstrip() for line in lines) + "\n"
    return in_ascii(text) if ascii_only else text


class _Page(Struct, frozen=True):
    season: Season
    texts: Texts
    width: int

    def lines(self) -> Iterable[str]:
        """Every line in order."""
        yield from self._head()
        yield from self._week("season_this_week", 0, self.season.totals.this_week)
        yield from self._week("season_next_week", 7, self.season.totals.next_week)
        yield from self._late()
        yield from self._lots("season_short", self.season.totals.short, self._short_line)
        yield from self._lots("season_closed", self.season.totals.closed, self._closed_line)
        yield from self._unseen()
        yield from self._lots("season_unplanned", self.season.totals.unplanned, lambda lot: lot.says)
        yield from self._refused()
        yield from self._needs()
        yield from self._calendar()
        yield from self._room()

    def say(self, key: str, **values: object) -> str:
        """A sentence, filled in."""
        return self.texts.say(key, **values)

    def _day(self, day: date) -> str:
        return short_date(day, day.year if -60 <= (day - self.season.totals.today).days < 330 else None)

    def _span(self, spell: Spell) -> str:
        """From a first day to the day before the second."""
        return f"{self._day(spell[0])} – {self._day(spell[1] - timedelta(days=1))}"

    def _who(self, lot: LotPlan) -> str:
        return f"{lot.label}  {lot.name}, {number(lot.seeds)}"

    # --- parts ------------------------------------------------------------------------------------------

    def _head(self) -> Iterable[str]:
        totals, refused = self.season.totals, self.season.refused_count
        count = totals.planned + refused
        title = self.say(
            "season_title", count=number(count), lots=self.say("season_lot" if count == 1 else "season_lots")
        ).upper()
        printed = self.say("season_printed", day=short_date(totals.today))
        yield title + printed.rjust(max(1, self.width - len(title)))
        planned = (
            self.say("season_counts", planned=number(totals.planned), refused=number(refused))
            if refused
            else self.say("season_no_faults")
        )
        told = [f"{planned}."]
        if self.season.working.look_day is not None:
            weekday = WEEKDAYS[self.season.working.look_day].capitalize()
            told.append(self.say("season_look_day", day=weekday))
        yield from paragraph(" ".join(told), self.width)
        if totals.assumed:
            yield from paragraph(self.say("season_assumed", count=number(totals.assumed)), self.width)
        for lot, rows in list(totals.twice.items())[:5]:
            told_rows = ", ".join(map(str, rows[:8]))
            yield from paragraph(self.say("season_twice", lot=lot, rows=told_rows), self.width)

    def _title(self, text: str) -> Iterable[str]:
        yield ""
        yield text.upper()

    def _week(self, key: str, days: int, week: Week) -> Iterable[str]:
        first = monday(self.season.totals.today) + timedelta(days=days)
        yield from self._title(self.say(key, days=self._span((first, first + timedelta(days=7)))))
        rows = [row for kind in _WEEK_KINDS for row in self._due(kind, week)]
        looks = week.due.get("look", [])
        if looks:
            rows.append((f"  {self.say('season_kind_look')}", self._looks(looks, week.count["look"])))
        if not rows:
            rows = [("", self.say("season_nothing"))]
        yield from labelled(rows, self.width, _INDENT)

    def _due(self, kind: Kind, week: Week) -> Iterable[tuple[str, str]]:
        """One line a lot: what it is, then each of its tasks in the week."""
        label = f"  {self.say(f'season_kind_{kind}')}"
        due = week.due.get(kind, [])
        if kind == "do":  # told with the start where that is in the same week
            begun = {d.lot.number for k in ("start", "move", "sow") for d in week.due.get(k, [])}
            due = [d for d in due if d.lot.number not in begun]
        by_lot = [list(group) for _, group in groupby(due, key=lambda d: d.lot.number)]
        by_lot.sort(key=lambda group: group[0].event.day)
        for group in by_lot[:_SHOWN]:
            yield label, f"{self._who(group[0].lot)}: {self._tasks(group, week)}"
            label = ""
        if len(by_lot) > _SHOWN:
            yield "", self.say("season_more", count=number(len(by_lot) - _SHOWN))

    def _tasks(self, due: Sequence[Due], week: Week) -> str:
        lot, told = due[0].lot, []
        if lot.first and due[0].event.kind in ("start", "sow") and due[0].event.day == lot.start:
            tasks = ", ".join(dict.fromkeys(self.say(f"task_{what}") for what in lot.first))
            told.append(self.say("season_first", tasks=tasks))
        events = [d.event for d in due]
        if due[0].event.kind == "start":
            events += [d.event for d in week.due.get("do", []) if d.lot.number == lot.number]
        by_day: dict[date, list[Event]] = {}
        for event in sorted(events, key=lambda e: e.day):
            by_day.setdefault(event.day, []).append(event)
        for day, several in by_day.items():
            tasks = ", ".join(dict.fromkeys(self.say(f"task_{e.what}") for e in several))
            told.append(self.say("season_then", tasks=tasks, day=self._day(day)))
        if due[0].event.kind == "start" and (held := self._containers(lot)):
            told.append(self.say("season_in", containers=held))
        return "; ".join(told)

    def _containers(self, lot: LotPlan) -> str:
        wants = lot.wants
        found = [
            self._some("season_bag", "season_bags", wants.bags),
            self._some("season_box", "season_boxes", wants.boxes),
            self._some("season_tray", "season_trays", wants.trays),
            self._rolls(wants.rolls, wants.sheets),
        ]
        return ", ".join(text for text in found if text)

    def _some(self, one: str, many: str, count: int, **values: object) -> str:
        return self.say(one if count == 1 else many, count=number(count), **values) if count else ""

    def _rolls(self, count: int, sheets: int) -> str:
        sheet = self.say("sheet" if sheets == 1 else "sheets")
        return self._some("season_roll", "season_rolls", count, sheets=number(sheets), sheet=sheet)

    def _looks(self, looks: Sequence[Due], count: int) -> str:
        """Lots to look at, by day."""
        told = []
        ordered = sorted(looks, key=lambda d: d.event.day)
        for day, group in groupby(ordered, key=lambda d: d.event.day):
            told.append(f"{self._day(day)}: {', '.join(d.lot.label for d in group)}")
        if count > len(looks):
            told.append(self.say("season_more", count=number(count - len(looks))))
        return "; ".join(told)

    def _late(self) -> Iterable[str]:
        totals = self.season.totals
        if not totals.late.count and not totals.past.count:
            return
        yield from self._title(self.say("season_late"))
        rows = [(lot, self.say("season_late_tight", days=lot.late)) for lot in totals.late.lots[:_SHOWN]]
        for lot in totals.past.lots[:_SHOWN]:
            assert lot.asked is not None
            told = self.say("season_late_past", day=self._day(lot.asked), instead=self._instead(lot))
            rows.append((lot, told))
        yield from self._listed(rows, totals.late.count + totals.past.count)

    def _instead(self, lot: LotPlan) -> str:
        if lot.sow is None:
            return self.say("season_no_day")
        return self.say("season_sow_on", day=self._day(lot.sow))

    def _lots(self, key: str, listed: Listed, line: object) -> Iterable[str]:
        if listed.count:
            yield from self._title(self.say(key))
            rows = [(lot, line(lot)) for lot in listed.lots[:_SHOWN]]  # type: ignore[operator]
            yield from self._listed(rows, listed.count)

    def _listed(self, rows: Sequence[tuple[LotPlan, str]], count: int) -> Iterable[str]:
        for lot, text in rows:
            yield from _hanging(f"{self._who(lot)}: {text}", self.width)
        if count > len(rows):
            yield "  " + self.say("season_more", count=number(count - len(rows)))

    def _short_line(self, lot: LotPlan) -> str:
        assert lot.asked is not None
        return self.say(
            "season_short_line", asked=self._day(lot.asked), days=lot.short, instead=self._instead(lot)
        )

    def _closed_line(self, lot: LotPlan) -> str:
        task = "; ".join(
            self.say("season_closed_line", task=self.say(f"task_{e.what}"), day=self._day(e.day))
            for e in lot.closed
        )
        way = self.season.ways.get(lot.number)
        if way is None:
            return task
        return self.say("season_closed_way", tasks=task, instead=self._day(way))

    def _unseen(self) -> Iterable[str]:
        """Lots that nobody looks at for too long, by the time in which nobody does."""
        listed = self.season.totals.unseen
        if not listed.count:
            return
        yield from self._title(self.say("season_unseen"))
        by_spell: dict[Spell, list[str]] = {}
        for lot in listed.lots:
            for spell in lot.unseen:
                by_spell.setdefault(spell, []).append(lot.label)
        for (first, last), labels in sorted(by_spell.items()):
            text = self.say(
                "season_unseen_line", days=(last - first).days, first=self._day(first), last=self._day(last)
            )
            yield from _hanging(f"{text} {', '.join(labels)}", self.width)
        if listed.count > len(listed.lots):
            yield "  " + self.say("season_more", count=number(listed.count - len(listed.lots)))

    def _refused(self) -> Iterable[str]:
        if not self.season.refused_count:
            return
        yield from self._title(self.say("season_refused"))
        for row in self.season.refused[:_SHOWN]:
            for fault in row.faults:
                text = f"{row.place}: {fault}" + (f" ({fault.mend})" if fault.mend else "")
                yield from _hanging(" ".join(text.split()), self.width)
        if self.season.refused_count > _SHOWN:
            yield "  " + self.say("season_more", count=number(self.season.refused_count - _SHOWN))
        if self.season.rejects:
            yield from _hanging(self.say("season_refused_in", file=self.season.rejects), self.width)

    def _needs(self) -> Iterable[str]:
        totals = self.season.totals
        peak, when = totals.room.peak()
        found = [
            self._some("season_bag", "season_bags", totals.bags),
            self._some("season_box", "season_boxes", totals.boxes),
            self._some("season_tray", "season_trays", totals.trays),
            self._rolls(totals.rolls, totals.sheets),
            *(
                self.say("season_medium", litres=number(_up(litres)), material=material.replace("_", " "))
                for material, litres in sorted(totals.litres.items())
            ),
            self._some("season_label", "season_labels", totals.labels),
            self.say("season_peak", litres=number(_up(peak)), day=self._day(when)) if when else "",
        ]
        told = [text for text in found if text]
        if told:
            yield from self._title(self.say("season_needs"))
            yield from paragraph(" · ".join(told), self.width, 2, "  ")

    def _calendar(self) -> Iterable[str]:
        totals = self.season.totals
        if not totals.weeks:
            return
        yield from self._title(self.say("season_calendar"))
        heads = [self.say(f"season_kind_{kind}") for kind in _TABLE_KINDS]
        left = max(len(self.say("season_week_of")), 11) + 2
        yield (
            "  "
            + self.say("season_week_of").ljust(left)
            + "".join(h.rjust(7) for h in heads)
            + self.say("season_litres").rjust(9)
        )
        litres, capacity = totals.litres_by_week(), self.season.capacity
        quiet = 0
        for week in _weeks([*totals.weeks, *litres]):
            counts = totals.weeks.get(week)
            held = litres.get(week, 0.0)
            fits = capacity is None or held <= capacity + 1e-6
            if counts is None:
                counts = Counter()
            if fits and not any(counts[kind] for kind in _TABLE_KINDS):
                quiet += 1
                continue
            if quiet:
                yield "  " + (
                    self.say("season_quiet_one") if quiet == 1 else self.say("season_quiet", count=quiet)
                )
                quiet = 0
            cells = "".join((number(counts[kind]) if counts[kind] else "·").rjust(7) for kind in _TABLE_KINDS)
            over = ""
            if capacity is not None and not fits:
                over = "  " + self.say("season_over", litres=number(_up(held - capacity)))
            yield (
                "  "
                + self._day(week).ljust(left)
                + cells
                + (number(_up(held)) if held else "·").rjust(9)
                + over
            )

    def _room(self) -> Iterable[str]:
        room, capacity = self.season.totals.room, self.season.capacity
        peak, when = room.peak()
        if when is None:
            return
        yield from self._title(self.say("season_room"))
        if capacity is None:
            yield from paragraph(self.say("season_room_unknown"), self.width, 2, "  ")
            return
        over = room.over(capacity)
        if not over:
            text = self.say("season_fits", capacity=number(capacity), peak=number(_up(peak)))
            yield from paragraph(text, self.width, 2, "  ")
            return
        for (first, after), litres in over:
            text = self.say(
                "season_over_line",
                first=self._day(first),
                last=self._day(after - timedelta(days=1)),
                litres=number(_up(litres)),
                over=number(_up(litres - capacity)),
            )
            yield from _hanging(text, self.width)
        yield from self._moves()

    def _largest(self) -> Iterable[str]:
        """The lots that take most room, where no sowing days make it fit."""
        yield from paragraph(self.say("season_largest"), self.width, 2, "  ")
        for lot in self.season.totals.largest():
            text = self.say("season_largest_line", litres=number(_up(lot.wants.room_litres)))
            yield from _hanging(f"{self._who(lot)}: {text}", self.width, 4)

    def _moves(self) -> Iterable[str]:
        mending = self.season.mending
        if mending is None:
            yield from paragraph(self.say("season_moves_many", count=number(MOST_MOVED)), self.width, 2, "  ")
            return
        for lot in mending.too_large:
            text = self.say("season_too_large", litres=number(_up(lot.wants.room_litres)))
            yield from _hanging(f"{self._who(lot)}: {text}", self.width)
        needed = number(_up(mending.capacity_needed))
        if mending.left < 1e-6 and not mending.moves:
            yield from paragraph(self.say("season_fits_else"), self.width, 2, "  ")
            return
        if not mending.moves:
            yield from paragraph(self.say("season_moves_none", weeks=6, needed=needed), self.width, 2, "  ")
            yield from self._largest()
            return
        mended = "season_moves_others" if mending.too_large else "season_moves"
        if mending.left > 1e-6:
            text = self.say("season_moves_some", count=number(len(mending.moves)), needed=needed)
            yield from paragraph(text, self.width, 2, "  ")
            yield from self._largest()
            return
        yield from paragraph(self.say(mended), self.width, 2, "  ")
        for move in mending.moves:
            before, after = move.before, move.after
            assert before.sow is not None
            assert after.sow is not None
            cold = ", ".join(self._span(spell) for spell in after.cold)
            text = self.say(
                "season_move", before=self._day(before.sow), after=self._day(after.sow), cold=cold
            )
            yield from _hanging(f"{self._who(before)}: {text}", self.width, 4)


def _hanging(text: str, width: int, indent: int = 2) -> list[str]:
    """A paragraph whose first line stands out to the left."""
    return textwrap.wrap(
        text, width, initial_indent=" " * indent, subsequent_indent=" " * (indent + 2), break_on_hyphens=False
    )


def _weeks(found: Iterable[date]) -> Iterable[date]:
    """Every week from the first to the last, those between included."""
    weeks = sorted(found)
    week = weeks[0]
    while week <= weeks[-1]:
        yield week
        week += timedelta(days=7)


def _up(litres: float) -> float:
    """Litres to buy or to have room for: rounded up to a tenth."""
    return -(-litres * 10 // 1) / 10 if litres < 100 else float(-(-litres // 1))
