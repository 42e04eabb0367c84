"""Words of a language stand in data, where who speaks it can mend them: no long list of them in Python."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

SRC = Path(__file__).parent.parent.parent / "src" / "coldspell"
ROOMS = ("library", "lot", "web", "counter")
MOST = 12
"""So many plain words a list may have; closed words of the program are declared as ``Literal``."""
MAY = {
    "library/schema_words.py: TYPE_WORDS": "types of JSON as messages call them",
    "lot/days.py: _PARTS": "a grammar of days in English: each word has its meaning in the sums beside it",
    "lot/place.py: EUROPEAN_UNION": "a list made by others, taken as it is",
    "lot/place.py: NORTHERN": "countries by their half of the world, each wholly on it",
    "lot/place.py: SOUTHERN": "countries by their half of the world, each wholly on it",
    "lot/read.py: AFTER_GATHERING": "names of facts of a lot",
    "web/export/states.py: STATES": "lots that are asked for, by facts and their closed words",
    "counter/record_words.py: _UNITS": "keys of records",
    "counter/record_words.py: _LABELS": "keys of records and of texts",
}
"""Lists that stay, and why."""


def lists(tree: ast.Module) -> Iterator[tuple[str, int]]:
    """Name and number of plain words of each list at the top of a module."""
    for node in tree.body:
        if isinstance(node, ast.Assign | ast.AnnAssign) and node.value is not None:
            target = node.targets[0] if isinstance(node, ast.Assign) else node.target
            words = sum(len(_words(one)) for one in ast.walk(node.value))
            yield getattr(target, "id", "?"), words


def _words(node: ast.AST) -> list[str]:
    text = node.value if isinstance(node, ast.Constant) and isinstance(node.value, str) else ""
    words = text.split()
    return [word for word in words if len(word) > 2] if all(map(str.isalpha, words)) else []


def too_long() -> set[str]:
    found = set()
    for room in ROOMS:
        for path in (SRC / room).rglob("*.py"):
            for name, words in lists(ast.parse(path.read_text())):
                if words > MOST:
                    found.add(f"{path.relative_to(SRC).as_posix()}: {name}")
    return found


def test_lists_of_words_are_data() -> None:
    """If this fails: put the words into a file beside `species/common-words.yaml`, or say why they stay."""
    assert too_long() - MAY.keys() == set()


def test_every_exception_is_still_one() -> None:
    assert MAY.keys() <= too_long()


def test_a_list_is_found() -> None:
    tree = ast.parse('_STATES = {"dried": "dried dry trocken", "old": ["old", "alt"]}')
    assert dict(lists(tree)) == {"_STATES": 7}
