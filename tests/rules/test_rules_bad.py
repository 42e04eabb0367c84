"""Every folder under ``bad`` is a rule book with a planted fault; ``expect.txt`` is what the check prints.

A case that prints nothing, or anything else, fails: the text is compared whole, with file, line and column.
"""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from coldspell import shipped
from coldspell.errors import ColdspellError
from coldspell.rulebook import asked, rule_paths
from coldspell.rules import check_rules, load_rules
from coldspell.rules.audit import audit

BAD = Path(__file__).parent / "bad"
CASES = sorted(path.name for path in BAD.iterdir() if path.is_dir())
SOURCES = {"handbook", "tables"}


def printed(folder: Path) -> str:
    findings = check_rules([folder], SOURCES)
    if not any(f.severity == "error" for f in findings):
        findings += audit(load_rules([folder], SOURCES)).findings
    return "".join(f"{f}\n" for f in findings if f.severity == "error").replace(f"{folder}/", "")


@pytest.mark.parametrize("name", CASES)
def test_planted_fault_is_found(name: str) -> None:
    expected = (BAD / name / "expect.txt").read_text(encoding="utf-8")
    assert printed(BAD / name) == expected
    assert "error:" in expected


@pytest.mark.parametrize("name", CASES)
def test_faulty_form_never_loads(name: str) -> None:
    errors = [f for f in check_rules([BAD / name], SOURCES) if f.severity == "error"]
    if errors:
        with pytest.raises(ColdspellError) as caught:
            load_rules([BAD / name], SOURCES)
        assert caught.value.exit_code == 2
        assert str(caught.value.where) == str(errors[0].where)


@pytest.mark.parametrize(
    ("file", "old", "new", "found"),
    [
        ("placeholders.yaml", "  - {placeholder", "  - {{placeholder", {"file"}),
        ("time.yaml", "rules:\n", "rules\n", {"file"}),
        ("figure.yaml", "given: [", "giver: [", {"missing-key", "unknown-key", "twice"}),
    ],
)
def test_one_slip_is_told_at_its_place(
    tmp_path: Path, file: str, old: str, new: str, found: set[str]
) -> None:
    """Not at each of hundreds of places that name what the broken file declares."""
    folder = Path(shutil.copytree(shipped.find("rules"), tmp_path / "rules"))
    text = (folder / file).read_text("utf-8")
    (folder / file).write_text(text.replace(old, new, 1), "utf-8")
    findings = check_rules(rule_paths([folder]), None, asked)
    assert {one.check for one in findings} <= found
    assert {Path(one.where.file).name for one in findings} == {file}
    assert len(findings) <= 16  # not one for each of hundreds that name what it declares
