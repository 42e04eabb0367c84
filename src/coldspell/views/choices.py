"""Kinds to choose from with the reason for each place: as a table, as cells for a page, as CSV."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from datetime import date

import msgspec
from msgspec import Struct

from coldspell.counter.choose import Choice
from coldspell.texts import Texts
from coldspell.views.layout import paragraph
from coldspell.write.units import MONTHS, spelled_date


class Line(Struct, frozen=True):
    """One kind as it is shown; a day that there is not is a dash."""

    name: str
    common: str
    start: str
    sow: str
    up: str
    why: str
    law: tuple[str, ...]


def lines(found: Sequence[Choice], texts: Texts) -> list[Line]:
    """Each kind as it is shown."""
    return [
        Line(
            one.name,
            one.common_name,
            _day(one.start),
            _day(one.sow),
            _month(one.up),
            _why(one, texts),
            one.law,
        )
        for one in found
    ]


def render(
    found: Sequence[Choice],
    of: int,
    texts: Texts,
    width: int = 80,
    *,
    by: date | None = None,
    place: str = "",
) -> str:
    """The table, beginning with the day ``by`` which plants are up, ending with how many more there are.

    What the law of the ``place`` says of a kind stands below it; without a place nothing is said of it.
    """
    say = texts.say
    head = [say("choose_by", day=spelled_date(by)), ""] if by else []
    if not found:
        return "\n".join([*head, say("choose_none")]) + "\n"
    shown = lines(found, texts)
    names = [one.common or one.name for one in shown]
    room = min(max(map(len, names)), max(16, width - 50))
    when = f"{say('choose_start'):<7} {say('choose_sow'):<7} {say('choose_up'):<9}"
    table = [*head, f"{say('choose_kind'):<{room}}  {when} {say('choose_why')}"]
    for name, one in zip(names, shown, strict=True):
        cut = name if len(name) <= room else name[: room - 1] + "…"
        table.append(f"{cut:<{room}}  {one.start:<7} {one.sow:<7} {one.up:<9} {one.why}")
        for note in one.law:
            table += paragraph(f"{say('law_label')}: {note}", width, 4, "  •")
    if of > len(found):
        table += ["", say("choose_more", more=of - len(found))]
    if place:
        table += ["", *paragraph(say("choose_law", place=place), width)]
    return "\n".join(table) + "\n"


def as_csv(found: Sequence[Choice]) -> str:
    """A line for each kind, with every value of it."""
    out = io.StringIO()
    writer = csv.DictWriter(out, Choice.__struct_fields__, lineterminator="\n")
    writer.writeheader()
    for one in found:
        ripe, law = "-".join(map(str, one.ripe or ())), " ".join(one.law)
        writer.writerow({**msgspec.to_builtins(one), "ripe": ripe, "law": law})
    return out.getvalue()


def _why(one: Choice, texts: Texts) -> str:
    way = texts.say(f"choose_{one.way}", days=one.moist_days)
    way = texts.say("choose_warm_country", way=way) if one.warm else way
    if one.plants is None:
        return texts.say("choose_untold", way=way)
    return texts.say("choose_plants", plants=round(one.plants), way=way)


def _day(day: date | None) -> str:
    return f"{day.day} {MONTHS[day.month - 1][:3]}" if day else "-"


def _month(day: date | None) -> str:
    return f"{MONTHS[day.month - 1][:3]} {day.year}" if day else "-"
