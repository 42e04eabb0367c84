"""Walk tests/records: every good case passes, every bad one says what its expect.txt says.

A bad case is a folder named after a check; its files form a library. ``expect.txt`` holds the whole report.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from coldspell import shipped
from coldspell.check import reports
from coldspell.check.run import Checked, check_files, source_types
from coldspell.check.table import CHECKS
from coldspell.library.files import BIBLIOGRAPHY, read_file, walk
from coldspell.library.poisonous import read_poisonous

CASES = Path(__file__).parent.parent / "records"
TODAY = date(2026, 11, 25)
GOOD = sorted(path for path in (CASES / "good").iterdir() if path.is_dir())
BAD = sorted(path for path in (CASES / "bad").iterdir() if path.is_dir())


def checked(folder: Path) -> Checked:
    sources = source_types([read_file(CASES / BIBLIOGRAPHY, BIBLIOGRAPHY)])
    dangers = read_poisonous([shipped.find("species")])
    return check_files(list(walk(folder)), source_types=sources, poisonous=dangers, today=TODAY)


@pytest.mark.parametrize("folder", GOOD, ids=lambda path: path.name)
def test_a_good_record_passes(folder: Path) -> None:
    result = checked(folder)
    assert result.records
    assert result.findings == []


@pytest.mark.parametrize("folder", BAD, ids=lambda path: path.name)
def test_a_bad_record_says_so(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(folder)
    result = checked(folder)
    if folder.name != "file-name":  # the cases are all named record.yaml
        result.findings = [one for one in result.findings if one.check != "file-name"]
    report = "".join(line + "\n" for line in reports.text(result).splitlines()[:-1])
    assert folder.name in {one.check for one in result.findings}
    assert report == (folder / "expect.txt").read_text()


def test_every_check_has_a_bad_case() -> None:
    assert {path.name for path in BAD} == {check.id for check in CHECKS}
