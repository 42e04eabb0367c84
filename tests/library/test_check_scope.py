"""What is checked when a part of a library is named: faults between two records, and files that are gone."""

from __future__ import annotations

import os
import shutil
import subprocess
from datetime import date
from pathlib import Path

import pytest
from typer.testing import CliRunner

from coldspell.check.base import Finding
from coldspell.check.scope import check_scope, scopes
from coldspell.check.table import LIBRARY_CHECKS
from coldspell.cli.species import app
from coldspell.yaml import document

ROOT = Path(__file__).parents[2]
RECORDS = ROOT / "tests" / "records"
DAY = date(2026, 11, 30)
RECORD = (RECORDS / "bad" / "near-duplicate" / "record.yaml").read_text("utf-8")


def _found(paths: list[Path], around: list[Path] | None = None) -> list[Finding]:
    (scope,) = scopes(paths)
    return check_scope(scope, around or [], DAY).findings


def _library(folder: Path, **records: str) -> dict[str, Path]:
    """A library of some records: the epithet, and what is changed in the record."""
    shutil.copy(RECORDS / "bibliography.yaml", folder)
    written = {}
    for epithet, changed in records.items():
        old, _, new = changed.partition(" -> ")
        written[epithet] = folder / f"exemplum-{epithet}.yaml"
        written[epithet].write_text(RECORD.replace("arboreum", epithet).replace(old, new) if old else RECORD)
    return written


@pytest.mark.parametrize("epithet", ["alpha", "beta", "gamma"])
def test_a_family_is_told_at_the_record_that_was_changed(tmp_path: Path, epithet: str) -> None:
    """Whichever of them it is, by name before or behind its neighbours."""
    ones = dict.fromkeys(("alpha", "beta", "gamma"), "x -> x")
    files = _library(tmp_path, **{**ones, epithet: "Exemplaceae -> Aliaceae"})
    for paths in ([tmp_path], [files[epithet]]):
        (one,) = _found(paths)
        assert (one.check, Path(one.place.file).name) == ("family-differs", files[epithet].name)


@pytest.mark.parametrize("asked", ["alpha", "beta"])
@pytest.mark.parametrize(
    ("check", "change"),
    [
        ("colliding-name", "plant: broadleaf tree -> synonyms: [Exemplum alpha]\nplant: broadleaf tree"),
        ("near-duplicate", "Exemplum beta -> Exemplum alphb"),
        ("common-name-of-another", "plant: broadleaf tree -> common_names: {en: [oak]}\nplant: shrub"),
        ("family-differs", "Exemplaceae -> Aliaceae"),
    ],
)
def test_what_two_records_have_between_them_is_told_at_either(
    tmp_path: Path, check: str, change: str, asked: str
) -> None:
    common = "plant: broadleaf tree -> common_names: {en: [oak]}\nplant: shrub"
    files = _library(tmp_path, alpha=common, beta=change)
    found = [one for one in _found([files[asked]]) if one.check == check]
    assert [Path(one.place.file).name for one in found] == [files[asked].name]
    assert check in {one.id for one in LIBRARY_CHECKS}


@pytest.mark.parametrize("new", ["alpha", "alphb"])
@pytest.mark.parametrize("with_git", [False, True])
def test_a_misspelt_name_of_a_whole_folder_is_told_at_the_newer_record(
    tmp_path: Path, new: str, with_git: bool
) -> None:
    """By git what is changed is newer, whenever it was written; without it what was written last."""
    files = _library(tmp_path, alpha="x -> x", alphb="x -> x")
    hours = {epithet: 0 if (epithet == new) is with_git else 3600 for epithet in files}
    if with_git:
        _git(tmp_path, "init", "-q")
        _git(tmp_path, "add", *(path.name for epithet, path in files.items() if epithet != new))
        _git(tmp_path, "-c", "user.name=x", "-c", "user.email=x", "commit", "-qm", "x")
    for epithet, path in files.items():
        os.utime(path, (1_800_000_000 + hours[epithet],) * 2)
    os.utime(tmp_path / "bibliography.yaml", (1_700_000_000,) * 2)
    (one,) = _found([tmp_path])
    assert (one.check, Path(one.place.file).name) == ("near-duplicate", files[new].name)
    assert next(path.name for epithet, path in files.items() if epithet != new) in one.what


