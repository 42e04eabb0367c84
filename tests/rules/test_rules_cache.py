"""A warm start parses no YAML; a broken, foreign or unwritable cache costs time and nothing else."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from rules_lots import GOOD

from coldspell.errors import ColdspellError
from coldspell.kept import cache_folder, kept
from coldspell.rules import load_rules

PROGRAM = (
    "import sys, pathlib; from coldspell.rules import load_rules, best_engine; "
    "load_rules([pathlib.Path(sys.argv[1])]); "
    "print(sorted({m.split('.')[0] for m in sys.modules} & {'ruamel', '_ruamel_yaml', 'rich', 'typer'}))"
)


@pytest.fixture
def cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("COLDSPELL_CACHE", str(tmp_path / "cache"))
    return tmp_path / "cache"


def run(folder: Path, cache: Path | str) -> str:
    env = {**os.environ, "COLDSPELL_CACHE": str(cache)}
    done = subprocess.run(
        [sys.executable, "-c", PROGRAM, str(folder)], env=env, capture_output=True, text=True, check=True
    )
    return done.stdout.strip()


def test_a_warm_start_parses_nothing(tmp_path: Path) -> None:
    assert "ruamel" in run(GOOD, tmp_path)
    assert run(GOOD, tmp_path) == "[]"


@pytest.mark.parametrize("damage", [b"", b"{}", b"\x00" * 400, None])
def test_a_broken_entry_is_built_anew(cache: Path, damage: bytes | None) -> None:
    book = load_rules([GOOD])
    (entry,) = cache.glob("tables-*")
    entry.write_bytes(entry.read_bytes()[:-20] if damage is None else damage)
    assert load_rules([GOOD]) == book


def test_a_changed_file_is_seen(cache: Path, tmp_path: Path) -> None:
    rules = shutil.copytree(GOOD, tmp_path / "rules")
    load_rules([rules])
    path = rules / "minds.yaml"
    path.write_text(path.read_text().replace("Mice eat it.", "Squirrels do."))
    assert load_rules([rules]).rule("minds", "large seed draws mice").because == "Squirrels do."
    path.write_text(path.read_text().replace("size: large", "size: largo"))
    with pytest.raises(ColdspellError, match="size is never 'largo'"):
        load_rules([rules])


def test_unknown_sources_are_found_on_a_warm_start(cache: Path) -> None:
    load_rules([GOOD])
    load_rules([GOOD], {"handbook", "tables"})
    with pytest.raises(ColdspellError, match="'handbook', which is not in the bibliography"):
        load_rules([GOOD], {"tables"})


def test_a_cache_that_is_a_file_or_off_is_done_without(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("not a directory")
    assert "ruamel" in run(GOOD, tmp_path / "file")
    assert "ruamel" in run(GOOD, "off")
    assert sorted(p.name for p in tmp_path.iterdir()) == ["file"]


@pytest.mark.skipif(sys.platform != "linux", reason="a folder of its own on each platform")
def test_where_the_cache_lies(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """XDG Base Directory Specification 0.8; a relative path is to be ignored."""
    monkeypatch.delenv("COLDSPELL_CACHE", raising=False)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    assert cache_folder() == tmp_path / "coldspell"
    monkeypatch.setenv("XDG_CACHE_HOME", "somewhere")
    monkeypatch.setenv("HOME", str(tmp_path / "home"))
    assert cache_folder() in (None, tmp_path / "home" / ".cache" / "coldspell")


def test_what_build_raises_comes_out_and_nothing_is_kept(cache: Path) -> None:
    def build() -> int:
        raise ColdspellError("no")

    with pytest.raises(ColdspellError):
        kept("rules", [], [], build, int)
    assert not cache.exists()


def test_an_entry_of_another_form_is_built_anew(cache: Path) -> None:
    assert kept("rules", [GOOD], [], lambda: "text", str) == "text"
    assert kept("rules", [GOOD], [], lambda: 3, int) == 3
