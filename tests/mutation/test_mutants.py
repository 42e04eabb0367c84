"""The sampler of mutants changes what it says, and a mutant that is plainly wrong is noticed."""

from __future__ import annotations

import ast
import os
from pathlib import Path

import mutants
import pytest

pytestmark = pytest.mark.long

FULL = os.environ.get("COLDSPELL_FULL") == "1"


@pytest.mark.parametrize("folder", mutants.NEAREST)
def test_every_place_gives_a_program_that_differs(folder: str) -> None:
    places = sorted(mutants.mutants(folder))
    assert len(places) > 500
    for file, number in places[:: len(places) // 25]:
        mutant = mutants.made(file, number)
        assert mutant.before != mutant.after
        assert mutant.source != ast.unparse(ast.parse((mutants.ROOT / file).read_text("utf-8")))
        compile(mutant.source, file, "exec")


if FULL:  # three runs of pytest in a copy of the project

    def test_what_once_survived_is_noticed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        """By a test that comes by it; and the program as it is passes the same test in the same place."""
        file = "src/coldspell/arithmetic/containers.py"
        lines = (mutants.ROOT / file).read_text("utf-8").splitlines()
        places = [number for name, number in mutants.mutants("arithmetic") if name == file]
        wrong = [m for m in (mutants.made(file, n) for n in places) if "layers=0," in lines[m.line - 1]]
        tests = ("tests/arithmetic/test_packing.py::test_what_is_mixed_through_has_neither_layers_nor_rows",)
        copied = mutants.copied_to(tmp_path)
        assert [mutants.survives(one, tests, copied) for one in wrong] == [False]
        monkeypatch.setitem(mutants.NEAREST, "arithmetic", tests)
        by = mutants.touched("arithmetic", copied)
        assert by is not None
        assert mutants.looking(wrong[0], by) == tests
        whole = mutants.Mutant(file, 1, "", "", "\n".join(lines) + "\n")
        assert mutants.survives(whole, tests, copied)
