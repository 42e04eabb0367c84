"""A genus whose question the month answers: held against the harvests of the species, month by month."""

from __future__ import annotations

from datetime import date

import pytest

from coldspell.api import shipped
from coldspell.arithmetic.seasons import months_between

RECORDS = shipped().records
ASKED = [
    name
    for name in RECORDS.names
    if (asks := RECORDS.get(name).asks) and any(answer.ripens for answer in asks.answers)
]
SHED = ["Ulmus", "Salix"]
"""Mixed genera of which kinds are shed in spring and sown at once (Bonner & Karrfalt 2008, pp 1004, 1146)."""


def test_the_genera_are_among_those_that_say_it() -> None:
    assert set(SHED) < set(ASKED)


@pytest.mark.parametrize("name", ASKED)
def test_the_months_of_an_answer_hold_the_harvests_of_its_species(name: str) -> None:
    asks = RECORDS.get(name).asks
    assert asks is not None
    assert all(answer.ripens for answer in asks.answers)
    for answer in asks.answers:
        assert answer.ripens is not None
        months = set(months_between(*answer.ripens))
        for species in answer.then:
            harvest = RECORDS.get(species).harvest
            if harvest is not None and harvest.months is not None:
                assert set(months_between(*harvest.months)) <= months, (species, harvest.months)


@pytest.mark.parametrize("month", range(1, 13))
@pytest.mark.parametrize("name", ASKED)
def test_only_kinds_that_ripen_then_and_want_nothing_are_sown_unasked(name: str, month: int) -> None:
    lib, day = shipped(), date(2027, month, 10)
    known = lib.plan(name, today=day, moisture="fresh").decisions.knowledge
    if known.season is None:
        assert known.mixed
        return
    for species in known.relatives:
        assert species.harvest is not None
        plan = lib.plan(species.name, today=day, collected=day)
        assert not {step.do for step in plan.steps} & {"cold_moist", "warm_moist"}


@pytest.mark.parametrize("name", SHED)
def test_what_is_dried_stored_or_of_another_season_is_asked_about(name: str) -> None:
    lib, june = shipped(), date(2027, 6, 2)
    assert lib.plan(name, today=june, moisture="fresh").decisions.knowledge.season
    assert lib.plan(name, today=date(2027, 7, 20), collected=june).decisions.knowledge.season
    for said in ({"moisture": "dried"}, {"stored_years": 1}, {"gathered": "bought"}, {"cold_days_done": 30}):
        assert lib.plan(name, today=june, **said).decisions.knowledge.mixed, said  # type: ignore[arg-type]
    assert lib.plan(name, today=date(2027, 1, 20), moisture="fresh").decisions.knowledge.mixed
    south = lib.plan(name, today=date(2027, 12, 2), moisture="fresh", southern="yes")
    assert south.decisions.knowledge.season
