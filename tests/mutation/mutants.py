"""Change one expression of the program at a time and see whether the nearest tests notice.

    python tests/mutation/mutants.py arithmetic|rules|write COUNT [--seed N] [--seconds S]

The sample is fixed by its seed. Works on a copy; prints each mutant that survived with its place and change,
and one line of JSON with the counts. `survivors.md` explains those of the last run that were left.
A mutant is shown first to those of the nearest tests that come by its lines, which is looked up once with the
program as it is (`touching.py`); only what they do not notice is shown to all.
"""

from __future__ import annotations

import argparse
import ast
import copy
import json
import os
import random
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]
NEAREST = {
    "arithmetic": ("tests/arithmetic/test_worked_examples.py", "tests/arithmetic"),
    "rules": (
        "tests/rules/test_rules_decide.py",
        "tests/rules/test_rules_bad.py",
        "tests/rules/test_rules_audit.py",
        "tests/rules/test_rules_texts.py",
        "tests/rules/test_rules_commands.py",
    ),
    "write": ("tests/recipe/test_golden.py", "tests/write", "tests/recipe/test_main_job.py"),
}
"""Folders of the program, and the tests that look at them first, the quick ones before the others."""
SWAPS: dict[type, type] = {
    ast.Lt: ast.LtE,
    ast.LtE: ast.Lt,
    ast.Gt: ast.GtE,
    ast.GtE: ast.Gt,
    ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq,
    ast.Is: ast.IsNot,
    ast.IsNot: ast.Is,
    ast.In: ast.NotIn,
    ast.NotIn: ast.In,
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.And: ast.Or,
    ast.Or: ast.And,
    ast.Not: ast.UAdd,
}


@dataclass(frozen=True)
class Mutant:
    """One change of one file."""

    file: str
    line: int
    before: str
    after: str
    source: str
    last: int = 0
    """The last line of the expression."""


def mutants(folder: str) -> Iterator[tuple[str, int]]:
    """Every place of a folder of the program that can be changed: file, and number of the place in it."""
    for path in sorted((ROOT / "src" / "coldspell" / folder).rglob("*.py")):
        tree = ast.parse(path.read_text("utf-8"))
        for number in range(sum(1 for _ in _places(tree))):
            yield str(path.relative_to(ROOT)), number


