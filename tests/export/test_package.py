"""``species export``: the folder against the Data Package standard (frictionless reads it) and Darwin Core.

The terms are those of tests/data/external/darwin-core-terms.csv (TDWG standard 450).
"""

from __future__ import annotations

import csv
import io
import json
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner

from coldspell.cli.species import app
from coldspell.errors import ColdspellError
from coldspell.export import package
from coldspell.export.columns import DCTERMS, DWC, GBIF
from coldspell.export.package import files, tables, write_folder
from coldspell.library.library import Library
from coldspell.library.load import load_library, shipped_dirs

pytestmark = pytest.mark.long

TERMS = Path(__file__).parents[1] / "data" / "external" / "darwin-core-terms.csv"
RECORDS = Path(__file__).parents[1] / "records"
VERNACULAR_PREFERRED = "http://rs.gbif.org/terms/1.0/isPreferredName"
"""Of the extension for vernacular names that GBIF keeps beside Darwin Core."""
OF_DUBLIN_CORE = {"identifier", "title", "language", "bibliographicCitation", "references"}
"""Terms of Dublin Core (ISO 15836-2) that columns use; Darwin Core takes over the last three."""


@pytest.fixture(scope="module")
def library() -> Library:
    return load_library(shipped_dirs())


@pytest.fixture(scope="module")
def contents(library: Library) -> dict[str, bytes]:
    return files(library, "1.2.3", shipped=True)


def rows(contents: dict[str, bytes], name: str) -> Iterator[dict[str, str]]:
    yield from csv.DictReader(io.StringIO(contents[name].decode("utf-8"), newline=""))


def validated(folder: Path) -> Any:
    reason = "type: uv run --all-groups pytest (the group surfaces)"
    frictionless = pytest.importorskip("frictionless", reason=reason)
    return frictionless.validate(str(folder / "datapackage.json"))


def test_another_reader_finds_the_package_sound(contents: dict[str, bytes], tmp_path: Path) -> None:
    """frictionless checks descriptor, types, words, keys, references, sizes and hashes of every row."""
    write_folder(tmp_path / "tables", contents)
    report = validated(tmp_path / "tables")
    assert report.valid, report.flatten(["type", "note"])[:5]
    assert {task.place for task in report.tasks} == set(contents) - {"datapackage.json"}


@pytest.mark.parametrize(
    ("file", "old", "new", "kind"),
    [
        ("steps.csv", ",cold_moist,", ",cold_moisst,", "constraint-error"),
        ("taxa.csv", "\nabies-alba,accepted,abies-alba,", "\nabies-alba,accepted,abies-albb,", "foreign-key"),
        ("facts.csv", "4 to 6,mm,4,", "4 to 6,mm,four,", "type-error"),
    ],
)
def test_the_other_reader_would_see_a_fault(
    contents: dict[str, bytes], tmp_path: Path, file: str, old: str, new: str, kind: str
) -> None:
    changed = contents[file].replace(old.encode(), new.encode(), 1)
    assert changed != contents[file]
    write_folder(tmp_path / "tables", {**contents, file: changed})
    report = validated(tmp_path / "tables")
    assert kind in {found for (found,) in report.flatten(["type"])}


def test_terms_are_those_of_the_standards(library: Library) -> None:
    with TERMS.open(encoding="utf-8") as file:
        lines = (line for line in file if not line.startswith("#"))
        known = {(row["term"], row["address"]) for row in csv.DictReader(lines)}
    used = [one for table in tables(library) for one in table.columns if one.term]
    assert len(used) > 30
    for one in used:
        if one.term.startswith(DWC):
            assert (one.name, one.term) in known
        elif one.term.startswith(GBIF):
            assert one.term == VERNACULAR_PREFERRED
        else:
            assert one.term.removeprefix(DCTERMS) in OF_DUBLIN_CORE
    names = {one.name for one in used if one.term.startswith(DWC)}
    assert {"scientificName", "acceptedNameUsageID", "vernacularName", "measurementValue"} <= names


