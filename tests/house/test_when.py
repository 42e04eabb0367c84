"""What a treatment may ask of a lot, a lot can say: the words of both tables are equal."""

from __future__ import annotations

from coldspell.lot.table import FACTS
from coldspell.records.when import WHEN


def test_every_fact_that_a_treatment_asks_for_is_a_fact_of_a_lot() -> None:
    assert set(WHEN) <= set(FACTS)


def test_the_words_are_those_of_the_lot() -> None:
    """``rooted`` is a number of seeds in a lot, and asked for as yes or no: whether most of it is."""
    for name, asked in WHEN.items():
        if name != "rooted":
            assert tuple(asked.words) == FACTS[name].words
