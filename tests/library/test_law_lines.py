"""Notes on the law: every one says what it is about, and a place never stands without it."""

from __future__ import annotations

import re
from datetime import date

import pytest

from coldspell.api import Library, shipped
from coldspell.errors import ColdspellError
from coldspell.views import message
from coldspell.views.law import law_lines
from coldspell.views.short import short_page
from coldspell.write.recipe import Recipe

RECORDS = shipped().records
NOTED = [name for name in RECORDS.names if RECORDS.get(name).law]
ABOUT = {
    "growing": "Sowing, growing or selling",
    "moving": "Moving seed, plants or wood of",
    "collecting": "Collecting seed of",
    "border": "need papers",
}


def recipe(name: str, **said: str) -> Recipe:
    """The answer about fresh seed, or a trial where the name is refused."""
    return shipped().recipe(name, today=date(2026, 10, 12), **said)  # type: ignore[arg-type]


def test_every_note_says_what_it_is_about() -> None:
    assert len(NOTED) > 50
    assert all(entry.about in ABOUT for name in NOTED for entry in RECORDS.get(name).law)


@pytest.mark.parametrize("name", NOTED)
def test_no_place_stands_alone(name: str) -> None:
    """A place is printed with its whole note, or in a clause that says what may be restricted there."""
    try:
        found = recipe(name)
    except ColdspellError:
        return
    printed = " ".join(text for text, _ in law_lines(found, shipped().texts))
    for note in found.law:
        part, _, country = note.place.split(" (")[0].rpartition(", ")
        about = ABOUT[note.about or "growing"]
        grouped = rf"{re.escape(country)} \([^)]*{re.escape(part)}" if part else re.escape(country)
        plain = re.escape(note.place.split(" (")[0])
        assert note.text in printed or re.search(rf"{about}[^.]*(?:{plain}|{grouped})", printed)


def test_the_own_place_has_the_whole_note() -> None:
    found = recipe("Juglans nigra", place="Michigan")
    lines = [text for text, _ in law_lines(found, shipped().texts)]
    assert any("canker quarantine" in line for line in lines)
    assert not any("Say your place" in line for line in lines)


def test_another_kind_is_named_where_the_note_is_not_of_this_one() -> None:
    lines = [text for text, _ in law_lines(recipe("Spiraea novum"), Library().texts)]
    assert any("some kinds of spirea" in line for line in lines)


@pytest.mark.parametrize("name", ["Fraxinus excelsior", "Fraxinus", "Juglans nigra"])
def test_where_a_place_is_said_the_law_is_early_and_the_message_keeps_it(name: str) -> None:
    """A caller asked whether ash seed may go to another country: that answer stood last, or not at all."""
    lib = shipped()
    found = recipe(name, place="Germany")
    first = law_lines(found, lib.texts)[0][0].split(".")[0]
    label = lib.texts.say("law_label")
    page = short_page(found, lib.texts)
    assert page.lines[0][0] == label
    assert first in message.render(found, lib.texts)
    without = short_page(recipe(name), lib.texts)
    assert [row[0] for row in without.lines if row[0] == label] in ([], [label])
    assert lib.texts.say("message_law", law="") not in message.render(recipe(name), lib.texts)
    assert len(message.render(found, lib.texts).split()) <= message.MOST_WORDS


def test_a_place_is_named_once_for_a_plant_and_its_relatives() -> None:
    """A place that is named for the plant itself is not named again for its genus (common practice)."""
    lines = [text for text, _ in law_lines(recipe("Castanea sativa"), shipped().texts)]
    moving = next(text for text in lines if text.startswith("Moving"))
    assert moving.split(". Seed")[0].count("Great Britain") == 1
    assert "Say your place" in moving
