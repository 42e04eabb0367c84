"""A file is put in its place whole, or not at all."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from coldspell.placed import put
from coldspell.season.files.whole import WholeFile


def test_what_was_there_is_replaced_with_its_mode_and_through_its_link(tmp_path: Path) -> None:
    file, link = tmp_path / "a.txt", tmp_path / "b.txt"
    file.write_bytes(b"old")
    file.chmod(0o640)
    link.symlink_to(file)
    put(link, [b"n", b"ew"])
    assert (file.read_bytes(), file.stat().st_mode & 0o777, link.is_symlink()) == (b"new", 0o640, True)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["a.txt", "b.txt"]


def test_a_new_file_has_the_mode_of_the_user_and_replaces_none(tmp_path: Path) -> None:
    before = os.umask(0o027)
    try:
        put(tmp_path / "a.txt", b"one", new=True)
    finally:
        os.umask(before)
    assert (tmp_path / "a.txt").stat().st_mode & 0o777 == 0o640
    with pytest.raises(FileExistsError):
        put(tmp_path / "a.txt", b"two", new=True)
    assert [(path.name, path.read_bytes()) for path in tmp_path.iterdir()] == [("a.txt", b"one")]


def test_one_that_was_made_meanwhile_is_not_replaced(tmp_path: Path) -> None:
    def slow() -> Iterator[bytes]:
        yield b"mine"
        (tmp_path / "a.txt").write_bytes(b"theirs")

    with pytest.raises(FileExistsError):
        put(tmp_path / "a.txt", slow(), new=True)
    assert [(path.name, path.read_bytes()) for path in tmp_path.iterdir()] == [("a.txt", b"theirs")]


def test_nothing_is_left_where_it_cannot_be_made(tmp_path: Path) -> None:
    def torn() -> Iterator[bytes]:
        yield b"half"
        raise OSError(28, "No space left on device")

    (tmp_path / "a.txt").write_bytes(b"old")
    with pytest.raises(OSError, match="No space"):
        put(tmp_path / "a.txt", torn())
    assert [(path.name, path.read_bytes()) for path in tmp_path.iterdir()] == [("a.txt", b"old")]


def test_a_file_that_grows_has_no_name_until_it_is_whole(tmp_path: Path) -> None:
    """So that nothing is left of it, whatever ends the program."""
    with WholeFile(tmp_path / "out.csv") as file:
        file.write("a,b\n" * 100_000)
        assert list(tmp_path.iterdir()) == [] or sys.platform == "win32"
    assert (tmp_path / "out.csv").read_bytes() == b"a,b\n" * 100_000


def test_a_program_that_is_killed_while_a_file_grows_leaves_none(tmp_path: Path) -> None:
    code = (
        "import os, sys; from pathlib import Path; from coldspell.season.files.whole import WholeFile;"
        "file = WholeFile(Path(sys.argv[1]) / 'out.csv'); file.write('a' * 1_000_000); os._exit(9)"
    )
    assert subprocess.run([sys.executable, "-c", code, str(tmp_path)]).returncode == 9
    assert list(tmp_path.iterdir()) == []
