"""The season as one drawing (SVG): a line a lot, and under them what lies in the cold."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, timedelta
from html import escape

from msgspec import Struct

from coldspell.errors import ColdspellError
from coldspell.records.do import COLD, MOIST
from coldspell.season.lot_plan import Event, LotPlan
from coldspell.season.room import ColdRoom, up
from coldspell.season.totals import monday
from coldspell.texts import Texts
from coldspell.write.units import MONTHS, number, short_date

MOST_DRAWN = 1_000
_WIDTH, _LEFT, _RIGHT, _TOP = 1000.0, 250.0, 16.0, 76.0
_LINE = 15.0
_ROOM_HIGH = 150.0
_COLD, _WARM, _KEEP, _DRY, _INK, _GRID = "#2f6f9f", "#c8731a", "#8db6d3", "#b9b3a6", "#222222", "#d9d9d9"


class Timeline(Struct, frozen=True):
    """What is drawn."""

    lots: Sequence[LotPlan]
    today: date
    texts: Texts
    capacity: float | None = None

    def svg(self) -> str:
        """The drawing, with its own size, a title and a description.

        Raises
        ------
        ColdspellError
            There are too many lots to be read, or none with a day.
        """
        lots = sorted((lot for lot in self.lots if lot.start is not None), key=_order)
        if not lots:
            raise ColdspellError(
                "no lot has a day that could be drawn", mend="see the page: leave out the drawing"
            )
        if len(lots) > MOST_DRAWN:
            raise ColdspellError(
                f"{len(lots)} lots are too many for one drawing",
                mend=f"up to {MOST_DRAWN}; divide the table, by shelf or month of sowing",
            )
        first = monday(min(e.day for lot in lots for e in lot.events))
        last = max(e.day for lot in lots for e in lot.events) + timedelta(days=7)
        return _Drawing(self, lots, first, last).svg()


class _Drawing(Struct, frozen=True):
    timeline: Timeline
    lots: Sequence[LotPlan]
    first: date
    last: date

    def svg(self) -> str:
        bottom = _TOP + _LINE * len(self.lots)
        high = bottom + 46 + _ROOM_HIGH + 42
        say = self.timeline.texts.say
        title = say("timeline_title", count=number(len(self.lots)))
        parts = [
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_WIDTH:g} {high:g}" width="{_WIDTH:g}" '
            f'height="{high:g}" role="img" aria-labelledby="t d" font-family="sans-serif" font-size="10" '
            f'fill="{_INK}">',
            f'<title id="t">{escape(title)}</title>',
            f'<desc id="d">{escape(say("timeline_says"))}</desc>',
            f'<rect width="{_WIDTH:g}" height="{high:g}" fill="#ffffff"/>',
            f'<text x="8" y="20" font-size="15" font-weight="bold">{escape(title)}</text>',
            *self._legend(),
            *self._months(bottom + 46 + _ROOM_HIGH),
            *(part for i, lot in enumerate(self.lots) for part in self._lot(lot, _TOP + _LINE * i)),
            *self._room(bottom + 46),
            "</svg>",
        ]
        return "\n".join(parts) + "\n"

    def _x(self, day: date) -> float:
        share = (day - self.first).days / max(1, (self.last - self.first).days)
        return round(_LEFT + share * (_WIDTH - _LEFT - _RIGHT), 1)

    def _legend(self) -> Iterable[str]:
        x = _LEFT
        for key, colour, high in (
            ("cold", _COLD, 9),
            ("warm", _WARM, 9),
            ("keep", _KEEP, 5),
            ("dry", _DRY, 2),
        ):
            yield f'<rect x="{x:g}" y="{20 - high / 2 - 3:g}" width="22" height="{high}" fill="{colour}"/>'
            text = self.timeline.texts.say(f"timeline_{key}")
            yield f'<text x="{x + 27:g}" y="20">{escape(text)}</text>'
            x += 45 + 5.4 * len(text)
        yield _sown(x + 4, 16.5)
        yield f'<text x="{x + 14:g}" y="20">{escape(self.timeline.texts.say("timeline_sow"))}</text>'

    def _months(self, bottom: float) -> Iterable[str]:
        """Months and years above and below; a thin line at each first day, and one for today."""
        marks = self._marks()
        places = [self._x(max(day, self.first)) for day in marks]
        for day, x, after in zip(marks, places, [*places[1:], self._x(self.last)], strict=True):
            yield f'<line x1="{x}" y1="{_TOP - 14:g}" x2="{x}" y2="{bottom:g}" stroke="{_GRID}"/>'
            text = MONTHS[day.month - 1][:3]
            if after - x > 6 * len(text):
                for y in (_TOP - 6, bottom + 14):
                    yield f'<text x="{x + 2:g}" y="{y:g}">{text}</text>'
        years = [(day.year, x) for day, x in zip(marks, places, strict=True) if day.month == 1]
        if not years or years[0][1] - places[0] > 30:
            years.insert(0, (marks[0].year, places[0]))
        for year, x in years:
            for y in (_TOP - 19, bottom + 27):
                yield f'<text x="{x + 2:g}" y="{y:g}" font-weight="bold">{year}</text>'
        x = self._x(self.timeline.today)
        if self.first <= self.timeline.today <= self.last:
            yield (
                f'<line x1="{x}" y1="{_TOP - 32:g}" x2="{x}" y2="{bottom:g}" stroke="{_INK}" '
                'stroke-dasharray="3 2"/>'
            )
            text = self.timeline.texts.say("timeline_today")
            yield f'<text x="{x + 2:g}" y="{_TOP - 34:g}">{escape(text)}</text>'

    def _marks(self) -> list[date]:
        """First days of the months that are named: all, or those of a quarter or a year."""
        months = (self.last.year - self.first.year) * 12 + self.last.month - self.first.month + 1
        every = 1 if months <= 18 else 3 if months <= 48 else 12
        day, found = self.first.replace(day=1), list[date]()
        while day <= self.last:
            if (day.month - 1) % every == 0 or not found:
                found.append(day)
            day = (day + timedelta(days=32)).replace(day=1)
        return found

    def _lot(self, lot: LotPlan, y: float) -> Iterable[str]:
        text = f"{lot.label}  {lot.name}, {number(lot.seeds)}"
        text = text if len(text) <= 44 else f"{text[:43]}…"
        yield f'<text x="8" y="{y + 10:g}">{escape(text)}</text>'
        yield _across(8, y + _LINE - 1, "#eeeeee")
        moist = False
        for event in lot.events:
            if event.end > event.day and event.kind != "look":
                yield self._bar(event, y, moist=moist)
            moist = moist or event.what in MOIST
        for event in lot.events:
            if event.kind == "sow":
                yield _sown(self._x(event.day), y + 6.5)

    def _bar(self, event: Event, y: float, *, moist: bool) -> str:
        """A spell: cold and warm thick, the wait in the cold thinner, the dry wait a line."""
        if event.what in COLD:
            colour, high = _COLD, 9.0
        elif event.what in MOIST:
            colour, high = _WARM, 9.0
        elif event.what == "hold" and moist:
            colour, high = _KEEP, 5.0
        else:
            colour, high = _DRY, 2.0
        x, width = self._x(event.day), max(1.0, self._x(event.end) - self._x(event.day))
        task = self.timeline.texts.say(f"task_{event.what}")
        told = f"{task}: {short_date(event.day)} – {short_date(event.end)}"
        return (
            f'<rect x="{x}" y="{y + 6.5 - high / 2:g}" width="{width:g}" height="{high:g}" fill="{colour}">'
            f"<title>{escape(told)}</title></rect>"
        )

    def _room(self, top: float) -> Iterable[str]:
        """Litres in the cold as steps from zero, with the capacity as a line."""
        room, capacity, say = ColdRoom(), self.timeline.capacity, self.timeline.texts.say
        for lot in self.lots:
            room.add(lot.cold, lot.wants.room_litres)
        peak, when = room.peak()
        if when is None:
            return
        most = max(peak, capacity or 0.0)
        bottom = top + _ROOM_HIGH

        def y(litres: float) -> float:
            return round(bottom - _ROOM_HIGH * litres / most, 1)

        text = say("timeline_room", peak=number(up(peak)), day=short_date(when))
        yield f'<text x="8" y="{top - 10:g}" font-weight="bold">{escape(text)}</text>'
        path = [f"M{self._x(self.first)} {bottom:g}"]
        for start, after, litres in room.spans():
            one, two = (self._x(date.fromordinal(day)) for day in (start, after))
            path.append(f"L{one} {y(litres)} L{two} {y(litres)}")
        path.append(f"L{self._x(date.fromordinal(room.spans()[-1][1]))} {bottom:g} Z")
        yield f'<path d="{" ".join(path)}" fill="{_KEEP}" stroke="{_COLD}"/>'
        yield _across(_LEFT, bottom, _INK)
        for litres in (0.0, most / 2, most):
            shown = number(up(litres) if litres == most else round(litres, 1))
            yield f'<text x="{_LEFT - 6:g}" y="{y(litres) + 3:g}" text-anchor="end">{shown}</text>'
        if capacity is not None:
            at = y(capacity)
            yield (
                f'<line x1="{_LEFT:g}" y1="{at}" x2="{_WIDTH - _RIGHT:g}" y2="{at}" stroke="#a01c1c" '
                'stroke-width="1.5" stroke-dasharray="6 3"/>'
            )
            text = say("timeline_capacity", litres=number(capacity))
            yield f'<text x="{_LEFT + 4:g}" y="{at - 4:g}" fill="#a01c1c">{escape(text)}</text>'


def _across(left: float, y: float, colour: str) -> str:
    return f'<line x1="{left:g}" y1="{y:g}" x2="{_WIDTH - _RIGHT:g}" y2="{y:g}" stroke="{colour}"/>'


def _sown(x: float, y: float) -> str:
    """A mark that points down: it goes into the ground."""
    return f'<path d="M{x - 5:g} {y - 5:g} h10 l-5 10 z" fill="{_INK}"/>'


def _order(lot: LotPlan) -> tuple[date, date, int]:
    """Lots by the day on which they begin, then by sowing."""
    start = lot.start or date.max
    return start, lot.sow or date.max, lot.number
