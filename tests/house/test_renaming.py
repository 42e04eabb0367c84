"""An answer is known to the program by its fields alone: with another name everywhere, no page changes.

Answers get names that sort in another order. The page must be the same byte for byte, and the JSON after the
new names are put back; the JSON holds the trace, so the same rules hold, with the same facts. Lots are those
of ``tests/cases`` (every rule has a case, so every answer is met) and seeded draws; by default a third of
both.

``COLDSPELL_FULL=1`` renames every answer once, beside others of its table that keep their names: thirty
rounds, in each every thirtieth answer of each table. Of 1,000 lots (``COLDSPELL_RENAMED_LOTS``) all are asked
that meet a renamed answer, and a hundred others, in which only its place in an order could be noticed.
"""

from __future__ import annotations

import json
import os
import random
import re
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import asking
import lots
import pytest
import rewriting

from coldspell.decide.names.asks import AT_THE_COUNTER
from coldspell.decide.tables import Tables
from coldspell.library.load import Library, load_library, shipped_dirs
from coldspell.yaml import document

pytestmark = pytest.mark.long

FULL = os.environ.get("COLDSPELL_FULL") == "1"
LOTS = int(os.environ.get("COLDSPELL_RENAMED_LOTS", "1000"))
ROUNDS = 30
CASES = Path(__file__).parent.parent / "cases"
Answer = tuple[str, str]
Lot = tuple[str, dict[str, Any], date]
ANSWERS: list[Answer] = [
    (table["decision"], answer)
    for table in rewriting.decisions(rewriting.read())
    for answer in table["answers"]
]


@cache
def _library() -> Library:
    return load_library([*shipped_dirs(), CASES / "library"])


def of_cases() -> list[Lot]:
    """The lots of the cases."""
    found: list[Lot] = []
    for path in sorted(CASES.glob("*.yaml")):
        for case in document.plain(document.parse(path.read_text("utf-8"), str(path))):
            said = dict(case["lot"])
            name, today = said.pop("name"), date.fromisoformat(said.pop("today", "2026-11-25"))
            found.append((name, said, today))
    return found


def drawn(count: int) -> list[Lot]:
    """Seeded lots over all records."""
    found = lots.draw(asking.names(), count)
    return [(lot["name"], lot["said"], date.fromisoformat(lot["today"])) for lot in found]


def told(lot: Lot, tables: Tables, names: dict[Answer, str]) -> tuple[str, str, frozenset[Answer]]:
    """The page, the JSON with the old names put back, and the answers that were met, by their old names."""
    name, said, today = lot
    page, recipe = asking.ask(name, said, today, tables, _library())
    old = {new: answer for (_, answer), new in names.items()}
    back = re.sub(r"zz\d+", lambda found: old[found[0]], json.dumps(recipe, ensure_ascii=False))
    rows = json.loads(back)["trace"] if recipe else ()
    return page, back, frozenset((row["decision"], row["answer"]) for row in rows)


def new_names(answers: list[Answer]) -> dict[Answer, str]:
    """Another name for each of some answers; their order is not that of the old ones."""
    numbers = list(range(len(answers)))
    random.Random(5).shuffle(numbers)
    return {answer: f"zz{number}" for answer, number in zip(answers, numbers, strict=True)}


def renamed(answers: list[Answer], folder: Path) -> tuple[Tables, dict[Answer, str]]:
    """The shipped rules with new names for some answers."""
    rules, names = rewriting.read(), new_names(answers)
    rewriting.rename_answers(rules, names)
    return rewriting.tables(rules, folder), names


@pytest.fixture(scope="module")
def unchanged(tmp_path_factory: pytest.TempPathFactory) -> Tables:
    return renamed([], tmp_path_factory.mktemp("unchanged"))[0]


def test_all_answers_with_other_names_change_no_page(unchanged: Tables, tmp_path: Path) -> None:
    tables, names = renamed(ANSWERS, tmp_path)
    assert not {answer for table in tables.book.decisions.values() for answer in table.answers} & {
        answer for _, answer in ANSWERS
    }
    met: set[Answer] = set()
    for lot in [*of_cases(), *drawn(200)][:: 1 if FULL else 3]:
        before = told(lot, unchanged, {})
        assert told(lot, tables, names) == before, lot
        met |= before[2]
    left = {f"{decision}: {answer}" for decision, answer in set(ANSWERS) - met}
    print(f"\n{len(met)} of {len(ANSWERS)} answers met; not: {', '.join(sorted(left))}")
    if FULL:  # words for steps that no record has, and what no recipe asks for
        assert {one.partition(":")[0] for one in left} <= {"step", *AT_THE_COUNTER}
    assert len(met) > len(ANSWERS) / 2


def rounds() -> list[list[Answer]]:
    """Every answer once, a few of a table at a time."""
    place: dict[str, int] = {}
    found: list[list[Answer]] = [[] for _ in range(ROUNDS)]
    for answer in ANSWERS:
        place[answer[0]] = place.get(answer[0], -1) + 1
        found[place[answer[0]] % ROUNDS].append(answer)
    return found


def test_answers_renamed_beside_others_change_no_page(unchanged: Tables, tmp_path: Path) -> None:
    """Some answers of each table, while the others keep their names, and in every order."""
    some = drawn(LOTS) if FULL else [*of_cases()[::8], *drawn(30)]
    before = [told(lot, unchanged, {}) for lot in some]
    every = rounds()
    met: set[Answer] = set()
    for answers in every if FULL else random.Random(date(2026, 11, 30).toordinal()).sample(every, 2):
        tables, names = renamed(answers, tmp_path)
        meet = [n for n in range(len(some)) if before[n][2] & names.keys()]
        others = random.Random(7).sample(range(len(some)), 100 if FULL else 20)
        for n in {*(meet if FULL else meet[:60]), *others}:
            assert told(some[n], tables, names) == before[n], (some[n], names)
            met |= before[n][2] & names.keys()
    print(f"\n{len(met)} renamed answers met by up to {len(some)} lots a round")
    assert len(met) > (len(ANSWERS) / 2 if FULL else 10)
