"""The folder in which attempts are made, and nobody's own settings."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

import pytest


@pytest.fixture
def yard(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """An empty folder to work in; settings that a run keeps lie beside it."""
    here = tmp_path / "yard"
    here.mkdir()
    monkeypatch.chdir(here)
    monkeypatch.setenv("COLDSPELL_SETTINGS", str(tmp_path / "kept" / "settings.yaml"))
    yield here
    os.chdir("/")
