"""A short run of every kind of attempt; faults that are planted are found.

``COLDSPELL_FUZZ=100000`` makes so many attempts of each kind (a tenth of it with files, a hundredth with
kills); `tests/fuzz/long_run.py` runs one kind for a time and prints the counts.
"""

from __future__ import annotations

import ast
import os
import signal
from collections.abc import Callable
from itertools import islice
from pathlib import Path
from typing import Any

import attempts
import kills
import pytest

from coldspell.decide import facts
from coldspell.decide.tables import Tables
from coldspell.library import schema
from coldspell.lot import read
from coldspell.rules import Decision, session
from coldspell.rules.plain import PlainEngine

pytestmark = pytest.mark.long

COUNT = int(os.environ.get("COLDSPELL_FUZZ", "0"))
SRC = Path(__file__).parents[2] / "src"


def run(kind: attempts.Attempts, count: int, folder: Path, seed: int = 1) -> list[attempts.Outcome]:
    return list(islice(kind(seed, folder), count))


def faults(outcomes: list[attempts.Outcome]) -> list[str]:
    return [one.what for one in outcomes if one.kind == "fault"]


@pytest.mark.parametrize(
    ("kind", "count", "answered"),
    [
        (attempts.drawn_lots, COUNT or 60, 0.8),
        (attempts.typed, COUNT or 20, 0.15),
        (attempts.broken_files, COUNT // 10 or 30, 0.15),
        (kills.killed, COUNT // 100 or 1, 1.0),
    ],
)
def test_no_attempt_shows_a_fault(kind: attempts.Attempts, count: int, answered: float, yard: Path) -> None:
    """And enough of them are answered that something was tried."""
    outcomes = run(kind, count, yard)
    assert faults(outcomes) == []
    assert sum(one.kind == "answered" for one in outcomes) >= answered * count


# --- what is planted is found -------------------------------------------------------------------------------


def planted(
    monkeypatch: pytest.MonkeyPatch, owner: Any, name: str, rare: Callable[..., bool]
) -> Callable[[], int]:
    """Let a function of the program fail where something rare holds; gives how often that was met."""
    own, met = getattr(owner, name), []

    def failing(*given: Any, **more: Any) -> Any:
        if rare(*given, **more):
            met.append(given)
            raise ZeroDivisionError("planted")
        return own(*given, **more)

    monkeypatch.setattr(owner, name, failing)
    return lambda: len(met)


def test_a_raise_in_a_rare_branch_is_found_by_drawn_lots(monkeypatch: pytest.MonkeyPatch, yard: Path) -> None:
    """Fewer than one lot in fifty is drawn from the south and sour."""
    met = planted(monkeypatch, facts, "_sow_season", lambda s, p, lot: lot.southern and lot.smell == "sour")
    found = [one for one in faults(run(attempts.drawn_lots, 200, yard, seed=4)) if "planted" in one]
    assert 0 < met() < 8
    assert len(found) == met()
    assert "ZeroDivisionError: planted" in found[0]
    assert "'smell': 'sour'" in found[0]


def test_another_answer_without_reasons_is_found_by_drawn_lots(monkeypatch: pytest.MonkeyPatch) -> None:
    """Bits of a column that stand one place off, as if the rules were read by them wrongly."""
    own = session.Session._chosen

    def off(self: session.Session, table: Decision, held: tuple[int, ...] | None) -> session._Chosen:
        moved = held and tuple((at + (table.name == "closure")) % len(table.rules) for at in held)
        return own(self, table, moved)

    lot = {"name": "Quercus rubra", "said": {"seeds": 40, "moisture": "fresh"}, "today": "2026-11-25"}
    assert attempts.attempt_lot(lot).kind == "answered"
    book = attempts._without_reasons().book
    quick = Tables(session.Session(book, PlainEngine(), traced=False), attempts._tables().practice)
    monkeypatch.setattr(attempts, "_without_reasons", lambda: quick)
    monkeypatch.setattr(session.Session, "_chosen", off)
    assert "with and without reasons: medium differs" in attempts.attempt_lot(lot).what


def test_a_raise_in_a_rare_branch_is_found_by_typed_words(
    monkeypatch: pytest.MonkeyPatch, yard: Path
) -> None:
    """One option of forty, in the commands that take what is known of a lot."""
    met = planted(monkeypatch, read, "read_share", lambda key, text: "float" in key)
    found = faults(run(attempts.typed, 120, yard))
    assert met() == len(found) > 0
    assert "internal fault: ZeroDivisionError: planted" in found[0]


def test_a_raise_in_a_rare_branch_is_found_by_broken_files(
    monkeypatch: pytest.MonkeyPatch, yard: Path
) -> None:
    """In the words for a key of a record that nobody knows."""
    met = planted(monkeypatch, schema, "_unknown_key", lambda key, known, value: True)
    found = faults(run(attempts.broken_files, 80, yard))
    assert met() == len(found) > 0
    assert "record.yaml = b" in found[0]


def test_a_file_that_is_written_in_place_is_found_by_kills(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """Half of a file is there for a while, as if it were written where it belongs."""
    (tmp_path / "sitecustomize.py").write_text(_HALF, "utf-8")
    monkeypatch.setenv("PYTHONPATH", str(tmp_path), prepend=os.pathsep)
    run = ("settings", "set", "units", "us")
    whole, files, _ = kills._alone(run, tmp_path / "whole")
    monkeypatch.setenv("HALF", "1")
    found = kills._kill(run, 9, 12.0, tmp_path / "killed", whole, files)
    assert found.kind == "fault"
    assert "settings.yaml is left with" in found.what


def test_a_signal_may_be_answered_by_its_own_code_alone() -> None:
    """143 is the end of what was terminated, 130 that of what was interrupted, and neither of the other."""
    assert 143 in kills._ends(signal.SIGTERM)
    assert 130 in kills._ends(signal.SIGINT)
    assert 130 not in kills._ends(signal.SIGTERM)
    assert kills._ends(signal.SIGKILL) == (-9,)


_HALF = """
import os, time
def halved(source, target, replace=os.replace):
    if os.environ.get("HALF"):
        data = open(source, "rb").read()
        with open(target, "wb") as file:
            file.write(data[: len(data) // 2])
        time.sleep(60)
    replace(source, target)
os.replace = halved
"""


# --- what holds of every refusal ----------------------------------------------------------------------------


def test_every_refusal_says_what_to_do() -> None:
    """No error is raised anywhere without a mend."""
    bare = []
    for path in sorted(SRC.rglob("*.py")):
        for call in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(call, ast.Call) and isinstance(call.func, ast.Name):
                mends = [key for key in call.keywords if key.arg == "mend"]
                if call.func.id == "ColdspellError" and len(call.args) < 3 and not mends:
                    bare.append(f"{path.relative_to(SRC)}:{call.lineno}")
    assert bare == []
