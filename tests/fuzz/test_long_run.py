"""The driver of long runs: several processes find what one finds, and a run goes on where another ended."""

from __future__ import annotations

import argparse
import subprocess
import sys
from itertools import islice
from pathlib import Path
from typing import Any

import attempts
import long_run
import pytest

from coldspell.decide import facts

pytestmark = pytest.mark.long


def test_shares_of_lots_show_the_faults_of_the_whole(monkeypatch: pytest.MonkeyPatch, yard: Path) -> None:
    """A fault is planted for lots of the south; no share leaves one out or has one twice."""
    own = facts._sow_season

    def failing(schedule: Any, practice: Any, lot: Any) -> Any:
        if lot.southern:
            raise ZeroDivisionError("planted")
        return own(schedule, practice, lot)

    monkeypatch.setattr(facts, "_sow_season", failing)

    def found(first: int, every: int, count: int) -> list[str]:
        made = islice(attempts.drawn_lots(7, yard, first, every), count)
        return sorted(one.what.split(": Traceback")[0] for one in made if one.kind == "fault")

    whole = found(0, 1, 90)
    assert len(whole) > 3
    assert sorted(found(0, 3, 30) + found(1, 3, 30) + found(2, 3, 30)) == whole
    assert sorted(found(0, 1, 40) + found(40, 1, 50)) == whole


@pytest.mark.parametrize("kind", [attempts.typed, attempts.broken_files])
def test_shares_of_vectors_and_files_are_those_of_the_whole(
    kind: attempts.Attempts, monkeypatch: pytest.MonkeyPatch, yard: Path
) -> None:
    """What is typed and read depends on the seed and the number of the attempt alone."""
    seen: list[object] = []

    def noted(given: Any, piped: bytes = b"") -> attempts.Outcome:
        read = (yard / given[-1]).read_bytes() if kind is attempts.broken_files else piped
        seen.append((tuple(given), read))
        return attempts.Outcome("answered")

    monkeypatch.setattr(attempts, "ran", noted)
    by_name = {k: v for k, v in attempts.READ_BY.items() if "settings" not in k}
    monkeypatch.setattr(attempts, "READ_BY", by_name)

    def made(first: int, every: int, count: int) -> list[object]:
        seen.clear()
        list(islice(kind(3, yard, first, every), count))
        return list(seen)

    whole = made(0, 1, 20)
    assert made(0, 2, 10) == whole[::2]
    assert made(1, 2, 10) == whole[1::2]
    assert made(12, 1, 8) == whole[12:]


@pytest.mark.parametrize(("count", "jobs", "first"), [(10, 2, 0), (11, 3, 100), (2, 4, 5)])
def test_processes_share_the_attempts_of_one_seed(
    count: int, jobs: int, first: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Together they make each attempt once."""
    turns: list[int] = []

    class Noted:
        def __init__(self, command: list[str]) -> None:
            assert command[:2] == [sys.executable, long_run.__file__]
            read = argparse.ArgumentParser()
            for name, kind in (("kind", str), ("count", int)):
                read.add_argument(name, type=kind)
            for name in ("--seed", "--first", "--every"):
                read.add_argument(name, type=int)
            told = read.parse_args(command[2:])
            assert (told.kind, told.seed) == ("lots", 9)
            turns.extend(told.first + n * told.every for n in range(told.count))

        def wait(self) -> int:
            return 0

    monkeypatch.setattr(subprocess, "Popen", Noted)
    given = argparse.Namespace(
        kind="lots", count=count, jobs=jobs, first=first, every=1, seed=9, seconds=float("inf")
    )
    assert long_run._shared(given) == 0
    assert sorted(turns) == list(range(first, first + count))
