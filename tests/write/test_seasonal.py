"""Notes of records lose the times of year that are not those of their step, and stay sentences."""

from __future__ import annotations

import re
from datetime import date

import pytest

from coldspell.api import shipped
from coldspell.write.seasonal import of_its_time

DAYS = [date(2027, month, 15) for month in range(1, 13)]
BROKEN = re.compile(
    r"^(?:or|and|else|if|of|but)\b|\b(?:or|and|of|the|(?<!pressed )in|else|if|by|a)(?=[,;:]|$)|^sorts|, *[,;]"
    r"|(?:^|[,;:] )(?:to|until|weather|costs)\b|(?<!and )\b(?:all|mid-?)(?=[,;:]|$)"
)
OF_A_PLACE = re.compile(r"\b(?:where (?:the )?winters are|in the south|elsewhere|sorts)\b", re.IGNORECASE)
A_TIME = re.compile(r"\b(?:spring|summer|autumn|winter(?!s)|midsummer|January|March|May|August|October)\b")


def cut_notes() -> list[tuple[str, str]]:
    """Each note of a step of the library with what is left of it in some month."""
    records = shipped().records
    treatments = [t for name in records.names for t in records.get(name).treatments]
    notes = {step.note for t in treatments for step in t.steps if step.note}
    ways = [(day, waits) for day in DAYS for waits in (False, True)]
    found = {
        (note, of_its_time(note.rstrip("."), day, southern=False, waits=waits))
        for note in notes
        for day, waits in ways
    }
    return sorted((note, left) for note, left in found if left != note.rstrip("."))


def test_what_is_left_of_a_note_is_no_torn_sentence() -> None:
    found = cut_notes()
    assert len(found) > 100
    assert [one for one in found if BROKEN.search(one[1])] == []


def torn_from_its_time(left: str) -> bool:
    """Whether a place is left in a clause whose time of year is not."""
    return any(OF_A_PLACE.search(one) and not A_TIME.search(one) for one in re.split("[,;:]", left))


def test_the_time_for_one_place_is_told_with_that_place() -> None:
    assert [one for one in cut_notes() if torn_from_its_time(one[1])] == []


@pytest.mark.parametrize(
    ("note", "day", "left"),
    [
        ("in autumn; five months of winter", date(2027, 4, 15), "five months of winter"),
        ("in autumn, or in spring", date(2027, 4, 15), "in spring"),
        ("it self-sows under every bush after the winter", date(2026, 10, 15), None),
        ("autumn where winters are mild, else spring", date(2027, 4, 15), None),
        ("the day the fruit is opened, if it can be; warm and moist", date(2027, 4, 15), "warm and moist"),
        ("as gathered or in autumn, in a pot in a cold frame", date(2027, 4, 15), "in a pot in a cold frame"),
    ],
)
def test_half_of_what_hangs_together_is_not_told(note: str, day: date, left: str | None) -> None:
    assert of_its_time(note, day, southern=False, waits=True) == (note if left is None else left)


def test_a_torn_sentence_is_found() -> None:
    torn = ("five months of", "or in autumn outdoors", "as gathered or, in a pot", "every bush after the")
    torn += ("by mid, in a pot", "kept hot and dry all, then watered", "unchilled, to midwinter")
    assert all(BROKEN.search(one) for one in torn)
    assert torn_from_its_time("in the south, elsewhere")
    assert not torn_from_its_time("in autumn in the south")
