"""Days as people say them. Seasons are those of meteorologists (three whole months from March, June, …)."""

from __future__ import annotations

from datetime import date

import pytest

from coldspell.api import shipped
from coldspell.errors import ColdspellError
from coldspell.lot.days import days_of, read_said

TODAY = date(2026, 11, 30)


@pytest.mark.parametrize(
    ("said", "means"),
    [
        ("2027-04-15", "2027-04-15"),
        ("20270415", "2027-04-15"),
        ("today", "2026-11-30"),
        ("tomorrow", "2026-12-01"),
        ("next week", "2026-12-07"),
        ("In three weeks", "2026-12-21"),
        ("in 3 weeks' time".replace("'", ""), "2026-12-21"),
        ("in a fortnight", "2026-12-14"),
        ("in three months", "2027-02-28"),
        ("next month", "2026-12-30"),
        ("end of March", "2027-03-31"),
        ("by the end of February", "2027-02-28"),
        ("early May", "2027-05-05"),
        ("in May", "2027-05-15"),
        ("in spring", "2027-04-15"),
        ("mid-April", "2027-04-15"),
        ("March", "2027-03-15"),
        ("November", "2026-11-30"),
        ("15 April", "2027-04-15"),
        ("April 15th", "2027-04-15"),
        ("the 3rd of May 2028", "2028-05-03"),
        ("by spring", "2027-04-15"),
        ("next spring", "2027-04-15"),
        ("end of winter", "2027-02-28"),
        ("spring 2028", "2028-04-15"),
    ],
)
def test_days_ahead(said: str, means: str) -> None:
    assert read_said("--sow", said, TODAY).isoformat() == means


@pytest.mark.parametrize(
    ("said", "means"),
    [
        ("yesterday", "2026-11-29"),
        ("three weeks ago", "2026-11-09"),
        ("last week", "2026-11-23"),
        ("October", "2026-10-15"),
        ("mid October", "2026-10-15"),
        ("last spring", "2026-04-15"),
        ("December", "2025-12-15"),
        ("autumn", "2026-11-30"),
    ],
)
def test_days_that_are_past(said: str, means: str) -> None:
    assert read_said("--collected", said, TODAY, past=True).isoformat() == means


def test_spring_comes_in_september_in_the_south() -> None:
    assert read_said("--sow", "spring", date(2027, 3, 20), southern=True) == date(2027, 10, 15)


@pytest.mark.parametrize(
    ("said", "mend"),
    [
        ("3/4/2027", "2027-04-03 or 2027-03-04"),
        ("03.04.2027", "2027-04-03 or 2027-03-04"),
        ("15/4/2027", "write 2027-04-15"),
        ("soon", "in three weeks"),
        ("when it is warm", "in three weeks"),
        ("in two or three weeks", "in three weeks"),
        ("31 April", "check day and month"),
        ("2027-02-30", "check month and day"),
        ("15 April 1066", "write a year"),
    ],
)
def test_what_may_be_two_days_or_none_is_refused(said: str, mend: str) -> None:
    with pytest.raises(ColdspellError) as caught:
        read_said("--sow", said, TODAY)
    assert mend in caught.value.mend


def test_a_recipe_says_what_it_took() -> None:
    lib = shipped()
    said = lib.recipe("northern red oak", today=TODAY, sow="end of April", collected="last week")
    plain = lib.recipe("northern red oak", today=TODAY, sow="2027-04-30", collected="2026-11-23")
    assert said.notes[:2] == (
        "“last week” is taken as 23 November 2026.",
        "“end of April” is taken as 30 April 2027.",
    )
    assert said.notes[2:] == plain.notes
    assert said.lot == plain.lot


def test_days_in_iso_are_left_as_they_are() -> None:
    facts = {"sow": "2027-04-15", "seeds": 10}
    assert days_of(facts, TODAY) == (facts, ())


def test_the_page_takes_words_too() -> None:
    pytest.importorskip("litestar")
    from coldspell.web.asked import asked

    found = asked([("name", "apple"), ("sow", "mid April")], TODAY)
    assert not found.wrong
    assert "may be two days" in asked([("name", "apple"), ("sow", "3/4/2027")], TODAY).wrong["sow"]
