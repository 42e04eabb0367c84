"""The same lots give the same answers whatever the file order, hash seed, thread, process and memo."""

from __future__ import annotations

import hashlib
import multiprocessing
import os
import random
import shutil
import subprocess
import sys
import threading
from collections.abc import Callable
from pathlib import Path

import pytest
from rules_lots import GOOD, SHIPPED, book_of, limits, outcome, random_lot

from coldspell.rulebook import asked
from coldspell.rules import Engine, Session, best_engine, load_rules
from coldspell.rules.engine import ColumnEngine
from coldspell.rules.plain import PlainEngine
from coldspell.texts import ENGLISH

pytestmark = pytest.mark.long

FOLDER = SHIPPED if any(SHIPPED.glob("*.yaml")) else GOOD

_ENGINES: dict[str, Callable[[], Engine]] = {
    "best": best_engine,
    "plain": PlainEngine,
    "columns": ColumnEngine,
}


def digest(folder: Path, count: int = 60, engine_name: str = "best", memo: bool = True) -> str:
    """A hash of everything that is answered for some lots."""
    book = book_of(folder)
    engine = _ENGINES[engine_name]()
    session = Session(book, engine, memo=memo)
    chance, marks = random.Random(7), limits(folder)
    total = hashlib.sha256()
    for _ in range(count):
        total.update(repr(outcome(session, random_lot(book, chance, marks))).encode())
    return total.hexdigest()


def test_memo_and_engine_change_nothing() -> None:
    digests = {digest(FOLDER, engine_name=e, memo=m) for e in _ENGINES for m in (True, False)}
    assert len(digests) == 1


def test_a_full_memo_is_emptied_and_changes_nothing() -> None:
    book, chance = load_rules([GOOD]), random.Random(3)
    small, free = Session(book, PlainEngine(), limit=2), Session(book, PlainEngine(), memo=False)
    for _ in range(300):
        lot = random_lot(book, chance, [100.0])
        assert small.run(lot) == free.run(lot)
    cuts = small._cuts.values()
    assert all(cut.ways is not None and len(cut.ways) <= 2 and len(cut.told) <= 2 for cut in cuts)


@pytest.mark.parametrize("seed", ["0", "1", "42"])
def test_hash_seed_changes_nothing(seed: str) -> None:
    code = (
        f"import sys; sys.path.insert(0, {str(Path(__file__).parent)!r}); "
        f"import test_rules_same as t; print(t.digest(t.FOLDER))"
    )
    env = {**os.environ, "PYTHONHASHSEED": seed, "COLDSPELL_CACHE": "off"}
    done = subprocess.run([sys.executable, "-c", code], env=env, capture_output=True, text=True, check=True)
    assert done.stdout.strip() == digest(FOLDER)


def test_file_names_and_order_change_nothing(tmp_path: Path) -> None:
    """Rules renamed so that they are read in reverse order, in other folders, and named one by one."""
    files = sorted(FOLDER.glob("*.yaml"))
    for index, path in enumerate(reversed(files)):
        target = tmp_path / str(index % 3) / f"{index:03}-{path.name}"
        target.parent.mkdir(exist_ok=True)
        shutil.copy(path, target)
    one = book_of(FOLDER)
    two = load_rules([*sorted(tmp_path.rglob("*.yaml"), reverse=True), ENGLISH], None, asked)
    assert list(one.decisions) == list(two.decisions)
    chance, marks = random.Random(9), limits(FOLDER)
    for _ in range(60):
        lot = random_lot(one, chance, marks)
        assert outcome(Session(one, PlainEngine()), lot) == outcome(Session(two, PlainEngine()), lot)


def test_threads_share_a_session() -> None:
    """Eight threads, switched every few microseconds, on one session and engine."""
    book, marks = book_of(FOLDER), limits(FOLDER)
    chance = random.Random(11)
    lots = [random_lot(book, chance, marks) for _ in range(80)]
    expected = [outcome(Session(book, PlainEngine(), memo=False), lot) for lot in lots]
    session = Session(book, best_engine(), limit=50)
    wrong: list[int] = []

    def work(start: int) -> None:
        for offset in range(len(lots)):
            index = (start + offset) % len(lots)
            if outcome(session, lots[index]) != expected[index]:
                wrong.append(index)

    interval = sys.getswitchinterval()
    sys.setswitchinterval(5e-6)
    try:
        threads = [threading.Thread(target=work, args=(n * 10,)) for n in range(8)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
    finally:
        sys.setswitchinterval(interval)
    assert wrong == []


@pytest.mark.parametrize("method", ["fork", "spawn"])
def test_worker_processes(method: str) -> None:
    """Workers forked after the engine has run (its state is copied), or spawned."""
    if method not in multiprocessing.get_all_start_methods():
        pytest.skip(f"no {method} here")
    expected = digest(FOLDER)
    with multiprocessing.get_context(method).Pool(2) as pool:
        assert pool.map(digest, [FOLDER] * 4) == [expected] * 4


def _in_child(shared: tuple[Session, list[dict[str, object]]]) -> None:
    session, lots = shared
    again = [outcome(session, lot) for lot in lots]
    os._exit(0 if again == [outcome(Session(session.book, PlainEngine()), lot) for lot in lots] else 1)


@pytest.mark.skipif(not hasattr(os, "fork"), reason="no fork here")
def test_a_forked_child_goes_on_with_the_same_engine() -> None:
    book, chance, marks = book_of(FOLDER), random.Random(5), limits(FOLDER)
    lots = [random_lot(book, chance, marks) for _ in range(40)]
    session = Session(book, best_engine(), memo=False)
    for lot in lots:
        outcome(session, lot)
    context = multiprocessing.get_context("fork")
    children = [context.Process(target=_in_child, args=((session, lots),)) for _ in range(3)]
    for child in children:
        child.start()
    for lot in lots:
        outcome(session, lot)
    for child in children:
        child.join()
    assert [child.exitcode for child in children] == [0, 0, 0]
