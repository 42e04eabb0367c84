"""What is handed in wrong, or in an unusual way: pipes, marks of editors, half characters, full disks."""

from __future__ import annotations

import errno
import io
import json
import os
import sys
import threading
from pathlib import Path
from typing import Any

import pytest

from coldspell.cli.main import main
from coldspell.library import built
from coldspell.library.load import load_library, shipped_dirs
from coldspell.library.names import look_up
from coldspell.season.files.whole import WholeFile

DAY = ("--today", "2026-10-12", "--no-settings")
SAID = pytest.mark.parametrize(
    "said", [b"seeds: 3\n", b'{"seeds": 3}', b"{seeds: 3}", b"\xef\xbb\xbfseeds: 3\r\n"]
)


def piped(monkeypatch: pytest.MonkeyPatch, data: bytes) -> None:
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(data), "utf-8"))


def fifo(path: Path, data: bytes) -> str:
    """A pipe with a name, as the shell makes one for ``<(command)``; somebody writes into it."""
    os.mkfifo(path)
    threading.Thread(target=path.write_bytes, args=(data,), daemon=True).start()
    return str(path)


@SAID
def test_a_lot_is_piped_in(
    said: bytes, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    piped(monkeypatch, said)
    assert main(["recipe", "apple", "--lot", "-", *DAY]) == 0
    assert " 3 pips" in capsys.readouterr().out


@pytest.mark.skipif(sys.platform == "win32", reason="no pipes with names there")
@SAID
def test_a_lot_comes_from_a_named_pipe(
    said: bytes, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["recipe", "apple", "--lot", fifo(tmp_path / "63", said), *DAY]) == 0
    assert " 3 pips" in capsys.readouterr().out


@pytest.mark.skipif(sys.platform == "win32", reason="no pipes with names there")
def test_a_table_comes_from_a_named_pipe(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["recipe", "--lots", fifo(tmp_path / "63", b"name,seeds\napple,3\n"), *DAY]) == 0
    assert json.loads(capsys.readouterr().out)["recipe"]["lot"]["said"]["seeds"] == 3


def test_half_of_a_character_refuses_its_row_alone(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    table = tmp_path / "lots.jsonl"
    table.write_text(
        '{"name": "apple", "note": "\\ud800"}\n{"name": "apple", "\\udfff": 1}\n{"name": "apple"}\n'
    )
    assert main(["recipe", "--lots", str(table), *DAY]) == 1
    lines = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    assert ["half of a character" in json.dumps(line.get("errors", "")) for line in lines] == [
        True,
        True,
        False,
    ]


def test_a_table_without_rows_says_so(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "lots.csv").write_text("name,seeds\n")
    assert main(["recipe", "--lots", str(tmp_path / "lots.csv"), *DAY]) == 0
    assert "no rows below its headings" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"name,seeds," + b"c," * 60_000 + b"\napple,3\n", "longer than 100000 characters"),
        ("name,seeds\nérable,3\n".encode("latin-1"), "here or further down it is not UTF-8"),
        (b"name,seeds\nap\0ple,3\n", "not a text table"),
    ],
)
def test_what_is_wrong_with_a_table_is_said_plainly(
    data: bytes, says: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "lots.csv").write_bytes(data)
    assert main(["recipe", "--lots", str(tmp_path / "lots.csv"), *DAY]) == 2
    assert says in capsys.readouterr().err


def test_what_is_too_deep_is_said_so(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "lot.json").write_text("[" * 20_000)
    assert main(["recipe", "apple", "--lot", str(tmp_path / "lot.json"), *DAY]) == 2
    assert "too deeply nested" in capsys.readouterr().err


def test_settings_that_are_a_folder_are_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("COLDSPELL_SETTINGS", str(tmp_path))
    assert main(["recipe", "apple", "--today", "2026-10-12"]) == 2
    assert "not a file" in capsys.readouterr().err


@pytest.mark.parametrize("fact", ["--sow", "--collected", "--last-frost", "--sown"])
def test_a_day_twenty_years_ahead_is_a_slip(fact: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["recipe", "apple", fact, "2126-04-15", *DAY]) == 2
    said = capsys.readouterr().err
    assert "100 years after today" in said
    assert "as in 2027-04-15" in said
    if fact not in ("--collected", "--sown"):  # nothing is gathered so far ahead, nor was sown after today
        assert main(["recipe", "apple", fact, "2046-04-15", *DAY]) == 0


def test_what_was_sown_was_sown_before_today(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["recipe", "rowan", "--sown", "2027-02-01", "--today", "2026-12-01"]) == 2
    said = capsys.readouterr().err
    assert "--sown is 2027-02-01, after today" in said
    assert "write 2026-02-01 if it was sown then" in said
    assert main(["recipe", "rowan", "--sown", "2026-02-01", "--today", "2026-12-01"]) == 0


@pytest.mark.parametrize("text", ["(.*", "???", " "])
def test_nothing_is_found_by_signs_alone(text: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["species", "find", text]) == 2
    assert "nothing to look for" in capsys.readouterr().err


def test_nothing_is_left_of_a_file_that_a_full_disk_does_not_take(tmp_path: Path) -> None:
    """Closing writes what is still in the buffer, and fails as the writing did."""

    class Full(io.BytesIO):
        def close(self) -> None:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    file = WholeFile(tmp_path / "out.csv")
    file.stream.close()
    file.stream = Full()
    file.discard()
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("name", ["zzz", "cherry", "nothern red oka", "Q. robur", "Zelkova unknownii"])
def test_a_name_is_looked_up_without_reading_the_whole_index(
    name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A table of misspelt names takes seconds, not minutes: what stands under a name is read when it fits."""
    library = load_library(shipped_dirs())
    read: list[str] = []
    own = built.Decoded.__getitem__

    def counted(index: Any, key: str) -> Any:
        read.append(key)
        return own(index, key)

    monkeypatch.setattr(built.Decoded, "__getitem__", counted)
    look_up(library, name)
    assert len(read) < len(library.index) / 20


def test_a_folder_of_everything_is_no_folder_of_rules(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for number in range(501):
        (tmp_path / f"{number}.yaml").write_text("a: b\n")
    assert main(["recipe", "apple", "--rules", str(tmp_path), *DAY]) == 2
    assert "more than 500 YAML files" in capsys.readouterr().err
