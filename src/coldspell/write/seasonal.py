"""Seasons and months: in the note of a step, held against the day of that step, and seen from today.

Notes of records are English and name northern months. A lot that is not known to stand drying is sown today,
whatever the season, and a page may be asked for in the south: then "in autumn" beside 18 July would be two
answers in one step.
"""

from __future__ import annotations

import re
from datetime import date

from coldspell.arithmetic.seasons import months_between, season_month
from coldspell.decide.practice import Practice
from coldspell.decide.state import autumn_of
from coldspell.write.units import MONTHS

_SEASONS = {"spring": (3, 5), "summer": (6, 8), "autumn": (9, 11), "winter": (12, 2)}
_MONTH = "|".join(MONTHS)
# as text: compiled where a note is read, not at every start
_NAMES = rf"\b(?:(early|late)(?:st)? )?({'|'.join(_SEASONS)}|{_MONTH})\b"
_RANGE = rf"\b({_MONTH}) (?:to|and|through) ({_MONTH})\b"
_ONWARDS = rf"\bfrom ({_MONTH}) on\b"
_MONTHS_ONWARDS = 4
_NOT_COUNTED = "(?<!first )(?<!second )(?<!third )(?<!next )(?<!another )"
_ONE_TIME = (
    r"(?<!until )(?<!over )(?<!through )(?<!by )(?<!before )(?<!after )(?<!early )(?<!late )(?<!of )(?<!the )"
    r"\b(?:(?:outdoors|usually|best|fresh|again) )*(?:(?:in|from) )?(?:the )?"
    rf"(?:(?:early|late|mid)(?:st)?[ -])?{_NOT_COUNTED}(?:{'|'.join(_SEASONS)}|midsummer|{_MONTH})\b"
    r"(?! (?:sorts|warmth|rains)\b)"
)
_TIME = rf"{_ONE_TIME}(?:,? (?:or|to|and|else|until) {_ONE_TIME})*(?:(?<=[a-z]) on(?=[,;]|$))?"
_ALL_THROUGH = r"\b(?:through (?:the )?|all )summer\b"
_NOTHING_LEFT = r"(?:(?:or|and|else)\b.*|(?:on|outdoors|best|is best|fresh)?[,;:]?)$"
_AS_IT_RIPENS = (
    r"^(?:as soon as|as gathered\b|as (?:it|the) |before the ground |at once\b|the day |fresh(?:ly)?\b"
    r"|undried\b|straight from|from the (?:berr|pod|cone)|seed of this year|within (?:a|some) (?:day|week))"
)
# a later clause is a time of its own only where it begins with one: "keep it two springs" is none
_OF_ITS_OWN = rf"^\s*(?:(?:or|outdoors|fresh|best) )*(?:in |from )?{_NAMES[2:]}"
_AFTER_FROST = r",? ?\b(?:once frosts? (?:is|are) over|after (?:the )?(?:last )?frosts?)\b"
_EITHER_WAY = r"\belse\b"
"""What hangs on the place is told whole: half of it would be the wrong half."""
_JOINS = r"^(?:or|and)\s+"


def months_of_place(note: str, *, southern: bool) -> str:
    """The note with the months of the hemisphere in which it is read.

    >>> months_of_place("in November, burs pressed 10 mm deep", southern=True)
    'in May, burs pressed 10 mm deep'
    """
    if not southern:
        return note
    return re.sub(rf"\b({_MONTH})\b", lambda m: MONTHS[season_month(_number(m[1]), southern) - 1], note)


