"""Where CI is set, a test that is skipped has failed: what it needs should have been installed.

Tests marked ``long`` prove the program itself, which a change of records or rules does not touch, over many
copies, draws or browsers. They are left out of ``pytest`` alone; the server runs them, and so does who names
their file. A file that is long as a whole is not even read.

The shipped library, rules and engine are loaded once for all tests of a process: they do not change
meanwhile, and hundreds of tests run a command. What loads them is tested with folders of its own, and in
other processes.
"""

from __future__ import annotations

import functools
import os
import sys
from collections.abc import Callable, Generator, Mapping
from pathlib import Path
from typing import Any

import pytest

from coldspell import api, rulebook, shipped
from coldspell.library import load
from coldspell.library.built import Built

os.environ["COLDSPELL_SETTINGS"] = os.path.join(os.path.dirname(__file__), "no-settings.yaml")  # nobody's own
if _CLOCK := os.environ.get("COLDSPELL_CLOCK"):  # the day on which all tests run: COLDSPELL_CLOCK=2031-03-01
    import time_machine

    time_machine.travel(f"{_CLOCK}T09:00:00+00:00").start()
# otherwise each process of the tests, and each program that they start, would compile all its code anew
sys.dont_write_bytecode = False
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
_STRICT = os.environ.get("CI", "").lower() in ("1", "true", "yes")


def _once(function: Callable[..., Any], shipped_one: Callable[..., bool]) -> Callable[..., Any]:
    """The function, asked but once for what is shipped."""
    kept = functools.cache(function)

    @functools.wraps(function)
    def once(*given: Any) -> Any:
        return kept(*given) if shipped_one(*given) else function(*given)

    return once


_SPECIES = shipped.find("species")
load._built = _once(load._built, lambda folder, cache: folder == _SPECIES and cache is None)
_Library = load.Library
_SHIPPED = functools.cache(lambda: _Library({_SPECIES: load._built(_SPECIES, None)}))


def _library(parts: Mapping[Path, Built]) -> _Library:
    """A library; the shipped one alone is one value, which decodes each of its records once."""
    alone = len(parts) == 1 and parts.get(_SPECIES) is load._built(_SPECIES, None)
    return _SHIPPED() if alone else _Library(parts)


load.Library = _library
rulebook.load_rulebook = _once(rulebook.load_rulebook, lambda folders=(): not folders)
api.load_rulebook = rulebook.load_rulebook
api.best_engine = functools.cache(api.best_engine)


def pytest_configure(config: pytest.Config) -> None:
    """Leave the long tests out, unless everything is asked for or something is named.

    The processes of pytest-xdist are told through the environment: options that are set here reach them only
    with some versions of it.
    """
    if not hasattr(config, "workerinput"):
        option = config.option
        named = config.args_source is config.ArgsSource.ARGS or option.markexpr or option.keyword
        everything = named or _STRICT or "COLDSPELL_FULL" in os.environ
        os.environ["COLDSPELL_TESTS"] = "all" if everything else "short"
    if os.environ.get("COLDSPELL_TESTS") == "short":
        config.option.markexpr = "not long"


def pytest_ignore_collect(collection_path: Path) -> bool | None:
    """Pass by a file of long tests where they are left out: to import it costs more than to read its mark."""
    if os.environ.get("COLDSPELL_TESTS") != "short" or collection_path.suffix != ".py":
        return None
    return "\npytestmark = pytest.mark.long\n" in collection_path.read_text("utf-8") or None


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
