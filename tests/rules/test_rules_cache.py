"""A warm start parses no YAML; a broken, foreign or unwritable cache costs time and nothing else."""

from __future__ import annotations

import os
import shutil
import stat
import subprocess
import sys
from pathlib import Path

import pytest
from rules_lots import GOOD

from coldspell.cachefile import cache_dir, cached, content_key
from coldspell.errors import ColdspellError
from coldspell.rules import load_rules

PROGRAM = (
    "import sys, pathlib; from coldspell.rules import load_rules, best_engine; "
    "load_rules([pathlib.Path(sys.argv[1])]); "
    "print(sorted({m.split('.')[0] for m in sys.modules} & {'ruamel', '_ruamel_yaml', 'rich', 'typer'}))"
)


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
def test_a_broken_entry_is_built_anew(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, damage: bytes | None
) -> None:
    monkeypatch.setenv("COLDSPELL_CACHE", str(tmp_path))
    book = load_rules([GOOD])
    (entry,) = tmp_path.glob("rules-*.json")
    entry.write_bytes(entry.read_bytes()[:-20] if damage is None else damage)
    assert load_rules([GOOD]) == book


def test_an_entry_of_another_form_is_built_anew(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLDSPELL_CACHE", str(tmp_path))
    book = load_rules([GOOD])
    (entry,) = tmp_path.glob("rules-*.json")
    key = entry.stem.removeprefix("rules-")
    entry.unlink()
    cached(key, "rules", lambda: b'{"facts": 3}')
    assert load_rules([GOOD]) == book


def test_a_changed_file_is_seen(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLDSPELL_CACHE", str(tmp_path / "cache"))
    rules = shutil.copytree(GOOD, tmp_path / "rules")
    load_rules([rules])
    path = rules / "minds.yaml"
    path.write_text(path.read_text().replace("Mice eat it.", "Squirrels do."))
    assert load_rules([rules]).rule("minds", "large seed draws mice").because == "Squirrels do."
    path.write_text(path.read_text().replace("size: large", "size: largo"))
    with pytest.raises(ColdspellError, match="size is never 'largo'"):
        load_rules([rules])


def test_unknown_sources_are_found_on_a_warm_start(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLDSPELL_CACHE", str(tmp_path))
    load_rules([GOOD])
    load_rules([GOOD], {"handbook", "tables"})
    with pytest.raises(ColdspellError, match="'handbook', which is not in the bibliography"):
        load_rules([GOOD], {"tables"})


@pytest.mark.skipif(os.name == "nt" or os.geteuid() == 0, reason="root and Windows ignore the mode")
def test_an_unwritable_cache_is_done_without(tmp_path: Path) -> None:
    tmp_path.chmod(stat.S_IRUSR | stat.S_IXUSR)
    assert "ruamel" in run(GOOD, tmp_path / "cache")


def test_a_cache_that_is_a_file_or_off_is_done_without(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("not a directory")
    assert "ruamel" in run(GOOD, tmp_path / "file")
    assert "ruamel" in run(GOOD, "off")
    assert sorted(p.name for p in tmp_path.iterdir()) == ["file"]


def test_where_the_cache_lies(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """XDG Base Directory Specification 0.8: a relative path is to be ignored."""
    monkeypatch.delenv("COLDSPELL_CACHE", raising=False)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    assert cache_dir() == tmp_path / "coldspell"
    monkeypatch.setenv("XDG_CACHE_HOME", "somewhere")
    monkeypatch.setenv("HOME", str(tmp_path / "home"))
    assert cache_dir() == tmp_path / "home" / ".cache" / "coldspell"


def test_parts_of_a_key_do_not_run_together() -> None:
    assert content_key("ab", "c") != content_key("a", "bc")
    assert content_key("a", "b") == content_key(["a", b"b"])


def test_old_entries_are_cleared(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLDSPELL_CACHE", str(tmp_path))
    for number in range(40):
        assert cached(content_key(str(number)), "rules", lambda: b"x") == b"x"
    cached(content_key("other"), "library", lambda: b"y")
    assert len(list(tmp_path.glob("rules-*.json"))) == 16
    assert len(list(tmp_path.iterdir())) == 17


def test_what_build_raises_comes_out_and_nothing_is_kept(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLDSPELL_CACHE", str(tmp_path))

    def build() -> bytes:
        raise ColdspellError("no")

    with pytest.raises(ColdspellError):
        cached("k" * 64, "rules", build)
    assert list(tmp_path.iterdir()) == []
