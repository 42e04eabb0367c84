"""The tutorial's commands run, and print what it shows; the known-good versions fit what is asked for."""

from __future__ import annotations

import re
import shlex
import tomllib
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from coldspell.cli.main import main
from coldspell.cli.program import EXAMPLES

ROOT = Path(__file__).parents[2]
TUTORIAL = (ROOT / "docs" / "tutorial.md").read_text("utf-8")
BLOCKS = re.findall(r"```console\n\$ (coldspell [^\n]*)\n(.*?)```", TUTORIAL, re.DOTALL)
FILES = re.findall(r"`(\w+\.csv)`:\n\n```csv\n(.*?)```", TUTORIAL, re.DOTALL)


@pytest.fixture
def garden(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    for name, text in FILES:
        (tmp_path / name).write_text(text, "utf-8")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COLUMNS", "80")
    return tmp_path


@pytest.mark.usefixtures("garden")
@pytest.mark.parametrize(("command", "shown"), BLOCKS)
def test_a_command_prints_what_is_shown(command: str, shown: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(shlex.split(command)[1:]) == 0
    printed = [line.rstrip() for line in capsys.readouterr().out.splitlines()]
    at = 0
    for part in re.split(r"(?m)^…\n", shown):
        lines = part.splitlines()
        starts = [i for i in range(at, len(printed)) if printed[i : i + len(lines)] == lines]
        assert starts, f"not printed:\n{part}\nbut:\n" + "\n".join(printed[at:])
        at = starts[0] + len(lines)


def test_the_tutorial_shows_the_main_commands() -> None:
    commands = {command.split()[1] for command, _ in BLOCKS}
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
