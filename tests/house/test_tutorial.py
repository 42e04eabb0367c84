"""The commands of pages run, and print what is shown; the known-good versions fit what is asked for."""

from __future__ import annotations

import re
import shlex
import shutil
import tomllib
from pathlib import Path
from typing import Any

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from coldspell.cli.main import main
from coldspell.cli.program import EXAMPLES

ROOT = Path(__file__).parents[2]
DOCS = ROOT / "docs"
PAGES = ("tutorial.md", "change-a-rule.md", "understanding.md")
"""Pages that are read from beginning to end; what they do is done in that order."""
_FILE = re.compile(r"`(\w+\.csv)`:\n\n```csv\n(.*?)```", re.DOTALL)
_DONE = re.compile(r"```(console|diff)\n(.*?)```", re.DOTALL)
_PLACE = re.compile(r":\d+:\d+:")
"""Line and column of a message: they move with every rule that is added above."""
_COMMAND = re.compile(r"\$ (coldspell|cp) ([^\n]*)\n(.*)", re.DOTALL)
TUTORIAL = (DOCS / "tutorial.md").read_text("utf-8")
FILES = _FILE.findall(TUTORIAL)


@pytest.mark.parametrize("page", PAGES)
def test_a_page_prints_what_it_shows(
    page: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Its files are laid out; its commands are run and its edits made, in the order of the page."""
    text = (DOCS / page).read_text("utf-8")
    for name, content in _FILE.findall(text):
        (tmp_path / name).write_text(content, "utf-8")
    shutil.copytree(ROOT / "rules", tmp_path / "rules")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COLUMNS", "80")
    blocks = _DONE.findall(text)
    assert len(blocks) >= text.count("\n$ ")  # no command stands outside
    for kind, body in blocks:
        if kind == "diff":
            _edit(tmp_path / "mine", body)
            continue
        program, words, shown = _COMMAND.fullmatch(body).groups()  # type: ignore[union-attr]
        if program == "cp":
            shutil.copytree(*shlex.split(words)[1:])
        else:
            main(shlex.split(words))
            _compare(shown, capsys.readouterr())


def _edit(folder: Path, body: str) -> None:
    """Exchange one line of one file, found by what stands in it."""
    old, new = (line[1:] + "\n" for line in body.splitlines())
    found = [path for path in folder.glob("*.yaml") if old in path.read_text("utf-8")]
    assert len(found) == 1, (old, found)
    text = found[0].read_text("utf-8")
    assert text.count(old) == 1
    found[0].write_text(text.replace(old, new), "utf-8")


def _compare(shown: str, told: Any) -> None:
    """What is shown was printed in that order; `…` stands for lines that are left out."""
    assert told.err == ""
    printed = [line.rstrip() for line in _PLACE.sub(":0:0:", told.out).splitlines()]
    at = 0
    for part in re.split(r"(?m)^…\n", _PLACE.sub(":0:0:", shown)):
        lines = part.splitlines()
        starts = [i for i in range(at, len(printed)) if printed[i : i + len(lines)] == lines]
        assert not lines or starts, f"not printed:\n{part}\nbut:\n" + "\n".join(printed[at:])
        at = starts[0] + len(lines) if lines else at


def test_the_tutorial_shows_the_main_commands() -> None:
    commands = {command.split()[0] for command in re.findall(r"(?m)^\$ coldspell (.*)$", TUTORIAL)}
    assert commands >= {"recipe", "count", "cold", "germination"}
    assert {name for name, _ in FILES} == {"fridge.csv", "counts.csv"}


@pytest.mark.parametrize("command", EXAMPLES)
def test_the_options_of_examples_in_help_are_options(
    command: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "200")
    for line in EXAMPLES[command]:
        own = re.match(rf"coldspell {command}(?: [a-z]+)?", line)
        assert own, line
        words = [word for word in shlex.split(line)[1:] if word.startswith("--")]
        path = command.split() if command != "count" else shlex.split(line)[1:3]
        assert main([*path, "--help"]) == 0
        said = capsys.readouterr().out.split("Examples:")[0]
        assert [word for word in words if not re.search(rf"{word}\b", said)] == []


def test_known_good_versions_fit_what_is_asked_for() -> None:
    lines = (ROOT / "docs" / "known-good.txt").read_text("utf-8").splitlines()
    known = dict(line.split("==") for line in lines if not line.startswith("#"))
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    groups = project["dependency-groups"]
    asked = [*project["project"]["dependencies"], *groups["engine"], *groups["dev"], *groups["surfaces"]]
    least = {canonicalize_name(Requirement(text).name) for text in project["project"]["dependencies"]}
    assert least <= {*known}  # of what came since, the list of the next release tells
    wanted = [text for text in asked if canonicalize_name(Requirement(text).name) in known]
    for one in (Requirement(text) for text in wanted if isinstance(text, str)):
        if one.marker is None or one.marker.evaluate():
            assert one.specifier.contains(known[canonicalize_name(one.name)]), one
    assert not re.search(r"https?:|@|/", " ".join(line for line in lines if not line.startswith("#")))