def test_nothing_of_a_record_is_lost(library: Library, contents: dict[str, bytes]) -> None:
    """Days, degrees and percents of all treatments, read back from the tables, are those of the records."""
    ours = sorted(
        (one.name, step.do, step.days.low, step.days.high)
        for record in map(library.get, library.names)
        for one in record.treatments
        for step in one.steps
        if step.days
    )
    read = sorted(
        (row["treatment"], row["do"], float(row["days_low"]), float(row["days_high"]))
        for row in rows(contents, "steps.csv")
        if row["days_low"]
    )
    assert read == ours
    records = list(map(library.get, library.names))
    assert sum(1 for _ in rows(contents, "footnotes.csv")) == sum(len(one.cites) for one in records)
    assert sum(1 for _ in rows(contents, "hazards.csv")) == sum(len(one.hazards) for one in records)
    assert sum(1 for _ in rows(contents, "treatments.csv")) == sum(len(one.treatments) for one in records)
    assert sum(row["taxonomicStatus"] == "synonym" for row in rows(contents, "taxa.csv")) == sum(
        len(set(one.synonyms)) for one in records
    )


def test_common_names_stand_as_in_the_record_the_usual_one_first(
    library: Library, contents: dict[str, bytes]
) -> None:
    found = [row for row in rows(contents, "vernacular-names.csv") if row["taxonID"] == "quercus-rubra"]
    names = library.get("Quercus rubra").common_names
    assert [(row["language"], row["vernacularName"]) for row in found] == [
        (language, name) for language, ones in names.items() for name in ones
    ]
    usual = {row["language"]: row["vernacularName"] for row in found if row["isPreferredName"] == "true"}
    assert usual == {language: ones[0] for language, ones in names.items()}


def test_every_cited_footnote_is_there(contents: dict[str, bytes]) -> None:
    known = {(row["taxonID"], row["footnote"]) for row in rows(contents, "footnotes.csv")}
    cited = {
        (row["taxonID"], note)
        for name in contents
        if name.endswith(".csv")
        for row in rows(contents, name)
        for key in ("footnotes", "hold_footnotes")
        for note in (row.get(key) or "").split()
    }
    assert len(cited) > 5_000
    assert cited <= known


def test_names_are_taken_apart_by_the_code(contents: dict[str, bytes]) -> None:
    """Parts of names as the terms of Darwin Core define them; expected by hand from the botanical names."""
    found = {row["taxonID"]: row for row in rows(contents, "taxa.csv")}
    parts = ("genus", "genericName", "specificEpithet", "infraspecificEpithet", "taxonRank")
    said = {name: tuple(found[name][part] for part in parts) for name in found}
    assert said["quercus-rubra"] == ("Quercus", "Quercus", "rubra", "", "species")
    assert said["malus-x-domestica"][2] in ("×domestica", "domestica")
    assert said["quercus"] == ("Quercus", "Quercus", "", "", "genus")
    assert said["prunus-domestica-subsp-insititia"] == (
        "Prunus",
        "Prunus",
        "domestica",
        "insititia",
        "subspecies",
    )


def test_the_same_library_gives_the_same_bytes(library: Library, contents: dict[str, bytes]) -> None:
    assert files(library, "1.2.3", shipped=True) == contents


def test_a_library_of_ones_own_is_in_and_states_no_licence(tmp_path: Path) -> None:
    own = tmp_path / "own"
    shutil.copytree(RECORDS / "good" / "full", own / "exemplum")
    shutil.copy(RECORDS / "bibliography.yaml", own)
    target = tmp_path / "tables"
    result = CliRunner().invoke(app, ["export", str(target), "--library", str(own)])
    assert result.exit_code == 0, result.exception
    assert "exemplum-arboreum" in (target / "taxa.csv").read_text("utf-8")
    assert "licenses" not in json.loads((target / "datapackage.json").read_text("utf-8"))


def test_a_folder_that_is_there_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "kept").write_text("mine")
    with pytest.raises(ColdspellError, match="there already"):
        write_folder(tmp_path, {"taxa.csv": b""})
    assert [one.name for one in tmp_path.iterdir()] == ["kept"]


@pytest.mark.parametrize("where", ["no-such-folder/tables", "file/tables"])
def test_a_place_that_cannot_be_written_is_one_clear_error(tmp_path: Path, where: str) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(ColdspellError, match="cannot be written") as error:
        write_folder(tmp_path / where, {"taxa.csv": b""})
    assert error.value.mend


def test_a_full_disk_leaves_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(package.os, "fsync", full)
    with pytest.raises(ColdspellError, match="No space left"):
        write_folder(tmp_path / "tables", {"taxa.csv": b"a", "facts.csv": b"b"})
    assert list(tmp_path.iterdir()) == []
