"""Entries in pieces: the same whether made, kept or mended; nothing damaged is ever handed out."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from coldspell.pieces import Pieces, cached_pieces

MADE: Pieces = {
    "whole": {"index": b'{"a":1}', "empty": b""},
    "records": {f"Name {n}": b'{"number":%d}' % n for n in range(30)},
}


class Maker:
    """Makes the pieces and counts how often."""

    def __init__(self) -> None:
        self.count = 0

    def __call__(self) -> Pieces:
        self.count += 1
        return MADE


def plain(pieces: Pieces) -> dict[str, dict[str, bytes]]:
    return {group: dict(members) for group, members in pieces.items()}


def test_kept_pieces_are_those_made(tmp_path: Path) -> None:
    make = Maker()
    assert plain(cached_pieces("k" * 64, "test", make, tmp_path)) == MADE
    kept = cached_pieces("k" * 64, "test", make, tmp_path)
    assert plain(kept) == MADE
    assert list(kept["records"]) == list(MADE["records"])
    assert make.count == 1
    with pytest.raises(KeyError):
        kept["records"]["no such"]
    assert "no such" not in kept["records"]


def test_whatever_byte_is_damaged_no_piece_is_wrong(tmp_path: Path) -> None:
    cached_pieces("k" * 64, "test", Maker(), tmp_path)
    (file,) = tmp_path.iterdir()
    good, rng = file.read_bytes(), random.Random(5)
    mended = 0
    for at in range(len(good)):
        bad = bytearray(good)
        bad[at] ^= rng.randint(1, 255)
        file.write_bytes(bad)
        make = Maker()
        assert plain(cached_pieces("k" * 64, "test", make, tmp_path)) == MADE
        mended += make.count
        if make.count:
            assert file.read_bytes() == good
    assert mended > len(good) * 0.9  # not where the byte parts two lines


def test_wherever_it_is_cut_no_piece_is_wrong(tmp_path: Path) -> None:
    cached_pieces("k" * 64, "test", Maker(), tmp_path)
    (file,) = tmp_path.iterdir()
    good = file.read_bytes()
    for length in range(0, len(good), 7):
        file.write_bytes(good[:length])
        assert plain(cached_pieces("k" * 64, "test", Maker(), tmp_path)) == MADE


def test_pieces_outlive_their_file(tmp_path: Path) -> None:
    make = Maker()
    cached_pieces("k" * 64, "test", make, tmp_path)
    kept = cached_pieces("k" * 64, "test", make, tmp_path)
    (file,) = tmp_path.iterdir()
    file.unlink()
    assert plain(kept) == MADE
    kept = cached_pieces("k" * 64, "test", make, tmp_path)
    (file,) = tmp_path.iterdir()
    file.write_bytes(b"")  # cut off while it is open
    assert plain(kept) == MADE


def test_without_a_place_to_keep_them_they_are_made_once(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLDSPELL_CACHE", "off")
    make = Maker()
    pieces = cached_pieces("k" * 64, "test", make)
    assert plain(pieces) == plain(pieces) == MADE
    assert make.count == 1
