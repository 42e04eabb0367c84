"""One attempt after the other to make the program fail: drawn lots, typed words, broken files, kills.

Each kind is a generator without end of what came of one attempt. A fault holds what shows it again.
An attempt depends on its seed and number alone, so any of them can be had again by itself.
"""

from __future__ import annotations

import io
import json
import os
import random
import re
import signal
import sys
import traceback
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from functools import cache
from itertools import count, islice
from pathlib import Path
from typing import Any, Literal

import invariants
import lots
import mutations
import typed_words
from meeting import Met, meet

from coldspell.cli.main import main
from coldspell.decide.practice import practice_of
from coldspell.decide.tables import Tables
from coldspell.errors import ColdspellError, InternalFault
from coldspell.library import load
from coldspell.rulebook import load_rulebook, load_tables
from coldspell.rules import Session
from coldspell.rules.plain import PlainEngine
from coldspell.views.json_view import render

PATIENCE = int(os.environ.get("COLDSPELL_PATIENCE", "120"))
"""Seconds after which an answer counts as none (this machine may be busy)."""
RAW = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u200e\u200f\u2028-\u202e\u2066-\u2069\ud800-\udfff]")
"""Control and direction characters that never reach a terminal or a log."""


@dataclass(frozen=True)
class Outcome:
    """What came of one attempt; ``what`` tells a fault, and how to see it again."""

    kind: Literal["answered", "refused", "fault"]
    what: str = ""
    twice: bool = False
    """Whether it was answered in both ways that the rules can be asked."""


Attempts = Callable[..., Iterator[Outcome]]
"""Takes a seed, a folder, and which attempts of that seed are made: the first one, and every so many."""


# --- lots ---------------------------------------------------------------------------------------------------


@cache
def _library() -> load.Library:
    return load.load_library(load.shipped_dirs())


@cache
def _tables() -> Tables:
    """The rules read row by row, with the reason for each answer."""
    return load_tables(PlainEngine())


@cache
def _without_reasons() -> Tables:
    """The same rules by columns of bits and without reasons: two thirds of the time."""
    book = load_rulebook().book
    return Tables(Session(book, PlainEngine(), traced=False), practice_of(book.practice))


ONE_IN = 10
"""Of so many lots one is asked in both ways, and gets the same recipe."""


def drawn_lots(seed: int, folder: Path, first: int = 0, every: int = 1) -> Iterator[Outcome]:
    """Lots over all records with up to four awkward facts, and whatever must hold of every recipe."""
    drawn_ones = enumerate(lots.awkward(_library().names, sys.maxsize, seed))
    for turn, drawn in islice(drawn_ones, first, None, every):
        yield attempt_lot(drawn, twice=turn % ONE_IN == 0)


def attempt_lot(drawn: dict[str, Any], *, twice: bool = True) -> Outcome:
    """One lot: its recipe, its page and its JSON; ``twice``: with and without reasons."""
    asked = drawn["name"], drawn["said"], date.fromisoformat(drawn["today"]), _library()
    try:
        met = meet(*asked, _without_reasons())
        found = invariants.faults(met)
        said = met.page + render(met.recipe)
        if twice:
            other = meet(*asked, _tables())
            found += differences(met, other)
            said += render(other.recipe)
        if not said.isprintable() and RAW.search(said):
            found += [f"raw characters: {RAW.search(said)}"]
        return Outcome("fault", f"{drawn}: {found}") if found else Outcome("answered", twice=twice)
    except InternalFault as error:
        return Outcome("fault", f"{drawn}: {error}")
    except ColdspellError as error:
        return Outcome("refused") if error.mend else Outcome("fault", f"{drawn}: no mend: {error}")
    except Exception:
        return Outcome("fault", f"{drawn}: {traceback.format_exc(limit=-4)}")


OF_REASONS = ("trace", "sources")
"""What a recipe without reasons leaves out, as a whole or in part."""


def differences(one: Met, other: Met) -> list[str]:
    """Where the recipe or the page differs between two ways to ask the same rules."""
    names = [name for name in one.recipe.__struct_fields__ if name not in OF_REASONS]
    found = [name for name in names if getattr(one.recipe, name) != getattr(other.recipe, name)]
    found += ["page"] if one.page != other.page else []
    return [f"with and without reasons: {name} differs" for name in found]


# --- words that are typed, in this process ------------------------------------------------------------------


