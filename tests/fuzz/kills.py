"""Whole programs, ended at any moment: what they leave is whole or not there, and the next run is right."""

from __future__ import annotations

import os
import random
import shutil
import signal
import subprocess
import sys
from collections.abc import Iterator, Sequence
from itertools import count
from pathlib import Path

import attempts
import typed_words
from attempts import Outcome

DAY = ("--today", "2026-10-12")
RUNS: tuple[tuple[str, ...], ...] = (
    ("recipe", "northern red oak", *DAY),
    ("recipe", "northern red oak", "--library", "own", *DAY),
    ("recipe", "--lots", "lots.csv", *DAY),
    ("season", "lots.csv", "-o", "out.csv", "-o", "out.ics", *DAY),
    ("sheet", "apple", "-o", "out.html", *DAY),
    ("settings", "set", "units", "us"),
    ("species", "new", "Corylus heterophylla", "--cold-days", "90", "--into", "own"),
)
SIGNALS = (signal.SIGKILL, signal.SIGKILL, signal.SIGINT, signal.SIGTERM)
Whole = tuple[bytes, dict[str, bytes], float]
"""What a run prints that nobody ends, the files it leaves, and the seconds it takes without a cache."""
_OURS = "coldspell/cli/main.py"


def killed(seed: int, folder: Path, first: int = 0, every: int = 1) -> Iterator[Outcome]:
    """A run with an empty cache that is ended after a drawn time, then the same run left alone."""
    wanted: dict[tuple[str, ...], Whole] = {}
    for turn in count(first, every):
        rng = random.Random(f"{seed} {turn}")
        run, sign = rng.choice(RUNS), rng.choice(SIGNALS)
        if run not in wanted:
            wanted[run] = _alone(run, folder / "whole")
        result, files, seconds = wanted[run]
        after = rng.uniform(0, seconds * 1.1)
        yield _kill(run, sign, after, folder / "killed", result, files)


def _kill(
    run: Sequence[str], sign: int, after: float, folder: Path, result: bytes, files: dict[str, bytes]
) -> Outcome:
    _begin(folder)
    process = subprocess.Popen(
        _command(run), cwd=folder, env=_surroundings(folder), stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE, stderr=subprocess.PIPE,
    )  # fmt: skip
    try:
        process.communicate(timeout=after)
    except subprocess.TimeoutExpired:
        process.send_signal(sign)
    told = f"{' '.join(run)}, signal {sign} after {after:.3f} s"
    try:
        _, complaint = process.communicate(timeout=attempts.PATIENCE)
    except subprocess.TimeoutExpired:
        process.send_signal(signal.SIGABRT)  # tells where it stands (PYTHONFAULTHANDLER)
        _, complaint = process.communicate()
        return Outcome("fault", f"{told}, does not end: {complaint.decode(errors='replace')[-1500:]}")
    said = complaint.decode(errors="replace")
    seen = f"{told}, exit {process.returncode}"
    torn = sign == signal.SIGINT and "Traceback" in said and _OURS in said
    if torn or process.returncode not in (0, 1, *_ends(sign)):
        return Outcome("fault", f"{seen}: {said[-800:]}")
    for name, content in _left(folder).items():
        if content != files.get(name) and not _may_be_left(name, sign):
            return Outcome("fault", f"{seen}: {name} is left with {len(content)} bytes")
        (folder / name).unlink()  # a run that refuses what is there already starts from nothing
    again = _run(run, folder)
    if (told := _printed(again, folder)) != result or _left(folder) != files:
        said = again.stderr.decode(errors="replace")[-500:]
        return Outcome("fault", f"{seen}: the next run differs: {told!r} {said}")
    return Outcome("answered")


def _ends(sign: int) -> tuple[int, ...]:
    """Exit codes of a program that a signal ended: by the system, or by itself with 128 and the number.

    An interrupt is 130 and a termination 143, as a shell counts them; nothing answers a kill.
    """
    return (-sign,) if sign == signal.SIGKILL else (-sign, 128 + sign)


def _may_be_left(name: str, sign: int) -> bool:
    """A hidden part of a file, by a program that had no time to clear it away."""
    return sign != signal.SIGINT and Path(name).name.startswith(".")


def _printed(done: subprocess.CompletedProcess[bytes], folder: Path) -> bytes:
    """What was printed, but for the name of the folder, which differs."""
    return done.stdout.replace(os.fsencode(folder), b"HERE")


def _alone(run: Sequence[str], folder: Path) -> Whole:
    """A run that nobody ends."""
    import time

    _begin(folder)
    start = time.monotonic()
    done = _run(run, folder)
    if done.returncode not in (0, 1):
        raise AssertionError((run, done.stderr))
    return _printed(done, folder), _left(folder), time.monotonic() - start


def _run(run: Sequence[str], folder: Path) -> subprocess.CompletedProcess[bytes]:
    return subprocess.run(
        _command(run), cwd=folder, env=_surroundings(folder), stdin=subprocess.DEVNULL,
        capture_output=True, timeout=300,
    )


def _begin(folder: Path) -> None:
    shutil.rmtree(folder, ignore_errors=True)
    (folder / "own").mkdir(parents=True)
    typed_words.lay_out(folder)
    (folder / "own" / "bibliography.yaml").write_text("[]\n")


def _left(folder: Path) -> dict[str, bytes]:
    """Every file but those laid out and those of the cache, with its content."""
    return {
        str(path.relative_to(folder)): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
        and path.relative_to(folder).parts[0] != "cache"
        and str(path.relative_to(folder)) not in (*typed_words.FILES, "own/bibliography.yaml")
    }


def _command(run: Sequence[str]) -> list[str]:
    return [sys.executable, "-m", "coldspell", *run]


def _surroundings(folder: Path) -> dict[str, str]:
    return {
        **os.environ,
        "COLDSPELL_CACHE": str(folder / "cache"),
        "COLDSPELL_SETTINGS": str(folder / "kept" / "settings.yaml"),
        "PYTHONDONTWRITEBYTECODE": "1",
        "PYTHONFAULTHANDLER": "1",
    }
