"""The published schemas are current, and what is printed is valid, plain, narrow and the same each time."""

from __future__ import annotations

import json
import os
import pty
import subprocess
import sys
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import jsonschema
import pages
import pytest

from coldspell.cli.publish import published
from coldspell.views import json_view
from coldspell.write.recipe import Recipe

ROOT = Path(__file__).parents[2]
Ask = Callable[..., Recipe]
LOTS: list[tuple[str, dict[str, Any]]] = [
    ("white oak", {"seeds": 25}),
    ("apple", {"seeds": 15, "sow": "2027-04-01"}),
    ("black cherry", {"kilograms": 2, "sow": "2026-12-20"}),
    ("oak", {}),
    ("northern red oak", {"moisture": "dried"}),
    ("peach", {"shell": "kernel", "units": "both", "want": 10}),
    ("eastern redbud", {"professional": "yes"}),
]


def run(*arguments: str, **kwargs: Any) -> subprocess.CompletedProcess[str]:
    """Run the program as a user does."""
    return subprocess.run(
        [sys.executable, "-m", "coldspell", *arguments], capture_output=True, text=True, check=False, **kwargs
    )


def test_published_files_are_current() -> None:
    """Make them anew with: python -m coldspell.cli.publish"""
    for path, content in published(ROOT).items():
        assert path.read_text(encoding="utf-8") == content, path


@pytest.mark.parametrize(("name", "lot"), LOTS)
def test_json_is_valid_and_the_same_each_time(ask: Ask, name: str, lot: dict[str, Any]) -> None:
    first, second = json_view.render(ask(name, **lot)), json_view.render(ask(name, **lot))
    assert first == second
    jsonschema.Draft202012Validator(json_view.schema()).validate(json.loads(first))


@pytest.mark.parametrize(("name", "lot"), LOTS)
@pytest.mark.parametrize("width", [20, 40, 59, 60, 80, 200])
def test_no_line_is_wider_than_the_terminal(ask: Ask, name: str, lot: dict[str, Any], width: int) -> None:
    page = pages.short(ask(name, **lot), width)
    assert max(len(line) for line in page.splitlines()) <= min(max(width, 32), 110)
    assert not any(line != line.rstrip() for line in page.splitlines())


@pytest.mark.parametrize(("name", "lot"), LOTS)
def test_ascii_only(ask: Ask, name: str, lot: dict[str, Any]) -> None:
    recipe = ask(name, **lot)
    page = pages.short(recipe, 80, ascii_only=True)
    assert page.isascii()
    assert page.count("?") == pages.short(recipe, 80).count("?")  # no sign was lost for a question mark


def test_same_bytes_from_two_processes_and_hash_seeds() -> None:
    arguments = ("recipe", "peach", "--seeds", "20", "--today", "2026-11-25", "--format", "json")
    first = run(*arguments, env={**os.environ, "PYTHONHASHSEED": "1"})
    second = run(*arguments, env={**os.environ, "PYTHONHASHSEED": "2"})
    assert first.returncode == 0
    assert first.stdout == second.stdout


def test_ascii_terminal_and_narrow_terminal() -> None:
    done = run(
        "recipe", "apple", "--seeds", "5", env={**os.environ, "PYTHONIOENCODING": "ascii", "COLUMNS": "40"}
    )
    assert done.returncode == 0
    assert done.stdout.isascii()
    assert max(len(line) for line in done.stdout.splitlines()) <= 40


def test_a_reader_that_leaves_early_is_no_error() -> None:
    program = f"{sys.executable} -m coldspell recipe peach --format json"
    done = subprocess.run(
        ["bash", "-c", f"set -o pipefail; {program} | head -1"], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0
    assert done.stderr == ""


def test_no_colour_codes_on_a_terminal() -> None:
    main, worker = pty.openpty()
    with subprocess.Popen([sys.executable, "-m", "coldspell", "recipe", "apple"], stdout=worker) as process:
        os.close(worker)
        chunks = []
        try:
            while chunk := os.read(main, 65536):
                chunks.append(chunk)
        except OSError:
            pass
        process.wait()
    assert b"\x1b[" not in b"".join(chunks)


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["recipe", "Nosuchia planta"], "no record for"),
        (["recipe", "Celastrus orbiculatus"], "recipe Celastrus"),
        (["recipe", "peech"], "peach"),
        (["recipe", "peach", "--seeds", "0"], "seeds is 0"),
        (["recipe", "peach", "--sow", "2027-02-31"], "no 2027-02-31 in the calendar"),
        (["recipe", "peach", "--sow", "soon"], "not a date"),
        (["recipe", "peach", "--collected", "2026-10-01", "--sow", "2026-09-01"], "before the day"),
        (["recipe", "peach", "--cut", "11/10"], "cannot be 11 of 10"),
        (["recipe", "peach", "--moisture", "wet"], "one of: fresh, dried"),
        (["recipe", "peach", "--format", "xml"], "one of: text, json"),
        (["recipe", "peach", "--why-not", "towl_roll"], "did you mean towel_roll"),
        (["recipe", "peach", "--lot", "/nosuch/lot.yaml"], "No such file"),
        (["recipe", "ash"], "several plants"),
        (["recipe", "peach", "--sow", "9999-12-31", "--today", "9999-12-30"], ""),
    ],
)
def test_wrong_use_is_one_clear_message(arguments: list[str], says: str) -> None:
    done = run(*arguments)
    if says:
        assert done.returncode == 2
        assert says in done.stderr
        assert done.stdout == ""
    else:
        assert done.returncode in (0, 2)
    assert "Traceback" not in done.stderr


def test_lot_file_mistakes_have_their_line(tmp_path: Path) -> None:
    lot = tmp_path / "lot.yaml"
    lot.write_text("seeds: 40\nmoistur: fresh\n")
    done = run("recipe", "peach", "--lot", str(lot))
    assert done.returncode == 2
    assert f"{lot}:2:1" in done.stderr
    assert "moisture" in done.stderr
    lot.write_text("seeds: 40\nmoisture: wet\n")
    assert f"{lot}:2:11" in run("recipe", "peach", "--lot", str(lot)).stderr


def test_lot_file_and_options_agree(tmp_path: Path, ask: Ask) -> None:
    lot = tmp_path / "lot.json"
    lot.write_text(json.dumps({"seeds": 40, "sow": "2027-04-15", "medium": ["sand"], "cut": "9/10"}))
    done = run(
        "recipe", "peach", "--lot", str(lot), "--seeds", "20", "--today", "2026-11-25", "--format", "json"
    )
    found = json.loads(done.stdout)
    assert found["lot"]["said"]["seeds"] == 20
    assert found["medium"]["material"] == "sand"
    asked = ask("peach", date(2026, 11, 25), seeds=20, sow="2027-04-15", medium=["sand"], cut="9/10")
    assert found["steps"] == json.loads(json_view.render(asked))["steps"]
