"""Words that fill the braces of rule texts, and the punctuation around an empty one."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path
from typing import Any

import imports
import pytest

import coldspell
from coldspell.ask import Question, plan
from coldspell.decide.contract import contract
from coldspell.decide.names.words import StepWords
from coldspell.decide.tables import Tables
from coldspell.library.load import Library, load_library, shipped_dirs
from coldspell.lot.read import make_lot
from coldspell.records.model import Quantity, Step
from coldspell.rulebook import load_tables
from coldspell.rules.plain import PlainEngine
from coldspell.texts import Texts
from coldspell.write.placeholders import Wording, Words, cut_count, fill_in
from coldspell.write.step_words import step_words
from coldspell.write.units import Units

TODAY = date(2026, 11, 25)


@pytest.fixture(scope="module")
def library() -> Library:
    return load_library(shipped_dirs())


@pytest.fixture(scope="module")
def tables() -> Tables:
    return load_tables(PlainEngine())


@pytest.fixture
def wording(library: Library, tables: Tables):  # type: ignore[no-untyped-def]
    def of(name: str, **said: Any) -> Wording:
        found = plan(Question(name, make_lot(said), TODAY), library, tables)
        return Wording(found, tables.practice, Texts(tables.texts), Units(found.lot.units))

    return of


@pytest.mark.parametrize(
    ("text", "words", "filled"),
    [
        ("Sow {when}.", {"when": "now"}, "Sow now."),
        ("Sow {when}.", {"when": ""}, "Sow."),
        ("Chill {start} for {days}; sow.", {"start": "", "days": "9 days"}, "Chill for 9 days; sow."),
        ("Held at {range} , then out", {"range": "1–5 °C"}, "Held at 1–5 °C, then out"),
        ("Soak{changed}.", {"changed": ", changed daily,"}, "Soak, changed daily."),
        ("Soak{changed} and drain.", {"changed": ", changed daily,"}, "Soak, changed daily, and drain."),
    ],
)
def test_fill(text: str, words: Words, filled: str) -> None:
    assert fill_in(text, words) == filled


def test_a_name_that_nobody_sets_is_a_fault() -> None:
    with pytest.raises(KeyError):
        fill_in("{nobody}", {})


def test_every_placeholder_of_the_contract_is_set(wording) -> None:  # type: ignore[no-untyped-def]
    for name, said in [("peach", {"sow": "2027-04-15"}), ("oak", {}), ("apple", {"collected": "2026-10-01"})]:
        assert wording(name, **said).all().keys() == contract().placeholders


def test_words_of_a_kind(wording) -> None:  # type: ignore[no-untyped-def]
    acorn = wording("northern red oak", seeds=40).of_kind()
    # practice: gap 25 mm, layers of 25 to 50, a day's soak for what must not dry
    assert (acorn["gap"], acorn["layer"], acorn["soak_time"]) == ("25 mm", "25–50 mm", "12–24 hours")
    assert acorn["cut_some"] == "ten"
    assert wording("northern red oak", seeds=40, units="us").of_kind()["gap"] == "1 in"
    assert wording("peach", seeds=40).of_kind()["soak_time"] == "24–72 hours"
    assert wording("apple", seeds=40).of_kind()["soak_time"] == "12–24 hours"
    assert wording("apple", refrigerator="none").of_kind()["or_fridge"] == ""


def test_words_of_a_treatment_with_and_without_a_date(wording) -> None:  # type: ignore[no-untyped-def]
    dated = wording("peach", seeds=12, moisture="dried", sow="2027-04-15").of_treatment()
    assert (dated["sow_date"], dated["sow_when"]) == ("15 April 2027", "on 15 April 2027")
    assert dated["start_when"] == "from 14 December 2026"  # 105 days, three of soak, two weeks
    assert dated["cold_length"] == "98–105 days"
    free = wording("peach", seeds=12, moisture="dried").of_treatment()  # 15 April is taken
    assert (free["sow_date"], free["sow_when"]) == ("15 April 2027", "on 15 April 2027")
    late = wording("peach", seeds=12, moisture="dried", sow="2027-01-10").of_treatment()
    assert late["short_by"] == f"{105 - 46} days"  # planned, against 25 November to 10 January
    assert late["start_when"] == "from 14 December 2026"  # planned for the spring day in its place


def test_words_of_a_step(wording) -> None:  # type: ignore[no-untyped-def]
    w = wording("peach", seeds=12)

    def of(step: Step) -> StepWords:
        return step_words(step, w.plan, w.practice, w.texts, w.units)

    soak = of(Step(do="soak", hours=Quantity(24, 48)))
    assert (soak["how_long"], soak["changed"]) == ("24–48 hours", ", changed daily,")
    assert of(Step(do="soak", hours=Quantity(12, 24)))["changed"] == ""
    cold = of(Step(do="cold_moist", days=Quantity(60, 90)))
    assert (cold["how_long"], cold["how_warm"]) == ("60–90 days", "at 1–5 °C")  # common practice
    acid = of(Step(do="growth_regulator", minutes=Quantity(30, 30), mg_per_l=Quantity(100, 500)))
    assert acid["substance"] == "as licensed advice says at 100–500 mg/l"
    assert of(Step(do="light", hours_light=Quantity(8, 8)))["how_long"] == "8 hours a day"


@pytest.mark.parametrize(
    ("seeds", "word"),
    [(1, "one (if you can spare it)"), (4, "one"), (20, "five"), (40, "ten"), (9000, "ten")],
)
def test_no_more_than_one_in_four_is_cut(seeds: int, word: str, tables: Tables) -> None:
    assert cut_count(seeds, tables.practice, Texts(tables.texts)) == word


def test_every_sentence_that_the_program_says_is_in_the_file_and_the_other_way_round(tables: Tables) -> None:
    """Names of sentences that are put together are matched by what is fixed of them."""
    source = "".join(path.read_text("utf-8") for path in imports.modules().values())
    keys = set(re.findall(r"\bsay\(\s*f?\"([a-z_{}\[\]'.]+)\"", source))
    keys |= set(re.findall(r"\bsay\(\s*\"\w+\" if [^\n]* else \"(\w+)\"", source))
    plain = {key for key in keys if "{" not in key}
    assert plain <= tables.texts.keys()
    assert len(plain) > 40
    for key in keys - plain:
        pattern = re.sub(r"\{.*?\}", r"\\w+", key)
        assert any(re.fullmatch(pattern, name) for name in tables.texts), key
    package = Path(coldspell.__file__).parent
    templates = "".join(p.read_text("utf-8") for p in package.rglob("templates/*") if p.is_file())
    words = set(re.findall(r"\w+", source + templates))
    made = [re.sub(r"\{.*?\}", r"\\w+", key) for key in keys - plain]
    made += [rf"{prefix}\w+" for prefix in re.findall(r"\bf\"(\w+_)\{", source)]
    made += [rf"{prefix}\w+" for prefix in re.findall(r"\bt\(\"(\w+_)\" [+~]", templates)]
    unused = {n for n in tables.texts if n not in words and not any(re.fullmatch(p, n) for p in made)}
    assert unused == set()
