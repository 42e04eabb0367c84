"""Which folder of the program imports which: read off the source, without importing anything."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from msgspec import Struct

PACKAGE = Path(__file__).parent.parent.parent / "src" / "coldspell"


class Import(Struct, frozen=True):
    """One import of a module of the program by another; `typing` where it is for the type checker alone."""

    by: str
    of: str
    line: int
    typing: bool


def modules() -> dict[str, Path]:
    """All modules of the program by name (``rules.load``, ``errors``)."""
    found = {}
    for path in sorted(PACKAGE.rglob("*.py")):
        parts = path.relative_to(PACKAGE).with_suffix("").parts
        if parts[:-1] != ("shipped",):  # the folder of an installed package holds data
            found[".".join(p for p in parts if p != "__init__") or "coldspell"] = path
    return found


@cache
def imports() -> tuple[Import, ...]:
    """Every import between modules of the program, those inside functions too."""
    known = modules()
    return tuple(
        Import(name, of, line, typing)
        for name, path in known.items()
        for of, line, typing in _of(ast.parse(path.read_text("utf-8")), known, typing=False)
        if of != name
    )


def room(module: str) -> str:
    """The folder of a module, or its name where it stands at the top."""
    return module.partition(".")[0]


def _of(node: ast.AST, known: dict[str, Path], *, typing: bool) -> Iterator[tuple[str, int, bool]]:
    if isinstance(node, ast.If) and "TYPE_CHECKING" in ast.dump(node.test):
        for child in node.body:
            yield from _of(child, known, typing=True)
        for child in node.orelse:
            yield from _of(child, known, typing=typing)
        return
    if isinstance(node, ast.Import):
        names = [a.name for a in node.names if a.name.partition(".")[0] == "coldspell"]
        yield from ((name.partition(".")[2] or "coldspell", node.lineno, typing) for name in names)
    elif isinstance(node, ast.ImportFrom):
        assert node.level == 0, "imports name the whole path"
        if node.module and node.module.partition(".")[0] == "coldspell":
            base = node.module.partition(".")[2]
            for alias in node.names:
                whole = f"{base}.{alias.name}" if base else alias.name
                yield whole if whole in known else base or "coldspell", node.lineno, typing
    for child in ast.iter_child_nodes(node):
        yield from _of(child, known, typing=typing)