def of_its_time(note: str, day: date, *, southern: bool, waits: bool) -> str:
    """The note without the times of year that are not those of its step; empty where it says nothing else.

    ``waits``: the seed is not fresh from the plant on that day, so what is done as it ripens is left out.

    >>> autumn = "in autumn, on the surface; keep it two springs"
    >>> of_its_time(autumn, date(2027, 4, 15), southern=False, waits=False)
    'on the surface; keep it two springs'
    >>> of_its_time(autumn, date(2027, 4, 15), southern=True, waits=False)
    'in autumn, on the surface; keep it two springs'
    >>> of_its_time("as soon as it falls, barely covered", date(2026, 10, 15), southern=True, waits=True)
    'barely covered'
    >>> of_its_time("fresh in autumn, or in spring", date(2026, 9, 1), southern=False, waits=True)
    ''
    """
    if re.search(_EITHER_WAY, note):
        return note
    if not 2 <= season_month(day.month, southern) <= 7:
        note = re.sub(_AFTER_FROST, "", note).strip(" ,;")
    clauses, kept = re.split(r"(?<=[,;:])\s+", note), list[str]()
    to_say = [each for each in clauses if not (waits and re.match(_AS_IT_RIPENS, each))]
    own_time = bool(to_say) and re.match(_OF_ITS_OWN, to_say[0]) is not None
    off = out_of_season(" ".join(to_say) if own_time else note, day, southern=southern)
    for clause in clauses:
        if (waits or off) and (re.match(_AS_IT_RIPENS, clause) or (not kept and clause.startswith("if "))):
            continue
        left, own = clause, re.match(_OF_ITS_OWN, clause) is not None
        if off and (own or not kept) and not (own and _within(_months_of(clause), day, southern=southern)):
            left = re.sub(_TIME, "", clause)
        elif season_month(day.month, southern) not in _months_of(clause):
            left = re.sub(_ALL_THROUGH, "", clause)
        left = re.sub(r"\s+(?=[,;:]|$)|\s(?=\s)", "", left).strip()
        if left == clause or not re.match(_NOTHING_LEFT, left):
            kept.append(left)
    return re.sub(_JOINS, "", " ".join(kept).strip(" ,;:"))


def out_of_season(note: str, day: date, *, southern: bool) -> bool:
    """Whether the time that a note names (northern months) lies a month or more from a day.

    It stands in the first clause, or else in those that begin with it.

    >>> out_of_season("in autumn, on the surface", date(2026, 7, 18), southern=False)
    True
    >>> out_of_season("May to July for flowers the next year", date(2026, 12, 20), southern=True)
    False
    >>> out_of_season("on bare soil, barely covered, in autumn or winter", date(2027, 4, 15), southern=False)
    True
    >>> out_of_season("on the surface; leave it a second winter", date(2027, 4, 15), southern=False)
    False
    """
    return not _within(_months_named(note), day, southern=southern)


def _within(months: set[int], day: date, *, southern: bool) -> bool:
    """Whether a day lies in some northern months or beside them; no months are any time."""
    here = season_month(day.month, southern)
    return not months or any((here - month + 1) % 12 <= 2 for month in months)


def _months_named(note: str) -> set[int]:
    """The northern months in which a note wants its step done."""
    first, *later = re.split(r"[,;:]", note)
    named = _months_of(first)
    return named or set().union(*(_months_of(clause) for clause in later if re.match(_OF_ITS_OWN, clause)))


def _months_of(clause: str) -> set[int]:
    months: set[int] = set()
    for first, last in re.findall(_RANGE, clause):
        months |= set(months_between(_number(first), _number(last)))
    for first in re.findall(_ONWARDS, clause):
        months |= set(months_between(_number(first), (_number(first) - 1 + _MONTHS_ONWARDS) % 12 + 1))
    for part, name in re.findall(_NAMES, clause):
        first, last = _SEASONS.get(name) or (_number(name), _number(name))
        months |= set(months_between(last if part == "late" else first, first if part == "early" else last))
    return months


def _number(month: str) -> int:
    return MONTHS.index(month) + 1


def autumn_word(today: date, practice: Practice, *, southern: bool) -> str:
    """The key of the text for the coming autumn."""
    keys = {"now": "autumn_now", "ahead": "autumn_ahead", "next": "autumn_next"}
    return keys[autumn_of(today, practice, southern=southern)]
