"""Messages and questions to a caller, over records of every kind. Lengths are an adviser's wish."""

from __future__ import annotations

import random
import re
from datetime import date
from typing import Any

import pytest

from coldspell.api import shipped
from coldspell.cli.main import main
from coldspell.decide.names.asks import Ask
from coldspell.lot.table import FACTS
from coldspell.views import message
from coldspell.write.units import spelled_date

TODAY = date(2026, 11, 30)
NAMES = random.Random(15).sample(sorted(shipped().records.names), 60)


@pytest.mark.parametrize("name", NAMES)
def test_message_fits_and_keeps_what_counts(name: str) -> None:
    lib = shipped()
    recipe = lib.recipe(name, today=TODAY)
    text = message.render(recipe, lib.texts, "Is it dry?")
    assert len(text.split()) <= 215  # a long first caution is told whole
    assert recipe.verdict.sentence in text
    assert "One question back: Is it dry?" in text
    assert "  " not in text
    assert "[" not in text
    assert bool(recipe.cautions) == ("Take care:" in text)
    sown = next((step.start for step in recipe.steps if step.do == "sow" and step.start), None)
    assert sown is None or spelled_date(date.fromisoformat(sown)) in text


@pytest.mark.parametrize("name", [*NAMES, "yew", "peach", "Fagus grandifolia", "jimsonweed"])
@pytest.mark.parametrize("said", [{}, {"moisture": "dried", "place": "Bavaria"}, {"stored_years": 1}])
def test_no_step_and_no_hazard_is_left_out_and_no_option_named(name: str, said: dict[str, Any]) -> None:
    """A mail to the public: all that is done, with its day; all that is dangerous, to whom."""
    lib = shipped()
    recipe = lib.recipe(name, today=TODAY, **said)
    text = message.render(recipe, lib.texts, "Is it dry?")
    assert "--" not in text
    for step in recipe.steps:
        if step.start:
            day, task = spelled_date(date.fromisoformat(step.start)), lib.texts.say(f"task_{step.do}")
            assert f"{day}, {task}" in text
        else:
            assert step.text.split(". ")[0].split(" (")[0].rstrip(".")[:30] in text
    for note in recipe.cautions:
        assert " ".join(note.text.split())[:25].split(":")[0] in text
    if recipe.notes:
        assert recipe.notes[0].split(" (")[0].split(". ")[0].split(" --")[0][:40] in text


@pytest.mark.parametrize("name", ["red oak", "Nothofagus alpina", "unknown", "apple"])
def test_the_message_of_a_trial_holds_its_parts_and_their_days(name: str) -> None:
    lib = shipped()
    recipe = lib.trial(name, today=TODAY, seeds=100)
    text = message.render(recipe, lib.texts)
    assert recipe.trial is not None
    for arm in recipe.trial.arms:
        assert f"{arm.letter}, {arm.seeds} seeds: {arm.says}." in text
        for step in arm.steps:
            assert f"{arm.letter}, {spelled_date(date.fromisoformat(step.start))}" in text


def test_a_message_says_that_it_is_short_and_not_where_all_is_told() -> None:
    lib = shipped()
    more = lib.texts.say("message_more")
    assert more in message.render(lib.recipe("yew", today=TODAY), lib.texts)
    whole = message.render(lib.trial("red oak", today=TODAY, seeds=100), lib.texts)
    assert more not in whole


def test_most_messages_say_enough() -> None:
    lib = shipped()
    lengths = sorted(
        len(message.render(lib.recipe(name, today=TODAY), lib.texts, "Is it dry?").split()) for name in NAMES
    )
    assert lengths[len(lengths) // 4] >= 100
    assert lengths[-1] <= 215


@pytest.mark.parametrize("name", NAMES[:12])
def test_questions_change_the_answer(name: str) -> None:
    """What is asked for is not yet said, and at least one word of it gives another page."""
    lib = shipped()
    before = lib.recipe(name, today=TODAY)
    for asked in lib.questions(name, today=TODAY):
        fact = FACTS[asked.tells]
        words = [word for word in fact.words if word != "unknown"] or [2, 40, 60, 12]
        pages = {lib.page(lib.recipe(name, today=TODAY, **{asked.tells: word})) for word in words}
        assert pages - {lib.page(before)}
        assert 1 <= asked.changes <= asked.tried


def test_what_is_said_is_not_asked() -> None:
    lib = shipped()
    first = lib.questions("northern red oak", today=TODAY)
    assert len(first) == 3
    said = {"gathered": "ground_autumn", "moisture": "fresh"}
    assert not {q.tells for q in lib.questions("northern red oak", today=TODAY, **said)} & said.keys()


def test_a_genus_that_asks_which_species_is_asked_that_first() -> None:
    """Every genus whose page is a question: that question, with the answers of its page and their names."""
    lib, met = shipped(), 0
    for name in lib.records.names:
        if lib.record(name).rank != "genus" or lib.record(name).asks is None:
            continue
        page, found = lib.recipe(name, today=TODAY), lib.questions(name, today=TODAY)
        if page.does.page != "question":
            assert all(one.tells in FACTS for one in found), name
            continue
        assert page.asks is not None
        met += 1
        assert (found[0].tells, found[0].text) == ("name", page.asks.question), name
        assert [(one.answer, one.names) for one in found[0].answers] == [
            (choice.answer, choice.leads_to) for choice in page.asks.choices
        ], name
        assert len(found) <= 3, name
        assert all(one.tells in FACTS for one in found[1:]), name
    assert met > 20


def test_the_answers_to_which_species_stand_below_the_question(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["recipe", "walnut", "--ask", "--no-settings", "--today", "2026-11-30"]) == 0
    shown = " ".join(capsys.readouterr().out.split())
    assert shown.index("1 Which walnut is it") < shown.index("then: Juglans regia") < shown.index("Say --")


def test_hard_coats_are_asked_whether_they_swelled() -> None:
    """Behind a closed coat no day counts (Baskin and Baskin 2014, physical dormancy)."""
    asked = shipped().questions("Kentucky coffeetree", today=TODAY)
    assert asked[0].tells == "swollen"


def test_only_what_was_bought_may_have_been_roasted() -> None:
    lib = shipped()
    assert "heated" not in {q.tells for q in lib.questions("pecan", today=TODAY)}
    assert "heated" in {q.tells for q in lib.questions("pecan", today=TODAY, gathered="bought")}


def test_every_question_can_be_asked() -> None:
    """Each rule holds for some record; each question ends with a mark."""
    lib = shipped()
    book = lib.tables.book
    met = set()
    for name in (*NAMES, "Helianthus annuus"):  # its achenes are sold as food
        for gathered in ("unknown", "bought"):
            facts = lib.plan(name, today=TODAY, gathered=gathered).decisions.all_facts(lib.tables)
            met |= {firing.rule for firing in lib.tables.session.decide(Ask.CALLER, facts).firings}
    assert {rule.name for rule in book.decisions[Ask.CALLER].rules} == met
    assert all(re.search(r"\?$", answer.says) for answer in book.decisions[Ask.CALLER].answers.values())
