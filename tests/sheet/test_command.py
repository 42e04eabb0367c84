"""``coldspell sheet``: the file is there whole or not at all, for one lot or for a table of them."""

from __future__ import annotations

from pathlib import Path

import pytest

from coldspell.cli.main import main

WHY = "type: uv run --all-groups pytest (the group surfaces)"
pytest.importorskip("typst", reason=WHY)
pytest.importorskip("segno", reason=WHY)
pytest.importorskip("jinja2", reason=WHY)

LOT = [
    "northern red oak",
    "--seeds",
    "40",
    "--moisture",
    "fresh",
    "--today",
    "2026-10-12",
    "--sow",
    "2027-04-15",
]


@pytest.mark.parametrize(
    ("suffix", "start"), [("pdf", b"%PDF-1."), ("png", b"\x89PNG"), ("html", b"<!doctype html>")]
)
def test_the_suffix_says_what_is_written(tmp_path: Path, suffix: str, start: bytes) -> None:
    path = tmp_path / f"sheet.{suffix}"
    assert main(["sheet", *LOT, "-o", str(path)]) == 0
    assert path.read_bytes().startswith(start)
    assert [one.name for one in tmp_path.iterdir()] == [path.name]


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["northern red oak"], "-o FILE"),
        (["northern red oak", "-o", "sheet.doc"], "pdf, png, html"),
        (["norther red oka", "-o", "sheet.pdf"], "no record"),
        (["northern red oak", "--seeds", "no", "-o", "sheet.pdf"], "seeds"),
        (["northern red oak", "--paper", "a3", "-o", "sheet.pdf"], "a4, letter"),
        (["northern red oak", "-o", "missing/sheet.pdf"], "cannot be written"),
        (["-o", "sheet.pdf"], "which plant"),
        (["northern red oak", "--lots", "lots.csv", "-o", "folder"], "--lots"),
    ],
)
def test_wrong_use_writes_nothing(
    tmp_path: Path,
    arguments: list[str],
    told: str,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "sheet.pdf").write_bytes(b"older")
    assert main(["sheet", *arguments]) == 2
    assert told in capsys.readouterr().err
    assert [one.name for one in tmp_path.iterdir()] == ["sheet.pdf"]
    assert (tmp_path / "sheet.pdf").read_bytes() == b"older"


def test_a_table_gives_a_sheet_for_each_row(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    table = tmp_path / "lots.csv"
    rows = ["A/1,apple,15,dried", ",northern red oak,40,fresh", "A/1,mango,4,", "B,no such plant,4,"]
    table.write_text("\n".join(["lot,name,seeds,moisture", *rows]))
    folder = tmp_path / "sheets"
    today = ["--today", "2026-11-30", "--format", "html"]
    assert main(["sheet", "--lots", str(table), "-o", str(folder), *today]) == 1
    assert sorted(one.name for one in folder.iterdir()) == ["a-1-4.html", "a-1.html", "northern-red-oak.html"]
    told = capsys.readouterr()
    assert "3 sheets" in told.out
    assert "row 5" in told.err
    assert "A/1" in (folder / "a-1.html").read_text("utf-8")


def test_settings_sign_the_sheet(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The adviser of the settings, an invented one; without them nobody signs."""
    settings = tmp_path / "settings.yaml"
    settings.write_text(
        'adviser: "A. Mender"\noffice: "Seed counter, 555 0100"\nnote: "Bring the bag."\nunits: us\n'
    )
    monkeypatch.setenv("COLDSPELL_SETTINGS", str(settings))
    signed, plain = tmp_path / "signed.html", tmp_path / "plain.html"
    assert main(["sheet", *LOT, "-o", str(signed)]) == 0
    assert main(["sheet", *LOT, "--no-settings", "-o", str(plain)]) == 0
    for told in ("A. Mender", "Seed counter, 555 0100", "Bring the bag.", " °F"):
        assert told in signed.read_text("utf-8")
        assert told not in plain.read_text("utf-8")


def test_public_leaves_out_what_is_for_trained_people(tmp_path: Path) -> None:
    """The same sheet as without the switch, whatever the lot says."""
    written = {}
    for name, more in {
        "plain": [],
        "both": ["--professional", "--public"],
        "trained": ["--professional"],
    }.items():
        path = tmp_path / f"{name}.html"
        lot = ["Gymnocladus dioicus", "--moisture", "dried", "--today", "2026-11-30", *more]
        assert main(["sheet", *lot, "-o", str(path)]) == 0
        written[name] = path.read_text("utf-8")
    assert written["both"] == written["plain"] != written["trained"]
