"""Two seasons side by side: which lots change, and what they gain or lose."""

from __future__ import annotations

import textwrap
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from datetime import date

from msgspec import Struct

from coldspell.season.lot_plan import LotPlan
from coldspell.season.room import up
from coldspell.season.totals import Totals
from coldspell.tables.rows import Refused
from coldspell.texts import Texts
from coldspell.views.layout import in_ascii
from coldspell.write.units import number, short_date

Found = LotPlan | Refused
Key = tuple[str, int]
_SHOWN = 200


class Change(Struct, frozen=True):
    """One lot in both seasons, or in one of them."""

    label: str
    before: Found | None
    after: Found | None


class Side(Struct, frozen=True):
    """One season: its lots by label, and what they add up to."""

    lots: dict[Key, Found]
    totals: Totals

    @property
    def refused(self) -> int:
        """Rows without a plan."""
        return sum(isinstance(found, Refused) for found in self.lots.values())


def side(found: Iterable[Found], today: date) -> Side:
    """One season as it is read. Lots of one label are told apart by their order."""
    seen: Counter[str] = Counter()
    lots: dict[Key, Found] = {}
    totals = Totals(today)
    for one in found:
        label = one.label if isinstance(one, LotPlan) else one.lot or f"row {one.place.line}"
        seen[label] += 1
        lots[label, seen[label]] = one
        if isinstance(one, LotPlan):
            totals.add(one)
    return Side(lots, totals)


def changes(before: Side, after: Side) -> list[Change]:
    """Lots that are not the same, in the order of the first season; new ones last."""
    found = []
    for key in dict.fromkeys((*before.lots, *after.lots)):
        one, two = before.lots.get(key), after.lots.get(key)
        if _gist(one) != _gist(two):
            found.append(Change(key[0], one, two))
    return found


def _gist(found: Found | None) -> object:
    """What a change is measured by: all but where it stands and what is carried through."""
    if isinstance(found, LotPlan):
        wants = found.wants
        return (
            found.species, found.seeds, found.route, found.sow, found.short, found.late, found.events,
            found.cold, wants, found.plants, found.hazards,
        )  # fmt: skip
    return None if found is None else tuple(fault.what for fault in found.faults)


def render(before: Side, after: Side, texts: Texts, width: int = 80, *, ascii_only: bool = False) -> str:
    """The page: totals of both, then each lot that changes."""
    width = max(40, min(width, 120))
    lines = [*_totals(before, after, texts), ""]
    found = changes(before, after)
    lines.append(
        texts.say("compare_none") if not found else texts.say("compare_count", count=number(len(found)))
    )
    for change in found[:_SHOWN]:
        told = (
            f"{change.label}  {_named(change)}: {'; '.join(_differences(change, texts, after.totals.today))}"
        )
        lines += textwrap.wrap(
            told, width, initial_indent="  ", subsequent_indent="    ", break_on_hyphens=False
        )
    if len(found) > _SHOWN:
        lines.append("  " + texts.say("season_more", count=number(len(found) - _SHOWN)))
    text = "\n".join(lines) + "\n"
    return in_ascii(text) if ascii_only else text


def _totals(before: Side, after: Side, texts: Texts) -> Iterator[str]:
    yield " " * 26 + texts.say("compare_before").rjust(12) + texts.say("compare_after").rjust(12)
    rows: Sequence[tuple[str, float, float]] = (
        (texts.say("compare_planned"), before.totals.planned, after.totals.planned),
        (texts.say("compare_refused"), before.refused, after.refused),
        (texts.say("compare_short"), before.totals.short.count, after.totals.short.count),
        (texts.say("compare_late"), before.totals.late.count, after.totals.late.count),
        (texts.say("compare_peak"), round(before.totals.room.peak()[0]), round(after.totals.room.peak()[0])),
    )
    for name, one, two in rows:
        yield name.ljust(26) + number(one).rjust(12) + number(two).rjust(12)


def _named(change: Change) -> str:
    found = change.after or change.before
    assert found is not None
    return found.name


def _differences(change: Change, texts: Texts, today: date) -> Iterator[str]:
    one, two = change.before, change.after
    if one is None or two is None:
        yield texts.say("compare_new" if one is None else "compare_gone")
        return
    if isinstance(one, Refused) or isinstance(two, Refused):
        same = isinstance(one, Refused) and isinstance(two, Refused)
        key = (
            "compare_refused_too"
            if same
            else "compare_refused_now"
            if isinstance(two, Refused)
            else "compare_mended"
        )
        yield texts.say(key)
        return
    yield from list(_of_plans(one, two, texts, today)) or [texts.say("compare_else")]


def _of_plans(one: LotPlan, two: LotPlan, texts: Texts, today: date) -> Iterator[str]:
    if one.species != two.species:
        yield texts.say("compare_kind", before=one.species, after=two.species)
    if one.seeds != two.seeds:
        yield texts.say("compare_seeds", before=number(one.seeds), after=number(two.seeds))
    if one.route != two.route:
        yield two.says.rstrip(".")
    if one.start != two.start:
        yield texts.say("compare_start", before=_day(one.start, today), after=_day(two.start, today))
    if one.sow != two.sow:
        yield texts.say("compare_sow", before=_day(one.sow, today), after=_day(two.sow, today))
    if one.short and not two.short:
        yield texts.say("compare_makes_it")
    elif two.short and one.short != two.short:
        yield texts.say("compare_short_by", days=two.short)
    if one.plants != two.plants and one.plants and two.plants:
        yield texts.say("compare_plants", before=number(one.plants[1]), after=number(two.plants[1]))
    days = [sum((b - a).days for a, b in lot.cold) for lot in (one, two)]
    if days[0] != days[1]:
        yield texts.say("compare_cold", before=days[0], after=days[1])
    litres = [number(up(lot.wants.room_litres)) if lot.cold else "0" for lot in (one, two)]
    if litres[0] != litres[1]:
        yield texts.say("compare_litres", before=litres[0], after=litres[1])


def _day(day: date | None, today: date) -> str:
    if day is None:
        return "–"
    return short_date(day, day.year if -60 <= (day - today).days < 330 else None)
