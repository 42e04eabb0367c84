"""Every public function of the arithmetic says the unit of each parameter and what it raises."""

from __future__ import annotations

import importlib
import inspect
import pkgutil
import re
from collections.abc import Callable, Iterator
from typing import Any

import pytest

import coldspell.arithmetic


def functions() -> Iterator[Callable[..., Any]]:
    for module in pkgutil.iter_modules(coldspell.arithmetic.__path__):
        found = importlib.import_module(f"coldspell.arithmetic.{module.name}")
        for _, each in inspect.getmembers(found):
            if inspect.isfunction(each) and each.__module__ == found.__name__:
                yield each
            elif inspect.isclass(each) and each.__module__ == found.__name__:
                yield from (m for m in vars(each).values() if inspect.isfunction(m) and m.__doc__)


PUBLIC = [each for each in functions() if not each.__name__.startswith("_")]


@pytest.mark.parametrize("function", PUBLIC, ids=lambda f: f.__qualname__)
def test_units_and_errors(function: Callable[..., Any]) -> None:
    text = inspect.getdoc(function) or ""
    sections = dict(re.findall(r"^(\w+)\n-{4,}\n(.*?)(?=^\w+\n-{4,}|^>>>|\Z)", text, re.M | re.S))
    assert sections.get("Raises", "").strip(), "say what is raised, or that nothing is"
    said: dict[str, str] = {}
    for names, body in re.findall(r"^(\S.*?) : .*\n((?:    .*\n?)+)", sections.get("Parameters", ""), re.M):
        said |= dict.fromkeys((name.strip(" *") for name in names.split(",")), body)
    wanted = [name for name in inspect.signature(function).parameters if name != "self"]
    assert list(said) == wanted or sorted(said) == sorted(wanted)
    for name, body in said.items():
        assert re.search(r"\[[^\]]+\]", body), f"{name} has no unit"


def test_there_are_functions_to_look_at() -> None:
    assert len(PUBLIC) > 60
