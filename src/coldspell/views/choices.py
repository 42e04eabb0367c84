"""Kinds to choose from, as a table with the reason for each place."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from coldspell.counter.choose import Choice
from coldspell.texts import Texts
from coldspell.write.units import MONTHS


def render(found: Sequence[Choice], of: int, texts: Texts, width: int = 80) -> str:
    """The table, ending with how many more there are."""
    say = texts.say
    if not found:
        return say("choose_none") + "\n"
    names = [one.common_name or one.name for one in found]
    room = min(max(map(len, names)), max(16, width - 50))
    when = f"{say('choose_start'):<7} {say('choose_sow'):<7} {say('choose_up'):<9}"
    lines = [f"{say('choose_kind'):<{room}}  {when} {say('choose_why')}"]
    for name, one in zip(names, found, strict=True):
        cut = name if len(name) <= room else name[: room - 1] + "…"
        days = f"{_day(one.start):<7} {_day(one.sow):<7} {_month(one.up):<9}"
        lines.append(f"{cut:<{room}}  {days} {_why(one, texts)}")
    if of > len(found):
        lines += ["", say("choose_more", more=of - len(found))]
    return "\n".join(lines) + "\n"


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
