"""A program that is ended from outside leaves no helper and no half-made folder behind.

A fresh programmer's walk of the front door: `season --jobs 2` and `page export`, ended by a signal to the
first process alone.
"""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

pytestmark = pytest.mark.skipif(not Path("/proc").is_dir(), reason="reads /proc")
_PATIENCE = 120.0


def _children(pid: int) -> set[int]:
    found = set()
    for path in Path("/proc").glob("[0-9]*/stat"):
        try:
            number, _, rest = path.read_text().rpartition(")")
        except OSError:
            continue
        if rest.split()[1] == str(pid):
            found.add(int(number.split()[0]))
    return found


def _gone(pid: int) -> bool:
    try:
        return Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[0] == "Z"
    except OSError:
        return True


def _until(what: object) -> bool:
    end = time.monotonic() + _PATIENCE
    while time.monotonic() < end:
        if callable(what) and what():
            return True
        time.sleep(0.05)
    return False


@contextmanager
def _started(*arguments: str) -> Iterator[tuple[subprocess.Popen[bytes], set[int]]]:
    started = subprocess.Popen([sys.executable, "-m", "coldspell", *arguments], stderr=subprocess.DEVNULL)
    try:
        assert _until(lambda: len(_children(started.pid)) >= 2), "no helpers were started"
        yield started, _children(started.pid)
    finally:
        started.kill()
        started.wait()


@pytest.mark.parametrize("ended", [signal.SIGINT, signal.SIGTERM, signal.SIGKILL])
def test_no_helper_outlives_a_season(ended: signal.Signals, tmp_path: Path) -> None:
    lots = tmp_path / "lots.csv"
    lots.write_text("name,seeds\n" + "red oak,40\npeach,20\n" * 20_000, "utf-8")
    command = ["season", str(lots), "--jobs", "2", "-o", str(tmp_path / "s.jsonl"), "--today", "2026-11-30"]
    with _started(*command) as (started, helpers):
        started.send_signal(ended)
        code = started.wait(_PATIENCE)
        assert code == {signal.SIGINT: 130, signal.SIGTERM: 143}.get(ended, -ended)
        assert _until(lambda: all(map(_gone, helpers))), "helpers are still there"
    assert [path.name for path in tmp_path.iterdir()] == ["lots.csv"]


@pytest.mark.long
@pytest.mark.parametrize("ended", [signal.SIGINT, signal.SIGTERM])
def test_no_half_made_site_is_left(ended: signal.Signals, tmp_path: Path) -> None:
    pytest.importorskip("jinja2", reason="the extra page is not installed")
    with _started("page", "export", str(tmp_path / "site"), "--jobs", "2") as (started, helpers):
        assert _until(lambda: list(tmp_path.glob(".site.*.part/plants/*")))
        started.send_signal(ended)
        assert started.wait(_PATIENCE) == 128 + ended
        assert _until(lambda: all(map(_gone, helpers)))
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("after", [0.01, 0.03, 0.06, 0.1])
def test_an_early_interrupt_shows_no_traceback(after: float, tmp_path: Path) -> None:
    """Once its first module stands, while the others load; before that only the interpreter could answer."""
    script = tmp_path / "coldspell"
    script.write_text("from coldspell.cli.main import run\nprint(flush=True)\nrun()\n", "utf-8")
    command = [sys.executable, str(script), "recipe", "--lots", "-"]
    with subprocess.Popen(
        command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as started:
        assert started.stdout is not None
        assert started.stderr is not None
        started.stdout.readline()
        time.sleep(after)
        os.kill(started.pid, signal.SIGINT)
        assert started.wait(_PATIENCE) in (130, -signal.SIGINT)
        assert b"Traceback" not in started.stderr.read()
