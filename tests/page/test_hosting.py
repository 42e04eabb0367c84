"""The container file without a container: what it copies, installs, starts and asks of itself is right.

`.ci/run` installs the built wheel with the same extra into an empty environment and asks it. On 30
November 2026 the file was built by buildah as it stands, on a base with Python 3.13 (Debian's), and what
it made was run.
"""

from __future__ import annotations

import fnmatch
import json
import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

WHY = "type: uv run --all-groups pytest (the group surfaces)"
for _name in ("litestar", "uvicorn", "jinja2", "segno", "typst"):
    pytest.importorskip(_name, reason=WHY)

ROOT = Path(__file__).parents[2]
FILE = ROOT / "docs" / "hosting" / "Containerfile"
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]


def steps() -> list[tuple[str, str]]:
    """Instructions and what follows them; the file has no line that goes on."""
    lines = [line for line in FILE.read_text("utf-8").splitlines() if line and not line.startswith("#")]
    return [(line.split(" ", 1)[0], line.split(" ", 1)[1]) for line in lines]


def of(name: str) -> str:
    return next(rest for instruction, rest in steps() if instruction == name)


def test_it_installs_this_wheel_with_its_extra() -> None:
    wheel = f"dist/coldspell-{PROJECT['version']}-py3-none-any.whl"
    assert fnmatch.fnmatch(wheel, of("COPY").split()[0])
    pip = next(rest for instruction, rest in steps() if instruction == "RUN" and "pip" in rest)
    extra = re.search(r"\)\[(\w+)\]", pip)
    assert extra is not None
    assert extra[1] in PROJECT["optional-dependencies"]
    python = re.fullmatch(r"python:3\.(\d+)-slim", of("FROM"))
    assert python is not None
    assert f"Programming Language :: Python :: 3.{python[1]}" in PROJECT["classifiers"]


def test_it_runs_without_rights_and_never_writes() -> None:
    instructions = [instruction for instruction, _ in steps()]
    assert instructions.index("USER") < instructions.index("CMD")
    assert of("USER") not in ("root", "0")
    command = json.loads(of("CMD"))
    assert "--write" not in command
    assert {"--public", "--no-settings"} <= {*command}


def test_what_it_starts_answers_what_it_asks_of_itself() -> None:
    """The command and the health check as they stand, on a free port of this machine."""
    command = json.loads(of("CMD"))
    assert command[0] == "coldspell"
    local = ["127.0.0.1" if word == "0.0.0.0" else word for word in command[1:]]
    said = [sys.executable, "-m", "coldspell", *local, "--port", "0"]
    with subprocess.Popen(said, stdout=subprocess.PIPE, text=True) as server:
        try:
            assert server.stdout is not None
            address = re.search(r"http://[\d.]+:\d+", server.stdout.readline())
            assert address is not None
            check = json.loads(of("HEALTHCHECK").removeprefix("CMD "))
            assert f":{of('EXPOSE')}/" in check[-1]
            asked = re.sub(r"http://127\.0\.0\.1:\d+", address[0], check[-1])
            assert subprocess.run([sys.executable, check[1], asked], timeout=30, check=False).returncode == 0
        finally:
            server.terminate()