def typed(seed: int, folder: Path, first: int = 0, every: int = 1) -> Iterator[Outcome]:
    """Every command with drawn options, values, files and slips; each finds the files as laid out."""
    typed_words.lay_out(folder)
    words = typed_words.Typed(folder)
    for turn in count(first, every):
        rng = random.Random(f"{seed} {turn}")
        clear(folder)
        given = words.draw(rng)
        piped = rng.choice(list(typed_words.FILES.values())).encode()
        yield ran(given, piped)


def clear(folder: Path) -> None:
    """Take out what the program wrote, and lay the files out anew."""
    import shutil

    for path in folder.iterdir():
        if path.is_dir() and not path.is_symlink():
            shutil.rmtree(path)
        else:
            path.unlink()
    typed_words.lay_out(folder)


def ran(given: Sequence[str], piped: bytes = b"") -> Outcome:
    """One run of the program in this process: its exit code, and what it wrote."""
    old = sys.stdin, sys.stdout, sys.stderr
    out, err = (io.TextIOWrapper(io.BytesIO(), "utf-8", "strict", "\n") for _ in range(2))
    sys.stdin = io.TextIOWrapper(io.BytesIO(piped), "utf-8", "surrogateescape")
    sys.stdout, sys.stderr = out, err
    before = signal.signal(signal.SIGALRM, _too_long)
    signal.alarm(PATIENCE)
    code: int | str
    try:
        code = main(list(given))
    except BaseException:
        code = traceback.format_exc(limit=-4)
    finally:
        signal.alarm(0)
        signal.signal(signal.SIGALRM, before)
        sys.stdin, sys.stdout, sys.stderr = old
    said = []
    for stream in (out, err):
        stream.flush()
        said.append(stream.buffer.getvalue().decode("utf-8", "replace"))  # type: ignore[attr-defined]
    wrong = wrong_with(given, code, *said)
    if wrong:
        return Outcome("fault", f"{list(given)} with {piped!r}: {wrong}")
    return Outcome("refused" if code == 2 else "answered")


def wrong_with(given: Sequence[str], code: int | str, out: str, err: str) -> str:
    """What is wrong with an answer, whatever was typed; empty where nothing is."""
    if code not in (0, 1, 2):
        return f"exit {code}: {err[-1500:]}"
    if RAW.search(out + err):
        return f"raw characters {RAW.search(out + err)}"
    if code == 2 and not re.search(r"\n  \S|\"mend\": \"\S", err):
        return f"refused without saying what to do: {err!r}"
    if code == 2 and out.strip() and given[:1] != ["recipe"]:
        return f"refused after {len(out)} characters of an answer"
    if code == 0 and out.lstrip().startswith("{") and _asked_for_json(given):
        try:
            json.loads(out)
        except ValueError as error:
            return f"no JSON: {error}"
    return ""


def _asked_for_json(given: Sequence[str]) -> bool:
    return "--lots" not in given and " --format json" in f" {' '.join(given)}"


class TooLongError(Exception):
    """No answer within `PATIENCE`."""


def _too_long(number: int, frame: object) -> None:
    raise TooLongError


# --- broken files -------------------------------------------------------------------------------------------

READ_BY = {
    "lot.yaml": ["recipe", "apple", "--lot"],
    "lot.json": ["recipe", "apple", "--format", "json", "--lot"],
    "lots.csv": ["recipe", "--lots"],
    "lots.jsonl": ["recipe", "--lots"],
    "log.csv": ["cold"],
    "counts.csv": ["germination"],
    "record.yaml": ["species", "check"],
    "settings.yaml": ["recipe", "apple"],
}
"""The command that reads each file, to which its path is added."""


def broken_files(seed: int, folder: Path, first: int = 0, every: int = 1) -> Iterator[Outcome]:
    """A good file of each kind with one to three changes, read by its command."""
    for turn in count(first, every):
        rng = random.Random(f"{seed} {turn}")
        name = rng.choice(list(READ_BY))
        data = mutations.mutated(typed_words.FILES[name], rng)
        path = folder / name
        path.write_bytes(data)
        if name == "settings.yaml":
            found = _with_settings(path, READ_BY[name])
        else:
            found = ran([*READ_BY[name], name])
        yield Outcome("fault", f"{name} = {data!r}: {found.what}") if found.kind == "fault" else found


def _with_settings(path: Path, given: Sequence[str]) -> Outcome:
    before = os.environ.get("COLDSPELL_SETTINGS")
    os.environ["COLDSPELL_SETTINGS"] = str(path)
    try:
        return ran(given)
    finally:
        if before is None:
            del os.environ["COLDSPELL_SETTINGS"]
        else:
            os.environ["COLDSPELL_SETTINGS"] = before