def _places(tree: ast.AST) -> Iterator[tuple[ast.AST, str, int]]:
    """What can be changed: an operator, a number, a condition; not within annotations or messages."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Compare):
            for index, operator in enumerate(node.ops):
                if type(operator) in SWAPS:
                    yield node, "ops", index
        elif isinstance(node, ast.BinOp | ast.BoolOp | ast.UnaryOp):
            if type(node.op) in SWAPS and not _of_text(node):
                yield node, "op", -1
        elif isinstance(node, ast.Constant) and type(node.value) in (int, float):
            yield node, "value", -1
        elif isinstance(node, ast.If | ast.IfExp | ast.While):
            yield node, "test", -1


def _of_text(node: ast.AST) -> bool:
    """Text is put together with + as numbers are; types are joined with |."""
    texts = (ast.JoinedStr, ast.List, ast.Tuple)
    return isinstance(node, ast.BinOp) and any(
        isinstance(side, texts) or (isinstance(side, ast.Constant) and isinstance(side.value, str))
        for side in (node.left, node.right)
    )


def made(file: str, number: int) -> Mutant:
    """The mutant at a place."""
    tree = ast.parse((ROOT / file).read_text("utf-8"))
    node, name, index = list(_places(tree))[number]
    before = ast.unparse(node).split("\n")[0]
    if name == "ops":
        node.ops[index] = SWAPS[type(node.ops[index])]()  # type: ignore[attr-defined]
    elif name == "op" and isinstance(node, ast.UnaryOp):
        node.op = ast.Not()
        node.operand = ast.UnaryOp(ast.Not(), copy.deepcopy(node.operand))
    elif name == "op":
        node.op = SWAPS[type(node.op)]()  # type: ignore[attr-defined]
    elif name == "value":
        node.value = node.value + 1 if node.value else 1  # type: ignore[attr-defined]
    else:
        node.test = ast.UnaryOp(ast.Not(), node.test)  # type: ignore[attr-defined]
    after = ast.unparse(ast.fix_missing_locations(node)).split("\n")[0]
    return Mutant(file, node.lineno, before, after, ast.unparse(tree), node.end_lineno)  # type: ignore[attr-defined]


Touched = dict[str, dict[int, list[str]]]
"""The tests that come by each line of each file."""


def touched(folder: str, copied: Path) -> Touched | None:
    """Which of the nearest tests come by which lines; ``None`` where they fail on the program as it is."""
    told = copied / "touched.json"
    more = {"TOUCHED": str(told), "TOUCHED_BELOW": str(copied / "src" / "coldspell" / folder)}
    if not _content(NEAREST[folder], copied, more, ("-p", "touching")):
        return None
    found = json.loads(told.read_text("utf-8"))
    return {
        str(Path(file).relative_to(copied)): {int(line): tests for line, tests in lines.items()}
        for file, lines in found.items()
    }


def looking(mutant: Mutant, by: Touched) -> tuple[str, ...]:
    """The tests that come by a mutant; none where it is met only while a module is loaded."""
    lines = by.get(mutant.file, {})
    found = dict.fromkeys(test for n in range(mutant.line, mutant.last + 1) for test in lines.get(n, ()))
    return tuple(found)


def survives(mutant: Mutant, tests: tuple[str, ...], copied: Path) -> bool:
    """Whether the tests are content with the program so changed; one that never ends is noticed."""
    path = copied / mutant.file
    own = path.read_text("utf-8")
    path.write_text(mutant.source, "utf-8")
    try:
        return _content(tests, copied, {})
    finally:
        path.write_text(own, "utf-8")


def _content(
    tests: tuple[str, ...], copied: Path, more: dict[str, str], options: tuple[str, ...] = ()
) -> bool:
    """Whether pytest ends well; the tests are handed to it in a file, for there may be thousands."""
    listed = copied / "tests.txt"
    listed.write_text("\n".join(tests), "utf-8")
    paths = os.pathsep.join((str(copied / "src"), str(ROOT / "tests" / "mutation")))
    surroundings = {**os.environ, "PYTHONPATH": paths, "COLDSPELL_CACHE": "off", **more}
    words = [
        sys.executable,
        "-m",
        "pytest",
        "-q",
        "-x",
        "-n0",
        "-p",
        "no:cacheprovider",
        *options,
        f"@{listed}",
    ]
    try:
        done = subprocess.run(words, cwd=copied, env=surroundings, capture_output=True, timeout=1800)
    except subprocess.TimeoutExpired:
        return False
    return done.returncode == 0


def copied_to(folder: Path) -> Path:
    """A copy of the program and its tests; records and rules are looked at where they are."""
    for name in ("src", "tests"):
        shutil.copytree(ROOT / name, folder / name, ignore=shutil.ignore_patterns("__pycache__"))
    for name in ("species", "rules", "docs", "README.md", "pyproject.toml", "DEVELOPERS.md"):
        (folder / name).symlink_to(ROOT / name)
    return folder


def main() -> int:
    """Draw, change, test, tell."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("folder", choices=NEAREST)
    parser.add_argument("count", type=int)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--seconds", type=float, default=float("inf"))
    given = parser.parse_args()
    places = sorted(mutants(given.folder))
    drawn = random.Random(given.seed).sample(places, min(given.count, len(places)))
    start, tried, survived = time.monotonic(), 0, 0
    with tempfile.TemporaryDirectory() as folder:
        copied = copied_to(Path(folder))
        by = touched(given.folder, copied)
        if by is None:
            print("the tests fail on the program as it is: no mutant would say anything", file=sys.stderr)
            return 2
        for file, number in drawn:
            mutant = made(file, number)
            near = looking(mutant, by)
            alive = not near or survives(mutant, near, copied)
            alive = alive and survives(mutant, NEAREST[given.folder], copied)
            tried += 1
            survived += alive
            word = "SURVIVED" if alive else "killed"
            print(f"{word} {mutant.file}:{mutant.line}: {mutant.before} -> {mutant.after}", flush=True)
            if time.monotonic() - start > given.seconds:
                break
    counts = {"folder": given.folder, "seed": given.seed, "places": len(places), "tried": tried}
    print(json.dumps({**counts, "killed": tried - survived, "survived": survived}))
    return 1 if survived else 0


if __name__ == "__main__":
    sys.exit(main())
