"""An interrupt at any moment is 130, and an answer is whole or the exit code says so."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

pytestmark = pytest.mark.long

RUN = [sys.executable, "-m", "coldspell"]
BIG = ["recipe", "northern red oak", "--format", "json", "--today", "2026-10-12"]

AT_AN_IMPORT = """
import os, signal, sys
from coldspell.cli import main
signal.signal(signal.SIGINT, signal.default_int_handler)  # a shell lets what runs behind it ignore it
class Interrupt:
    def find_spec(self, name, *more):
        if name == {!r}:
            os.kill(os.getpid(), signal.SIGINT)
sys.meta_path.insert(0, Interrupt())
sys.argv = ["coldspell", "recipe", "apple"]
main.run()
"""


@pytest.mark.parametrize(
    "module", ["coldspell.errors", "msgspec", "coldspell.api", "coldspell.views.one_page"]
)
def test_an_interrupt_while_modules_load(module: str) -> None:
    done = subprocess.run(
        [sys.executable, "-c", AT_AN_IMPORT.format(module)], capture_output=True, text=True, check=False
    )
    assert (done.returncode, done.stdout, done.stderr) == (130, "", "coldspell: interrupted\n")


def test_little_is_loaded_before_an_interrupt_is_caught() -> None:
    code = "import sys; before = {*sys.modules}; import coldspell.cli.main; print(*{*sys.modules} - before)"
    done = subprocess.run([sys.executable, "-S", "-c", code], capture_output=True, text=True, check=True,
                          env={**os.environ, "PYTHONPATH": "src"})  # fmt: skip
    assert "typing" not in done.stdout.split()
    assert "coldspell.cli.main" in done.stdout.split()


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="a device of Linux")
@pytest.mark.parametrize("unbuffered", ["", "1"])
@pytest.mark.parametrize("arguments", [BIG, ["count", "cut", "8/10"], ["species", "sources"], ["--version"]])
def test_a_full_disk(arguments: list[str], unbuffered: str) -> None:
    with open("/dev/full", "wb") as full:
        done = subprocess.run(
            [*RUN, *arguments],
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
            check=False,
            env={**os.environ, "PYTHONUNBUFFERED": unbuffered},
        )
    assert done.returncode == 2
    assert "could not be written whole: No space left on device" in done.stderr
    assert "Exception" not in done.stderr


@pytest.mark.skipif(sys.platform == "win32", reason="no such limit there")
@pytest.mark.parametrize("unbuffered", ["", "1"])
def test_a_disk_that_takes_the_first_part(tmp_path: Path, unbuffered: str) -> None:
    """The interpreter drops what a short write left over, and exits with 0."""
    command = f'ulimit -f 8; exec "$0" -m coldspell {" ".join(map(repr, BIG))} > {tmp_path}/out.json'
    done = subprocess.run(
        ["bash", "-c", command, sys.executable],
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, "PYTHONUNBUFFERED": unbuffered},
    )
    assert done.returncode == 2
    assert "could not be written whole" in done.stderr


LOG = "time,temp C\n2026-01-01 00:00,4\n2026-01-02 00:00,4\n"


@pytest.mark.skipif(sys.platform == "win32", reason="no such pipes there")
@pytest.mark.parametrize("typed", ["cold <(cat {0})", "cold - < {0}", "cold - < {1}", "cold {1}"])
def test_a_log_is_read_once_and_in_its_own_character_set(tmp_path: Path, typed: str) -> None:
    plain, wide = tmp_path / "a.csv", tmp_path / "b.csv"
    plain.write_text(LOG, "utf-8")
    wide.write_text(LOG, "utf-16")
    command = f'"$0" -m coldspell {typed.format(plain, wide)}'
    done = subprocess.run(
        ["bash", "-c", command, sys.executable], capture_output=True, text=True, check=False
    )
    assert done.stdout.startswith("cold counted  1.0 days"), done.stderr


@pytest.mark.skipif(sys.platform == "win32", reason="closes by the shell")
@pytest.mark.parametrize(
    ("typed", "code", "says"),
    [
        ("recipe apple >&-", 2, "standard output is closed"),
        ("cold - <&-", 2, "standard input is closed"),
        ("germination - <&-", 2, "standard input is closed"),
        ("recipe nosuchname 2>&-", 2, ""),
        (f"recipe apple --library {'a' * 5000}", 2, "File name too long"),
        ("recipe apple --format json | true; exit ${PIPESTATUS[0]}", 0, ""),
    ],
)
def test_closed_streams(typed: str, code: int, says: str) -> None:
    done = subprocess.run(
        ["bash", "-c", f'"$0" -m coldspell {typed}', sys.executable],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == code
    assert says in done.stderr
    assert "internal" not in done.stderr
