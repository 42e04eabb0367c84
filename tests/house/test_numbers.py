"""Numbers of practice stand in ``rules/practice.yaml``, where they have a reason, and not in the program.

Held for the rooms that decide what a grower reads: a number at the top of a file there is a decision out
of the sight of the rules. What is no practice is listed, with what it is.
"""

from __future__ import annotations

import ast
from pathlib import Path

import coldspell

ROOMS = ("lot", "decide", "plan", "trial", "counter", "write")
NO_PRACTICE = {
    "DAYS_PER_YEAR": "calendar",
    "DAYS_PER_MONTH": "calendar",
    "LAST_FROST_MONTH": "limit of what is taken for a slip of the pen, before any rule is asked",
    "_HOTTER": "limit of what is taken for degrees Fahrenheit",
    "_MOST_SEEDS": "limit of the table of lot facts",
    "_ROUNDING": "of the computer",
    "_YEAR": "calendar: days of a year",
    "_ANY_YEAR": "calendar: a year without a leap day",
    "LEVEL": "nine times in ten, as the texts say",
    "TEN": "nine times in ten, as the texts say",
    "_SOAK": "the day that the answer `takes: day` of a rule names",
    "PIT_WIDE_MM": "width at which a pit is drawn",
    "_MONTHS_ONWARDS": "how the words 'from May on' of a note are read",
    "_MOST": "items of an example in the reference",
    "_SOME": "keys of an example in the reference",
    "_NAMES": "names that fit on a line",
}


def numbers_at_the_top(text: str) -> list[str]:
    """Names that a module gives to plain numbers."""
    found = []
    for node in ast.parse(text).body:
        if not isinstance(node, ast.Assign | ast.AnnAssign) or node.value is None:
            continue
        target = node.targets[0] if isinstance(node, ast.Assign) else node.target
        many = isinstance(target, ast.Tuple) and isinstance(node.value, ast.Tuple)
        pairs = zip(target.elts, node.value.elts, strict=True) if many else [(target, node.value)]
        found += [name.id for name, value in pairs if isinstance(name, ast.Name) and _is_number(value)]
    return found


def _is_number(value: ast.expr) -> bool:
    value = value.operand if isinstance(value, ast.UnaryOp) else value
    return isinstance(value, ast.Constant) and isinstance(value.value, int | float)


def test_numbers_of_practice_stand_in_the_rules() -> None:
    root, found = Path(coldspell.__file__).parent, {}
    for room in ROOMS:
        for path in sorted((root / room).rglob("*.py")):
            found |= dict.fromkeys(numbers_at_the_top(path.read_text("utf-8")), path.name)
    assert {name: file for name, file in found.items() if name not in NO_PRACTICE} == {}
    assert found.keys() >= NO_PRACTICE.keys()  # nothing listed that is gone


def test_a_number_at_the_top_is_seen() -> None:
    text = "_FEW = 3\n_LOW: float = -1.5\nNAME = 'x'\nA, B = 1, 2.5\ndef f():\n    inner = 2\n"
    assert numbers_at_the_top(text) == ["_FEW", "_LOW", "A", "B"]
