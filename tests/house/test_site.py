"""The documentation is a site without a broken link; one that is planted stops the build."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import pytest

pytestmark = pytest.mark.long

ROOT = Path(__file__).parents[2]
pytest.importorskip("myst_parser")


def build(folder: Path) -> str:
    """What the builder has to say; nothing when all is well."""
    words = ["-m", "sphinx", "--quiet", "--fail-on-warning", "--nitpicky", "docs", "site"]
    return subprocess.run([sys.executable, *words], cwd=folder, capture_output=True, text=True).stderr


def test_the_site_has_no_broken_link_and_would_say_so(tmp_path: Path) -> None:
    for name in ("docs", ".github"):
        shutil.copytree(ROOT / name, tmp_path / name)
    for name in ("DEVELOPERS.md", "CHANGELOG.md", "pyproject.toml"):
        shutil.copy(ROOT / name, tmp_path / name)
    assert build(tmp_path) == ""
    page = tmp_path / "docs" / "settings.md"
    for bad in ("[a page](nowhere.md)", "[a heading](lots.md#nowhere)"):
        page.write_text((ROOT / "docs" / "settings.md").read_text("utf-8") + f"\n{bad}\n", "utf-8")
        assert "nowhere" in build(tmp_path)
