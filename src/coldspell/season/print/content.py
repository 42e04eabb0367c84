"""What stands on the printed sheet of a season: plain values, from which PDF and HTML are laid out."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from datetime import date, timedelta
from itertools import groupby

from msgspec import Struct

from coldspell import __version__
from coldspell.season.lot_plan import Kind, LotPlan
from coldspell.season.phrases import TABLE_KINDS, Phrases, Season
from coldspell.season.print.ticks import Ticks, tick_sheets
from coldspell.season.room import up
from coldspell.season.totals import Listed, Week, monday
from coldspell.texts import Texts
from coldspell.write.units import number

MOST_PRINTED = 2_000
"""Lots of one sheet."""
_KINDS: tuple[Kind, ...] = ("start", "move", "do", "sow")


class Told(Struct, frozen=True):
    """One lot and what is said of it; ``task`` is the word before it, where that changes."""

    lot: str
    kind: str
    told: str
    task: str = ""


class Part(Struct, frozen=True):
    """A heading with what stands under it: sentences, then lots."""

    title: str
    said: tuple[str, ...] = ()
    rows: tuple[Told, ...] = ()


class CalendarRow(Struct, frozen=True):
    """One week: counts of tasks, litres in the cold and their share of the most; or weeks without any."""

    week: str
    counts: tuple[str, ...] = ()
    litres: str = ""
    share: float = 0.0
    over: str = ""


class LotRow(Struct, frozen=True):
    """One lot of the season from end to end."""

    lot: str
    name: str
    seeds: str
    lies: str
    start: str
    cold: tuple[str, ...]
    sow: str
    litres: str
    plants: str


class SeasonSheet(Struct, frozen=True):
    """All that is printed of a season."""

    title: str
    printed: str
    said: tuple[str, ...]
    words: dict[str, str]
    heads: tuple[str, ...]
    due: tuple[Part, ...]
    parts: tuple[Part, ...]
    needs: tuple[str, ...]
    calendar: tuple[CalendarRow, ...]
    room: tuple[Part, ...]
    capacity_share: float
    """Where the capacity lies on the bar of litres; none where it is not known."""
    lots: tuple[LotRow, ...]
    ticks: tuple[Ticks, ...]
    made: str


WORDS = (
    *("needs", "calendar", "week_of", "litres", "room", "lots", "lot", "kind", "seeds", "lies"),
    *("start", "cold", "sow", "plants", "ticks", "ticks_says"),
)
"""Headings of the parts, as `season_sheet_...` among the sentences."""


def season_sheet(season: Season, lots: Sequence[LotPlan], texts: Texts, *, ticks: bool) -> SeasonSheet:
    """The sheet of a season; with ``ticks`` its tick sheets alone."""
    phrases = Phrases(season, texts)
    title, printed, said = phrases.head()
    words = {word: texts.say(f"season_sheet_{word}") for word in WORDS}
    heads = tuple(texts.say(f"season_kind_{kind}") for kind in TABLE_KINDS)
    made = texts.say("sheet_made", tool=f"coldspell {__version__}", library=season.library[:8])
    if ticks:
        sheets = tick_sheets(lots, phrases)
        return SeasonSheet(
            words["ticks"], printed, (), words, heads, (), (), (), (), (), 0.0, (), sheets, made
        )
    peak = season.totals.room.peak()[0]
    return SeasonSheet(
        title=title,
        printed=printed,
        said=tuple(said),
        words=words,
        heads=heads,
        due=tuple(_due(season, phrases)),
        parts=tuple(_parts(season, phrases)),
        needs=tuple(phrases.needs()),
        calendar=tuple(_calendar(phrases, max(peak, season.capacity or 0.0))),
        room=tuple(_room(season, phrases)),
        capacity_share=0.0 if not season.capacity else season.capacity / max(peak, season.capacity),
        lots=tuple(_lot(lot, phrases) for lot in sorted(lots, key=_order)),
        ticks=(),
        made=made,
    )


def _due(season: Season, phrases: Phrases) -> Iterable[Part]:
    """This week and the next."""
    totals, first = season.totals, monday(season.totals.today)
    for key, week, days in (
        ("season_this_week", totals.this_week, 0),
        ("season_next_week", totals.next_week, 7),
    ):
        start = first + timedelta(days=days)
        title = phrases.say(key, days=phrases.span((start, start + timedelta(days=7))))
        rows = tuple(row for kind in _KINDS for row in _tasks(kind, week, phrases))
        looks = tuple(_looks(week, phrases))
        nothing = () if rows or looks else (phrases.say("season_nothing"),)
        yield Part(title, nothing, (*rows, *looks))


def _tasks(kind: Kind, week: Week, phrases: Phrases) -> Iterable[Told]:
    word = phrases.say(f"season_kind_{kind}")
    for group in phrases.due(kind, week):
        lot = group[0].lot
        yield Told(lot.label, _kind(lot), phrases.tasks(group, week), word)
        word = ""


def _looks(week: Week, phrases: Phrases) -> Iterable[Told]:
    """Looks by day: the day, and the lots."""
    word = phrases.say("season_kind_look")
    looks = sorted(week.due.get("look", []), key=lambda d: d.event.day)
    for day, group in groupby(looks, key=lambda d: d.event.day):
        yield Told("", phrases.look_on(day), ", ".join(d.lot.label for d in group), word)
        word = ""


def _parts(season: Season, phrases: Phrases) -> Iterable[Part]:
    """What needs a decision."""
    totals, say = season.totals, phrases.say
    late = totals.late.count + totals.past.count
    if late:
        yield Part(say("season_late"), (), _rows(phrases.late(late)))
    lists: tuple[tuple[str, Listed, Callable[[LotPlan], str]], ...] = (
        ("season_short", totals.short, phrases.short_line),
        ("season_elsewhere", totals.elsewhere, phrases.elsewhere_line),
        ("season_closed", totals.closed, phrases.closed_line),
        ("season_unplanned", totals.unplanned, lambda lot: lot.says),
    )
    for key, listed, line in lists:
        if listed.count:
            yield Part(say(key), (), _rows([(lot, line(lot)) for lot in listed.lots]))
    if totals.unseen.count:
        told = tuple(f"{text} {', '.join(labels)}" for text, labels in phrases.unseen())
        yield Part(say("season_unseen"), told)
    if season.refused_count:
        yield Part(say("season_refused"), tuple(phrases.faults(season.refused_count)))


def _calendar(phrases: Phrases, most: float) -> Iterable[CalendarRow]:
    if not phrases.season.totals.weeks:
        return
    for row in phrases.weeks():
        if isinstance(row, int):
            yield CalendarRow(phrases.quiet(row))
            continue
        counts = tuple(number(row.counts[kind]) if row.counts[kind] else "" for kind in TABLE_KINDS)
        over = phrases.say("season_over", litres=number(up(row.over))) if row.over else ""
        litres = number(up(row.litres)) if row.litres else ""
        share = round(row.litres / most, 4) if most else 0.0
        yield CalendarRow(phrases.day(row.week), counts, litres, share, over)


def _room(season: Season, phrases: Phrases) -> Iterable[Part]:
    peak, when = season.totals.room.peak()
    if when is None:
        return
    over = phrases.overflows()
    if not over:
        yield Part("", (phrases.room(peak, season.capacity),))
        return
    yield Part("", tuple(over))
    for text, rows in phrases.moves():
        yield Part("", (text,) if text else (), _rows(rows))


def _rows(rows: Sequence[tuple[LotPlan, str]]) -> tuple[Told, ...]:
    return tuple(Told(lot.label, _kind(lot), text) for lot, text in rows)


def _kind(lot: LotPlan) -> str:
    return f"{lot.name}, {number(lot.seeds)}"


def _lot(lot: LotPlan, phrases: Phrases) -> LotRow:
    start, litres = lot.start, lot.wants.room_litres
    return LotRow(
        lot=lot.label,
        name=lot.name,
        seeds=number(lot.seeds),
        lies=phrases.lies(lot),
        start=phrases.day(start) if start is not None else "",
        cold=tuple(phrases.span(spell) for spell in lot.cold),
        sow=phrases.day(lot.sow) if lot.sow is not None else "",
        litres=number(up(litres)) if lot.cold else "",
        plants="" if lot.plants is None else f"{number(lot.plants[0])}–{number(lot.plants[2])}",
    )


def _order(lot: LotPlan) -> tuple[date, date, int]:
    return lot.start or date.max, lot.sow or date.max, lot.number
