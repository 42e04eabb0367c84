"""Days as pages name them: without the year while that is plain."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from itertools import pairwise

from coldspell.texts import Texts
from coldspell.write.recipe_work import Hold
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


def gaps(days: Sequence[str] | Sequence[int]) -> list[int]:
    """Days between each day and the next."""
    told = [day if isinstance(day, int) else date.fromisoformat(day).toordinal() for day in days]
    return [after - day for day, after in pairwise(told)]


def looks_told(names: Sequence[str], apart: Sequence[int], texts: Texts) -> str:
    """Days on which one looks, their rhythm where they are many, and when it changes.

    The last day is that of the sowing; how far it lies from the one before it is no rhythm.
    """
    if len(names) <= _FEW:
        return texts.say("look_few", dates=", ".join(names))
    turn = next((at for at, days in enumerate(apart[:-2]) if days <= _WEEK), None)
    if turn is not None and turn < _FEW - 1:
        return texts.say("look_weekly_on", dates=", ".join(names[: max(turn + 1, 2)]), last=names[-1])
    often = _often(apart[0], texts)
    words = {"dates": names[0], "often": often, "last": names[-1]}
    if turn is None:
        return texts.say("look_steady", **words)
    return texts.say("look_turns", turn=names[turn], **words)


_FEW = 5
"""So many days are named one by one."""
_WEEK = 7


def _often(days: int, texts: Texts) -> str:
    key = f"often_{days}"
    return texts.say(key) if key in texts.sentences else texts.say("often_days", days=days)


def may_wait(hold: Hold, until: str | None, texts: Texts) -> str:
    """How long treated seed may wait, with the last day where there is one."""
    low, _, high = hold.days or (0, 0, 0)
    span = f"{low:g}" if low == high else f"{low:g}–{high:g}"
    if hold.days and until:
        return texts.say("wait_up_to_day", days=span, says=hold.says, day=until)
    if hold.days:
        return texts.say("wait_up_to", days=span, says=hold.says)
    return texts.say("wait_until", says=hold.says, day=until) if until else hold.says


def how_often(days: int | None, texts: Texts) -> str:
    """Every so many days, or weeks, in words: how often a lot is looked at."""
    known = {7: "look_weekly", 14: "look_fortnightly"}.get(days or 14)
    return texts.say(known) if known else texts.say("look_every_days", days=days)
