"""The folder of an office (invented): notes by kind and place, pictures, tally; faults with their place."""

from __future__ import annotations

import json
import struct
import zlib
from datetime import date
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator
from ruamel.yaml import YAML

from coldspell.api import Library
from coldspell.cli.main import main
from coldspell.errors import ColdspellError
from coldspell.office.schema import office_schema
from coldspell.office.tally import count
from coldspell.views.law import law_lines

OFFICE = """\
name: Seed advice, Exampleshire
telephone: 01 234 56
logo: logo.png
notes:
  - kind: sweet chestnut
    place: Exampleshire
    about: moving
    says: Chestnut seed leaves the blight district only with the wardens' paper.
    who: Plant health office of Exampleshire
    checked: 2026-10-01
photographs:
  - {kind: Quercus, file: logo.png, shows: Sound acorns, by: E. Example, licence: CC BY 4.0}
"""
NOTES = """\
kind,place,about,says,who,checked
Castanea,Exampleshire,collecting,"No seed is gathered in the woods, but by permit.",Wardens,2023-05-01
all,Exampleshire,border,Seed sent abroad needs papers.,Plant health office,2026-10-01
"""
TODAY = date(2026, 11, 30)


def png(width: int = 30, height: int = 20) -> bytes:
    """A plain picture (W3C PNG, 3rd edition)."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        crc = struct.pack(">I", zlib.crc32(kind + data))
        return struct.pack(">I", len(data)) + kind + data + crc

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    rows = zlib.compress((b"\0" + b"\x20\x80\x20" * width) * height)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", rows) + chunk(b"IEND", b"")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "office.yaml").write_text(OFFICE, "utf-8")
    (tmp_path / "notes.csv").write_text(NOTES, "utf-8")
    (tmp_path / "logo.png").write_bytes(png())
    return tmp_path


def lines(folder: Path, name: str, **said: str) -> list[str]:
    lib = Library(office=folder)
    found = lib.recipe(name, today=TODAY, **said)  # type: ignore[arg-type]
    return [text for text, _ in law_lines(found, lib.texts)]


def test_notes_stand_by_kind_genus_and_all(folder: Path) -> None:
    chestnut, apple = " ".join(lines(folder, "Castanea sativa")), " ".join(lines(folder, "apple"))
    assert "wardens' paper (Plant health office of Exampleshire, seen 2026-10-01)" in chestnut
    assert "but by permit" in chestnut
    assert "needs papers" in chestnut
    assert "needs papers" in apple
    assert "permit" not in apple


def test_an_old_note_says_so(folder: Path) -> None:
    old = next(line for line in lines(folder, "Castanea sativa") if "permit" in line)
    new = next(line for line in lines(folder, "Castanea sativa") if "wardens' paper" in line)
    assert "more than two years old" in old
    assert "years old" not in new


def test_a_lot_elsewhere_has_none_of_them(folder: Path) -> None:
    assert "Exampleshire" not in " ".join(lines(folder, "Castanea sativa", place="Elsewhere"))
    assert "Exampleshire" in " ".join(lines(folder, "Castanea sativa", place="North Exampleshire"))


def test_a_kind_without_a_record_has_the_note_of_its_genus(folder: Path) -> None:
    assert "but by permit" in " ".join(lines(folder, "Castanea nova Auct."))


def test_without_the_folder_the_recipe_is_as_it_was(folder: Path) -> None:
    plain = Library().recipe("Castanea sativa", today=TODAY)
    own = Library(office=folder).recipe("Castanea sativa", today=TODAY)
    assert [n for n in own.law if not n.local] == list(plain.law)
    assert not any(n.local for n in plain.law)


FAULTS = [
    ("office.yaml", OFFICE.replace("telephone", "telefone"), "2", "telephone"),
    ("office.yaml", OFFICE.replace("about: moving", "about: weeds"), "7", "one of: growing"),
    ("office.yaml", OFFICE.replace("    who: Plant health office of Exampleshire\n", ""), "5", "who"),
    ("office.yaml", OFFICE.replace("2026-10-01", "last year"), "10", "2026-11-30"),
    ("office.yaml", OFFICE.replace("sweet chestnut", "sweet chestnutt tree"), "5", "type"),
    ("office.yaml", OFFICE.replace("logo: logo.png", "logo: ../logo.png"), "3", "into the folder"),
    ("office.yaml", OFFICE.replace(", licence: CC BY 4.0", ""), "12", "licence"),
    ("notes.csv", NOTES.replace("kind,place", "plant,place"), "1", "kind,place,about,says,who,checked"),
    (
        "notes.csv",
        NOTES.replace('"No seed is gathered in the woods, but by permit."', "No, seed"),
        "2",
        "comma",
    ),
]


@pytest.mark.parametrize(("file", "text", "line", "mend"), FAULTS)
def test_a_fault_is_told_with_its_place(
    folder: Path, file: str, text: str, line: str, mend: str, capsys: pytest.CaptureFixture[str]
) -> None:
    (folder / file).write_text(text, "utf-8")
    with pytest.raises(ColdspellError) as raised:
        Library(office=folder).recipe("apple", today=TODAY)
    assert f"{file}:{line}" in str(raised.value)
    assert mend in str(raised.value)
    assert main(["recipe", "apple", "--office", str(folder)]) == 2
    assert capsys.readouterr().out == ""


def test_no_folder_is_an_error(tmp_path: Path) -> None:
    with pytest.raises(ColdspellError, match="no such folder"):
        Library(office=tmp_path / "nowhere").recipe("apple", today=TODAY)


def test_the_example_of_the_docs_is_as_the_schema_says() -> None:
    page = Path("docs/office.md").read_text("utf-8").split("# office.yaml\n")[1].split("\n\n")[0]
    for text in (page.replace("\n    ", "\n").removeprefix("    "), OFFICE):
        found = json.loads(json.dumps(YAML(typ="safe").load(text), default=str))
        assert not list(Draft202012Validator(office_schema()).iter_errors(found))


def test_the_tally_holds_day_kind_and_trouble_alone(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with_office = ["--office", str(folder), "--today", "2026-11-30", "--tally"]
    assert main(["recipe", "apple", "--seeds", "15", "--place", "Exampleshire", *with_office]) == 0
    assert main(["trouble", "red", "oak", "--what", "mould", *with_office]) in (0, 2)
    assert main(["trouble", "northern", "red", "oak", "--what", "mould", *with_office]) == 0
    assert main(["trouble", "--what", "smell", *with_office]) == 0
    capsys.readouterr()
    rows = (folder / "tally.csv").read_text("utf-8").splitlines()
    assert rows[0] == "date,kind,trouble"
    assert rows[1] == '2026-11-30,"Malus × domestica",'
    assert '2026-11-30,"Quercus rubra",mould' in rows
    assert rows[-1] == '2026-11-30,"",smell'


def test_nothing_is_counted_unasked(folder: Path) -> None:
    assert main(["recipe", "apple", "--office", str(folder)]) == 0
    assert not (folder / "tally.csv").exists()
    assert main(["recipe", "apple", "--tally", "--no-settings"]) == 2


@pytest.mark.parametrize("command", [["recipe", "apple"], ["trial", "apple"], ["recipe", "apple", "--ask"]])
def test_a_tally_that_is_refused_leaves_no_answer_behind(
    command: list[str], folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """An answer and a refusal in one would be taken for the one or the other."""
    assert main([*command, "--today", "2026-11-30", "--tally", "--no-settings"]) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert "nothing says where to count" in told.err


def test_a_tally_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    (tmp_path / "tally.csv").mkdir()
    with pytest.raises(ColdspellError, match="cannot be written"):
        count(tmp_path, TODAY, "Malus")


@pytest.mark.parametrize("kind", ["pdf", "html"])
def test_the_sheet_has_telephone_logo_and_photograph(folder: Path, kind: str, tmp_path: Path) -> None:
    for module in ("typst", "segno", "jinja2"):
        pytest.importorskip(module, reason="type: uv run --all-groups pytest (the group surfaces)")
    out = tmp_path / f"oak.{kind}"
    assert (
        main(["sheet", "northern", "red", "oak", "--office", str(folder), "-o", str(out), "--no-settings"])
        == 0
    )
    if kind == "html":
        text = out.read_text("utf-8")
        assert "01 234 56" in text
        assert "Sound acorns (E. Example, CC BY 4.0)" in text
        assert text.count("data:image/png;base64,") == 2
        assert "img-src data:" in text
    else:
        plain = tmp_path / "plain.pdf"
        assert main(["sheet", "northern", "red", "oak", "-o", str(plain), "--no-settings"]) == 0
        assert out.stat().st_size > plain.stat().st_size


def test_a_picture_that_is_none_is_refused(folder: Path) -> None:
    pytest.importorskip("typst", reason="type: uv run --all-groups pytest (the group surfaces)")
    (folder / "logo.png").write_bytes(b"no picture")
    assert main(["sheet", "apple", "--office", str(folder), "-o", str(folder / "a.pdf")]) == 2
    assert not (folder / "a.pdf").exists()


def test_a_message_has_the_local_note_and_is_signed(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The office answers for its own place, whether the caller said one or not."""
    typed = ["recipe", "sweet chestnut", "--as", "message", "--office", str(folder)]
    assert main([*typed, "--today", "2026-11-30", "--no-settings"]) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert "only with the wardens' paper" in told
    assert told.endswith("Seed advice, Exampleshire, 01 234 56")


@pytest.mark.parametrize(
    ("noted", "said", "told"),
    [
        ("Ohio, USA", "Oregon, USA", False),  # two states of one country
        ("Ohio, USA", "Ohio", True),
        ("Germany", "Bavaria, Germany", True),
        ("European Union", "Ireland", True),
    ],
)
def test_a_note_is_for_the_place_that_notes_on_law_are_for(
    folder: Path, noted: str, said: str, told: bool
) -> None:
    (folder / "office.yaml").write_text(OFFICE.replace("place: Exampleshire", f"place: {noted}", 1), "utf-8")
    assert ("wardens' paper" in " ".join(lines(folder, "Castanea sativa", place=said))) is told