def _git(folder: Path, *arguments: str) -> None:
    subprocess.run(["git", "-C", str(folder), *arguments], check=True, capture_output=True)


def test_a_name_near_one_of_the_libraries_around_is_told(tmp_path: Path) -> None:
    there, here = tmp_path / "there", tmp_path / "here"
    for folder, name in ((there, "alpha"), (here, "alphb")):
        folder.mkdir()
        _library(folder, **{name: "x -> x"})
    (one,) = _found([here], [there])
    assert (one.check, Path(one.place.file).name) == ("near-duplicate", "exemplum-alphb.yaml")
    assert "Exemplum alpha (exemplum-alpha.yaml)" in one.what


def test_an_id_of_another_plant_of_the_libraries_around_is_told(tmp_path: Path) -> None:
    """And of its own plant it is not: a record here stands in place of the one there."""
    there, here = tmp_path / "there", tmp_path / "here"
    for folder, name in ((there, "alpha"), (here, "alpha"), (here, "omega")):
        folder.mkdir(exist_ok=True)
        key = "plant: broadleaf tree -> taxon: {gbif: 77}\nplant: broadleaf tree"
        path = _library(folder, **{name: key})[name]
        path.write_text(f"schema: 2\n{path.read_text('utf-8')}", "utf-8")
    (here / "exemplum-alpha.yaml").rename(there.parent / "kept.yaml")
    (one,) = _found([here], [there])
    assert (one.check, Path(one.place.file).name) == ("taxon-of-another", "exemplum-omega.yaml")
    (here / "exemplum-omega.yaml").unlink()
    (there.parent / "kept.yaml").rename(here / "exemplum-alpha.yaml")
    assert _found([here], [there]) == []


def test_a_deleted_bibliography_is_told_once(tmp_path: Path) -> None:
    """A clone is checked by an installed copy, as pre-commit does it: that copy's sources do not stand in."""
    clone = tmp_path / "species"
    clone.mkdir()
    files = _library(clone, alpha="x -> x", beta="x -> x")
    danger = "[{genus: Aconitum, kind: poison, to: [people], cite: a-book}]\n"
    (clone / "poisonous.yaml").write_text(danger, "utf-8")
    lent = tmp_path / "installed"
    lent.mkdir()
    _library(lent)
    (clone / "bibliography.yaml").unlink()
    assert _found([clone], [lent]) == []  # a library of one's own may cite the shipped sources
    marker = tmp_path / "src" / "coldspell" / "shipped.py"
    marker.parent.mkdir(parents=True)
    marker.touch()
    (one,) = _found([clone], [lent])
    assert one.place.file.endswith("species/bibliography.yaml")
    assert "2 records cite works" in one.what
    assert files["alpha"].exists()


def test_what_cites_a_deleted_file_is_checked_with_changed(tmp_path: Path) -> None:
    def git(*arguments: str) -> None:
        identity = ("-c", "user.name=x", "-c", "user.email=x@example.org")
        subprocess.run(["git", "-C", str(tmp_path), *identity, *arguments], check=True, capture_output=True)

    _library(tmp_path, alpha="x -> x")
    record = tmp_path / "exemplum-alpha.yaml"
    record.write_text(record.read_text().replace("a-book", "a-book-of-mine"))
    book = tmp_path / "bibliography.yaml"
    book.write_text(book.read_text().replace("id: a-book", "id: a-book-of-mine"))
    git("init", "-q")
    git("add", ".")
    git("commit", "-q", "-m", "first")
    book.unlink()
    git("add", ".")
    done = CliRunner().invoke(app, ["check", "--changed", "--today", "2026-11-30", str(tmp_path)])
    assert done.exit_code == 1
    assert "a-book-of-mine" in done.stdout


def test_the_hook_checks_whole_folders_at_every_commit() -> None:
    """Deleted and renamed files are handed to no hook of pre-commit (its manual, "Filtering files")."""
    hooks = document.plain(document.parse((ROOT / ".pre-commit-hooks.yaml").read_text(), "f"))
    for hook in hooks:
        assert hook["always_run"] is True
        assert hook["pass_filenames"] is False
        assert hook["args"] == ["species"]
