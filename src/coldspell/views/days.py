"""Days as pages name them: without the year while that is plain."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from coldspell.texts import Texts
from coldspell.write.units import short_date


def day_of(text: str, asked_on: str) -> str:
    """A day without its year in the twelve months after asking."""
    day, asked = date.fromisoformat(text), date.fromisoformat(asked_on)
    return short_date(day, day.year if -60 <= (day - asked).days < 330 else None)


def days_of(dates: Sequence[str], asked_on: str) -> list[str]:
    """Days in a row; a year stands only behind the last of its days."""
    named = [day_of(day, asked_on) for day in dates]
    return [
        name.removesuffix(f" {day[:4]}") if day[:4] == after[:4] else name
        for name, day, after in zip(named, dates, [*dates[1:], ""], strict=True)
    ]


def how_often(days: int | None, texts: Texts) -> str:
    """Every so many days, or weeks, in words: how often a lot is looked at."""
    known = {7: "look_weekly", 14: "look_fortnightly"}.get(days or 14)
    return texts.say(known) if known else texts.say("look_every_days", days=days)
