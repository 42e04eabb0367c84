"""Where CI is set, a test that is skipped has failed: what it needs should have been installed."""

from __future__ import annotations

import os
from collections.abc import Generator
from typing import Any

import pytest

os.environ["COLDSPELL_SETTINGS"] = os.path.join(os.path.dirname(__file__), "no-settings.yaml")  # nobody's own
if _CLOCK := os.environ.get("COLDSPELL_CLOCK"):  # the day on which all tests run: COLDSPELL_CLOCK=2031-03-01
    import time_machine

    time_machine.travel(f"{_CLOCK}T09:00:00+00:00").start()
_STRICT = os.environ.get("CI", "").lower() in ("1", "true", "yes")


def _refuse_skip(report: pytest.TestReport | pytest.CollectReport) -> None:
    if _STRICT and report.skipped and not hasattr(report, "wasxfail"):
        report.outcome = "failed"
        report.longrepr = f"skipped, although CI is set: {report.longrepr}"


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport() -> Generator[None, Any, Any]:
    """Turn the skip of a test into a failure."""
    report = yield
    _refuse_skip(report)
    return report


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report() -> Generator[None, Any, Any]:
    """Turn the skip of a whole file into a failure."""
    report = yield
    _refuse_skip(report)
    return report
