"""Imports run one way: the table of DEVELOPERS.md against what the source really imports."""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path

import imports
import pytest
from imports import Import, room

DEVELOPERS = Path(__file__).parent.parent.parent / "DEVELOPERS.md"
EVERYTHING = "everything"


def table() -> dict[str, set[str]]:
    """What each folder may import: folders, or single modules of them."""
    text = DEVELOPERS.read_text("utf-8").split("## Where")[0]
    rows = re.findall(r"^\| (`.*?) \|.*\| ([^|]*) \|$", text, re.M)
    found: dict[str, set[str]] = {}
    for names, may in rows:
        named = set(re.findall(r"`([\w.]+)`", may))
        assert named or may in ("nothing", EVERYTHING), may
        for name in re.findall(r"`(\w+)`", names):
            assert name not in found, f"{name} stands twice"
            found[name] = {EVERYTHING} if may == EVERYTHING else named
    return found


def between() -> list[Import]:
    """Imports from one folder of another; that of the version is everybody's."""
    return [i for i in imports.imports() if room(i.by) != room(i.of) and i.of != "coldspell"]


def not_allowed(found: Iterable[Import], may: dict[str, set[str]]) -> list[str]:
    return [
        f"{i.by}:{i.line} imports {i.of}"
        for i in found
        if not {EVERYTHING, i.of, room(i.of)} & may.get(room(i.by), set())
    ]


def circle(arrows: Iterable[tuple[str, str]]) -> list[str]:
    """What is left when all that leads nowhere, or that nothing leads to, is taken away again and again."""
    left = set(arrows)
    while True:
        sources, targets = {one for one, _ in left}, {two for _, two in left}
        kept = {(one, two) for one, two in left if two in sources and one in targets}
        if kept == left:
            return sorted({one for one, _ in left})
        left = kept


def test_every_folder_has_a_row_and_every_row_a_folder() -> None:
    rooms = {room(name) for name in imports.modules()}
    assert rooms == table().keys()
    named = {name for may in table().values() for name in may} - {EVERYTHING}
    assert named <= rooms | imports.modules().keys()


@pytest.mark.parametrize("typing", [False, True], ids=["at run time", "for the type checker"])
def test_code_imports_what_the_table_allows(typing: bool) -> None:
    assert not_allowed([i for i in between() if i.typing == typing], table()) == []


def test_no_folders_import_each_other_in_a_circle() -> None:
    """Of the code, imports for the type checker and inside functions included; and of the table itself."""
    assert circle((room(i.by), room(i.of)) for i in between()) == []
    allowed = [(one, room(two)) for one, may in table().items() for two in may if two != EVERYTHING]
    assert circle(allowed) == []


def test_no_modules_import_each_other_in_a_circle_at_run_time() -> None:
    """Inside functions neither. Types of one folder may name each other."""
    found = [i for i in imports.imports() if not i.typing and "coldspell" not in (i.by, i.of)]
    assert circle((i.by, i.of) for i in found) == []


def test_pages_are_made_without_the_engine() -> None:
    """Views take values of the rules, and nothing that decides."""
    assert {i.of for i in between() if room(i.by) == "views" and room(i.of) == "rules"} <= {"rules.model"}


def test_the_test_itself_sees_an_arrow_up_and_a_circle() -> None:
    up = [Import("lot.read", "decide.facts", 3, False), Import("views.full", "rules.session", 4, True)]
    told = ["lot.read:3 imports decide.facts", "views.full:4 imports rules.session"]
    assert not_allowed(up, table()) == told
    assert circle([("a", "b"), ("b", "c"), ("c", "b"), ("d", "a")]) == ["b", "c"]
    assert circle([("a", "b"), ("b", "c"), ("a", "c")]) == []


def test_imports_inside_functions_and_of_names_are_seen() -> None:
    found = {(i.by, i.of) for i in imports.imports()}
    assert ("rulebook", "decide.contract") in found  # inside a function
    assert ("rules.load", "shipped") in found  # from coldspell import shipped
    assert any(i.typing for i in imports.imports())
