"""The page of a season as it is printed: what is due, what cannot be, what it takes, the cold room."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Iterable, Sequence
from datetime import timedelta
from itertools import groupby

from msgspec import Struct

from coldspell.season.lot_plan import Kind, LotPlan
from coldspell.season.phrases import TABLE_KINDS, Phrases, Season
from coldspell.season.room import up
from coldspell.season.totals import Due, Listed, Week, monday
from coldspell.texts import Texts
from coldspell.views.layout import in_ascii, labelled, paragraph
from coldspell.write.units import number

_SHOWN = 40
_INDENT = 10
_WEEK_KINDS: tuple[Kind, ...] = ("start", "move", "do", "sow")


def render(season: Season, texts: Texts, width: int = 80, *, ascii_only: bool = False) -> str:
    """The page, wrapped to a width."""
    lines = list(_Page(season, Phrases(season, texts), max(40, min(width, 120))).lines())
    text = "\n".join(line.rstrip() for line in lines) + "\n"
    return in_ascii(text) if ascii_only else text


class _Page(Struct, frozen=True):
    season: Season
    phrases: Phrases
    width: int

    def lines(self) -> Iterable[str]:
        """Every line in order."""
        phrases, totals = self.phrases, self.season.totals
        yield from self._head()
        yield from self._week("season_this_week", 0, totals.this_week)
        yield from self._week("season_next_week", 7, totals.next_week)
        yield from self._late()
        yield from self._lots("season_short", totals.short, phrases.short_line)
        yield from self._lots("season_elsewhere", totals.elsewhere, phrases.elsewhere_line)
        yield from self._lots("season_closed", totals.closed, phrases.closed_line)
        yield from self._unseen()
        yield from self._lots("season_unplanned", totals.unplanned, lambda lot: lot.says)
        yield from self._refused()
        yield from self._needs()
        yield from self._calendar()
        yield from self._room()

    def _head(self) -> Iterable[str]:
        title, printed, told = self.phrases.head()
        yield title.upper() + printed.rjust(max(1, self.width - len(title)))
        for text in told:
            yield from paragraph(text, self.width)

    def _title(self, key: str, **values: object) -> Iterable[str]:
        yield ""
        yield self.phrases.say(key, **values).upper()

    def _more(self, count: int) -> str:
        return self.phrases.say("season_more", count=number(count))

    def _week(self, key: str, days: int, week: Week) -> Iterable[str]:
        phrases, first = self.phrases, monday(self.season.totals.today) + timedelta(days=days)
        yield from self._title(key, days=phrases.span((first, first + timedelta(days=7))))
        rows = [row for kind in _WEEK_KINDS for row in self._due(kind, week)]
        looks = week.due.get("look", [])
        if looks:
            rows.append((f"  {phrases.say('season_kind_look')}", self._looks(looks, week.count["look"])))
        yield from labelled(rows or [("", phrases.say("season_nothing"))], self.width, _INDENT)

    def _due(self, kind: Kind, week: Week) -> Iterable[tuple[str, str]]:
        """One line a lot: what it is, then each of its tasks in the week."""
        label = f"  {self.phrases.say(f'season_kind_{kind}')}"
        by_lot = self.phrases.due(kind, week)
        for group in by_lot[:_SHOWN]:
            yield label, f"{self.phrases.who(group[0].lot)}: {self.phrases.tasks(group, week)}"
            label = ""
        if len(by_lot) > _SHOWN:
            yield "", self._more(len(by_lot) - _SHOWN)

    def _looks(self, looks: Sequence[Due], count: int) -> str:
        """Lots to look at, by day."""
        told = []
        ordered = sorted(looks, key=lambda d: d.event.day)
        for day, group in groupby(ordered, key=lambda d: d.event.day):
            told.append(f"{self.phrases.look_on(day)}: {', '.join(d.lot.label for d in group)}")
        if count > len(looks):
            told.append(self._more(count - len(looks)))
        return "; ".join(told)

    def _late(self) -> Iterable[str]:
        count = self.season.totals.late.count + self.season.totals.past.count
        if count:
            yield from self._title("season_late")
            yield from self._listed(self.phrases.late(_SHOWN), count)

    def _lots(self, key: str, listed: Listed, line: Callable[[LotPlan], str]) -> Iterable[str]:
        if listed.count:
            yield from self._title(key)
            yield from self._listed([(lot, line(lot)) for lot in listed.lots[:_SHOWN]], listed.count)

    def _listed(self, rows: Sequence[tuple[LotPlan, str]], count: int = 0, indent: int = 2) -> Iterable[str]:
        for lot, text in rows:
            yield from _hanging(f"{self.phrases.who(lot)}: {text}", self.width, indent)
        if count > len(rows):
            yield "  " + self._more(count - len(rows))

    def _unseen(self) -> Iterable[str]:
        """Lots that nobody looks at for too long, by the time in which nobody does."""
        listed = self.season.totals.unseen
        if listed.count:
            yield from self._title("season_unseen")
        for text, labels in self.phrases.unseen():
            yield from _hanging(f"{text} {', '.join(labels)}", self.width)
        if listed.count > len(listed.lots):
            yield "  " + self._more(listed.count - len(listed.lots))

    def _refused(self) -> Iterable[str]:
        if not self.season.refused_count:
            return
        yield from self._title("season_refused")
        for text in self.phrases.faults(_SHOWN):
            yield from _hanging(text, self.width)
        if self.season.refused_count > len(self.season.refused):
            yield "  " + self._more(self.season.refused_count - len(self.season.refused))
        if self.season.rejects:
            yield from _hanging(self.phrases.say("season_refused_in", file=self.season.rejects), self.width)

    def _needs(self) -> Iterable[str]:
        told = self.phrases.needs()
        if told:
            yield from self._title("season_needs")
            yield from paragraph(" · ".join(told), self.width, 2, "  ")

    def _calendar(self) -> Iterable[str]:
        if not self.season.totals.weeks:
            return
        yield from self._title("season_calendar")
        say = self.phrases.say
        left = max(len(say("season_week_of")), 11) + 2
        heads = "".join(say(f"season_kind_{kind}").rjust(7) for kind in TABLE_KINDS)
        yield "  " + say("season_week_of").ljust(left) + heads + say("season_litres").rjust(9)
        for row in self.phrases.weeks():
            if isinstance(row, int):
                yield "  " + self.phrases.quiet(row)
                continue
            counts = (row.counts[kind] for kind in TABLE_KINDS)
            cells = "".join((number(count) if count else "·").rjust(7) for count in counts)
            over = "  " + say("season_over", litres=number(up(row.over))) if row.over else ""
            litres = (number(up(row.litres)) if row.litres else "·").rjust(9)
            yield "  " + self.phrases.day(row.week).ljust(left) + cells + litres + over

    def _room(self) -> Iterable[str]:
        (peak, when), capacity = self.season.totals.room.peak(), self.season.capacity
        if when is None:
            return
        yield from self._title("season_room")
        over = self.phrases.overflows()
        if not over:
            yield from paragraph(self.phrases.room(peak, capacity), self.width, 2, "  ")
            return
        for text in over:
            yield from _hanging(text, self.width)
        for text, rows in self.phrases.moves():
            yield from paragraph(text, self.width, 2, "  ") if text else ()
            yield from self._listed(rows, indent=4 if text else 2)


def _hanging(text: str, width: int, indent: int = 2) -> list[str]:
    """A paragraph whose first line stands out to the left."""
    return textwrap.wrap(
        text, width, initial_indent=" " * indent, subsequent_indent=" " * (indent + 2), break_on_hyphens=False
    )
