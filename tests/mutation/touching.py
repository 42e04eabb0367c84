"""Which tests come by which lines: a plugin of pytest for the sampler of mutants.

``TOUCHED_BELOW`` is the folder whose lines are of interest, ``TOUCHED`` the file of JSON that is written.
"""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from types import FrameType
from typing import Any

import pytest

BELOW = os.environ.get("TOUCHED_BELOW", "") + os.sep
_BY: dict[str, dict[int, dict[str, None]]] = {}


def tracer(test: str) -> Callable[[FrameType, str, Any], Any]:
    """What is called for every line of the folder while a test runs."""

    def line(frame: FrameType, event: str, given: Any) -> Any:
        if event == "line":
            _BY.setdefault(frame.f_code.co_filename, {}).setdefault(frame.f_lineno, {})[test] = None
        return line

    def called(frame: FrameType, event: str, given: Any) -> Any:
        return line(frame, "line", given) if frame.f_code.co_filename.startswith(BELOW) else None

    return called


@pytest.hookimpl(wrapper=True)
def pytest_runtest_protocol(item: pytest.Item) -> Iterator[Any]:
    """Look on while a test runs, with all that is made for it."""
    before = sys.gettrace()
    sys.settrace(tracer(item.nodeid))
    try:
        return (yield)
    finally:
        sys.settrace(before)


def pytest_sessionfinish() -> None:
    """Write what was seen."""
    plain = {file: {line: [*tests] for line, tests in lines.items()} for file, lines in _BY.items()}
    Path(os.environ["TOUCHED"]).write_text(json.dumps(plain), "utf-8")
