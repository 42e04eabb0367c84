"""What one recipe loads at its start: every module costs a third of a million instructions, needed or not."""

from __future__ import annotations

import subprocess
import sys

MODULES = 137
"""Own modules of one recipe from a checkout, as counted; where more are needed, say here what for.

The last: ``rules.tree``, which asks of a lot only the facts that can still change an answer.
"""
NEEDLESS = {"calendar", "coldspell.rules.compiler", "coldspell.rules.plain", "rich", "ruamel.yaml"}
CODE = """
import os, sys
from coldspell.cli import main
sys.argv[1:] = ["recipe", "northern red oak", "--seeds", "40", "--moisture", "fresh", "--today", "2026-10-12"]
main.main(sys.argv[1:])
print(*sys.modules, file=sys.stderr)
"""


def test_a_recipe_loads_what_it_needs() -> None:
    subprocess.run([sys.executable, "-c", CODE], capture_output=True, check=True)  # compiles what is kept
    done = subprocess.run([sys.executable, "-c", CODE], capture_output=True, text=True, check=True)
    loaded = set(done.stderr.splitlines()[-1].split())
    own = {name for name in loaded if name.partition(".")[0] == "coldspell"}
    assert len(own) <= MODULES, sorted(own)
    assert loaded & NEEDLESS == set()
