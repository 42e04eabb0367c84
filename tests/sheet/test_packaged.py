"""What an installed sheet needs is inside the package, and its libraries are free to pass on."""

from __future__ import annotations

import tomllib
from importlib import metadata
from pathlib import Path

import pytest

from coldspell.sheet.content import WORDS

ROOT = Path(__file__).parents[2]
TEMPLATES = ROOT / "src" / "coldspell" / "sheet" / "templates"
FREE = ("apache", "mit", "bsd")
"""Licences that ask no more than their own text to be passed on (opensource.org)."""


def project() -> dict[str, object]:
    found: dict[str, object] = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    return found


def test_templates_lie_where_the_wheel_takes_everything() -> None:
    wheel = project()["tool"]["hatch"]["build"]["targets"]["wheel"]  # type: ignore[index]
    assert "src/coldspell" in wheel["only-include"]
    assert {path.name for path in TEMPLATES.iterdir()} == {"sheet.typ", "sheet.html", "lot.html", "sheet.css"}
    assert not [one for one in wheel["exclude"] if "sheet" in one or "*" in one]


def test_templates_word_nothing_themselves() -> None:
    """Every heading comes from the sentences of the program."""
    page = "".join((TEMPLATES / name).read_text("utf-8") for name in ("sheet.html", "lot.html"))
    for word in WORDS:
        assert f"words.{word}" in page
        assert f"words.{word}" in (TEMPLATES / "sheet.typ").read_text("utf-8")


@pytest.mark.parametrize("name", ["typst", "jinja2", "markupsafe", "segno"])
def test_libraries_of_the_extra_are_free(name: str) -> None:
    try:
        told = metadata.metadata(name)
    except metadata.PackageNotFoundError:
        pytest.skip("type: uv run --all-groups pytest (the group surfaces)")
    classified = [one for one in told.get_all("Classifier") or [] if one.startswith("License")]
    licence = " ".join([told.get("License-Expression") or "", *classified]).lower()
    assert any(free in licence for free in FREE), licence
    assert "gpl" not in licence
