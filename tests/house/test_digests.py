"""The rebuilt house gives the pages it gave before: a tenth of the lots, all with COLDSPELL_FULL=1."""

from __future__ import annotations

import json
import os
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
import digests


def test_no_lot_changed() -> None:
    lines = digests.KEPT.read_text("utf-8").splitlines()
    lots = [json.loads(line) for line in (lines if os.environ.get("COLDSPELL_FULL") else lines[::10])]
    assert len(lots) >= 300
    assert digests.changed(lots) == []
