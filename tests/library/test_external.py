"""The library against published tables and trials: agreement is counted, every difference has its reason."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from external import (
    DATA,
    Compared,
    compare_classes,
    compare_needs,
    compare_table,
    compare_trials,
)

from coldspell.library.load import Library, load_library, shipped_dirs
from coldspell.yaml import document

TABLES: dict[str, Callable[[Library], list[Compared]]] = {
    "pretreatment-table": compare_table,
    "cold-trials": compare_trials,
    "dormancy-classes": compare_classes,
    "dormancy-needs": compare_needs,
}


@pytest.mark.parametrize("table", TABLES)
def test_differences_are_known_and_reasoned(table: str, capsys: pytest.CaptureFixture[str]) -> None:
    compared = TABLES[table](load_library(shipped_dirs()))
    differing = {one.name for one in compared if one.differs}
    with capsys.disabled():
        print(f"\n{table}: {len(compared)} compared, {sum(not c.differs for c in compared)} agree")
    path = DATA / "differences.yaml"
    known = document.plain(document.parse(path.read_text(encoding="utf-8"), str(path)))[table]
    assert differing == set(known)
    assert {name: reason for name, reason in known.items() if not says_why(reason)} == {}


RESTS_ON = re.compile(
    r"\b(record|papers?|handbook|manual|trials?|tests?|sources?|growers|nurseries|counted|embryo|shed|unaided)\b"
)
"""What a record can rest on. How far the two lie apart is no reason for leaving it so."""


def says_why(reason: str) -> bool:
    """Eight words or more, and among them what the record rests on."""
    return len(reason.split()) >= 8 and RESTS_ON.search(reason) is not None


@pytest.mark.parametrize(
    "empty", ["differs", "two warm weeks before the cold in the table only", "known; see the record"]
)
def test_an_empty_reason_is_none(empty: str) -> None:
    assert not says_why(empty)


def test_the_comparison_can_fail() -> None:
    """A table row that is plainly wrong for a record is seen as a difference."""
    from external import _meet

    assert _meet((90, 120), (120, 120))
    assert not _meet((90, 120), (10, 20))
    assert not _meet((0, 0), (90, 90))
