"""Loading: what comes out, what is cached, what is refused."""

from __future__ import annotations

import re
from pathlib import Path

import msgspec
import pytest

import coldspell
from coldspell import kept, shipped
from coldspell.errors import ColdspellError, LeftOutWarning
from coldspell.library.compile import compile_library
from coldspell.library.load import load_library

RECORD = """\
name: Exemplum arboreum
family: Exemplaceae
rank: species
plant: broadleaf tree
unit: stone
seed_mm: {length: [7, 9], width: 6, cite: t4}
dormancy: {class: physiological, level: deep, cite: t4}
treatments:
  - {name: cold, steps: [{do: cold_moist, days: [90, 100, 120]}], cite: [t4], when: {stored_years: 2}}
cites: {t4: {basis: practice}}
"""


@pytest.fixture
def library(tmp_path: Path) -> Path:
    folder = tmp_path / "library" / "exemplum"
    folder.mkdir(parents=True)
    (folder / "exemplum-arboreum.yaml").write_text(RECORD)
    return tmp_path / "library"


def test_a_record_comes_out_as_written(library: Path, tmp_path: Path) -> None:
    loaded = load_library([library], cache=tmp_path / "cache")
    record = loaded.get("Exemplum arboreum")
    assert record.path == "exemplum/exemplum-arboreum.yaml"
    assert record.dormancy.class_ == "physiological"
    assert (record.seed_mm.width.low, record.seed_mm.width.high) == (6, 6)
    days = record.treatments[0].steps[0].days
    assert (days.low, days.usual, days.high, days.plan) == (90, 100, 120, 100)
    assert record.treatments[0].when == {"stored_years": 2}


def test_the_cached_library_is_the_same(library: Path, tmp_path: Path) -> None:
    first = load_library([library], cache=tmp_path / "cache")
    assert list((tmp_path / "cache").iterdir())
    second = load_library([library], cache=tmp_path / "cache")
    assert first.digest == second.digest
    assert first.get("Exemplum arboreum") == second.get("Exemplum arboreum")


def test_a_fault_has_its_place(library: Path, tmp_path: Path) -> None:
    file = library / "exemplum" / "exemplum-arboreum.yaml"
    file.write_text(RECORD.replace("level: deep", "level: deeep"))
    sound = RECORD.replace("arboreum", "sanum")
    (library / "exemplum" / "exemplum-sanum.yaml").write_text(sound)
    (library / "exemplum" / "broken.yaml").write_text("name: {\n")
    for _ in ("compiled", "kept"):
        with pytest.warns(LeftOutWarning) as said:
            loaded = load_library([library], cache=tmp_path / "cache")
        assert loaded.names == ("Exemplum sanum",)
        assert set(loaded.left_out) == {"Exemplum arboreum", "exemplum/broken.yaml"}
        text = " ".join(str(one.message) for one in said)
        assert "exemplum-arboreum.yaml:7:41" in text
        assert "Did you mean 'deep'?" in text
        with pytest.raises(ColdspellError, match=r"exemplum-arboreum\.yaml:7:41"):
            loaded.refuse_left_out("exemplum Arboreum")


def test_what_is_left_out_is_answered_by_nothing_else(library: Path, tmp_path: Path) -> None:
    """Neither by the shipped record that it replaces, nor by its genus; all else is."""
    slip = RECORD.replace("Exemplum arboreum", "Quercus rubra").replace("level: deep", "level: deeep")
    (library / "exemplum" / "exemplum-arboreum.yaml").write_text(slip)
    with pytest.warns(LeftOutWarning):
        own = coldspell.Library(library)
    assert own.recipe("black walnut").species.name == "Juglans nigra"
    for name in ("Quercus rubra", "northern red oak"):
        with pytest.raises(ColdspellError, match=r"exemplum-arboreum\.yaml:7:41"):
            own.recipe(name)


def test_an_installed_library_is_taken_as_it_was_built(
    library: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """An installed program trusts its own files; where what was built is damaged it reads the records."""
    before = load_library([library])
    built = tmp_path / "package" / "shipped" / "species.msgpack"
    built.parent.mkdir(parents=True)
    built.write_bytes(msgspec.msgpack.encode(compile_library(library)))
    monkeypatch.setattr(kept, "_PACKAGE", str(tmp_path / "package"))
    monkeypatch.setattr(shipped, "find", lambda kind: library)
    file = library / "exemplum" / "exemplum-arboreum.yaml"
    file.write_text("not: a record\n")
    installed = load_library([library])
    assert installed.digest == before.digest
    assert installed.get("Exemplum arboreum") == before.get("Exemplum arboreum")
    assert installed.file("Exemplum arboreum") == file
    file.write_text(RECORD)
    built.write_bytes(built.read_bytes()[:-9])
    monkeypatch.setattr(kept, "own_code", lambda *rooms: ())
    assert load_library([library]).get("Exemplum arboreum") == before.get("Exemplum arboreum")


def test_faults_of_a_bibliography_have_their_place(library: Path) -> None:
    """Checked by jsonschema, by our part of the CSL data model."""
    file = library / "bibliography.yaml"
    for text, where, what in (
        ("- {id: a-book, type: book, title: A, titel: A book}\n", "1:38", "Did you mean 'title'?"),
        (
            "- {id: a-book, type: book, title: A book}\n- {id: b, type: boook, title: B}\n",
            "2:17",
            "Did you mean 'book'?",
        ),
        ("- {id: a-book, type: book}\n", "1:3", "'title' is a required property"),
        ("id: a-book\n", "1:1", "not of type 'array'"),
    ):
        file.write_text(text)
        with pytest.raises(ColdspellError) as caught:
            load_library([library])
        assert f"bibliography.yaml:{where}: " in str(caught.value)
        assert what in str(caught.value)


def test_faults_of_common_words_have_their_place(library: Path) -> None:
    file = library / "common-words.yaml"
    for text, where in (("Cedar: [Cedrus, Thuja]\n", "1:1"), ("cedar: [Cedrus, thuja]\n", "1:17")):
        file.write_text(text)
        with pytest.raises(ColdspellError, match=rf"common-words\.yaml:{where}: .*does not match"):
            load_library([library])
    file.write_text("cedar: [Cedrus, Thuja]\n")
    assert load_library([library]).words == {"cedar": ["Cedrus", "Thuja"]}


def test_the_editor_hint_of_every_record_leads_to_a_schema() -> None:
    """Offline too: the first line names a file beside the library, from the folder of the genus."""
    root = Path(__file__).parent.parent.parent
    hint = re.compile(r"# yaml-language-server: \$schema=(\S+)$")
    for path in (root / "species").glob("*/*.yaml"):
        with path.open(encoding="utf-8") as file:
            found = hint.match(file.readline().rstrip("\n"))
        assert found is None or (path.parent / found[1]).resolve().is_file(), path
