"""Numbers of practice stand in ``rules/practice.yaml``, where they have a reason, and not in the program.

Held for the rooms that decide what a grower reads: a number at the top of a file there, alone, in a pair or
behind a word, is a decision out of the sight of the rules; so are months that a function names, and a share
that it divides by. What is no practice is listed, with what it is.
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
    "_MOST_DAYS_TO_GATHER": "limit of what is taken for a slip in the year of gathering",
    "_HOTTER": "limit of what is taken for degrees Fahrenheit",
    "_MOST_SEEDS": "limit of the table of lot facts",
    "_ROUNDING": "of the computer",
    "_YEAR": "calendar: days of a year",
    "ANY_YEAR": "calendar: a year without a leap day",
    "LEVEL": "nine times in ten, as the texts say",
    "TEN": "nine times in ten, as the texts say",
    "_SOAK": "the day that the answer `takes: day` of a rule names",
    "PIT_WIDE_MM": "width at which a pit is drawn",
    "_MONTHS_ONWARDS": "how the words 'from May on' of a note are read",
    "_MOST": "items of an example in the reference",
    "_SOME": "keys of an example in the reference",
    "_NAMES": "names that fit on a line",
    "LENGTHS": "how many numbers a pair has",
    "AMOUNT": "lots of the grid",
    "_SEASONS": "months that the word for a season means",
    "_DAY_OF": "days that 'early in' or 'end of' a month means",
}
NO_SHARE = {2: "a half", 7: "days of a week", 12: "months", 24: "hours", 60: "minutes", 100: "percent",
            1000: "thousandths", 1_000_000.0: "litres of mm³", 1024: "bytes", 31: "days of a month",
            1.8: "degrees Fahrenheit"}  # fmt: skip
UNITS = "units.py"
"""Nothing but other units of the same values."""


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
    """A plain number; a pair or list of them; words that stand for them."""
    value = value.operand if isinstance(value, ast.UnaryOp) else value
    if isinstance(value, ast.Dict):
        return bool(value.values) and all(map(_is_number, value.values))
    if isinstance(value, ast.Tuple | ast.List | ast.Set):
        return bool(value.elts) and all(map(_is_number, value.elts))
    return _is_one(value)


def _is_one(value: ast.expr) -> bool:
    return (
        isinstance(value, ast.Constant)
        and isinstance(value.value, int | float)
        and not isinstance(value.value, bool)
    )


def numbers_within(text: str) -> list[str]:
    """Months of the year and shares that functions of a module name."""
    found = []
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Call) and ast.unparse(node.func).rpartition(".")[2] == "in_months":
            found += [ast.unparse(node)] if any(map(_is_one, node.args)) else []
        if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Div | ast.FloorDiv):
            share = node.right
            if _is_one(node.left) or not isinstance(share, ast.Constant) or not _is_one(share):
                continue
            if share.value not in NO_SHARE:
                found.append(ast.unparse(node))
    return found


def test_numbers_of_practice_stand_in_the_rules() -> None:
    root, found = Path(coldspell.__file__).parent, {}
    for room in ROOMS:
        for path in sorted((root / room).rglob("*.py")):
            found |= dict.fromkeys(numbers_at_the_top(path.read_text("utf-8")), path.name)
    assert {name: file for name, file in found.items() if name not in NO_PRACTICE} == {}
    assert found.keys() >= NO_PRACTICE.keys()  # nothing listed that is gone


def test_months_and_shares_stand_in_the_rules() -> None:
    root = Path(coldspell.__file__).parent
    paths = [path for room in ROOMS for path in sorted((root / room).rglob("*.py")) if path.name != UNITS]
    found = {path.name: told for path in paths if (told := numbers_within(path.read_text("utf-8")))}
    assert found == {}


def test_months_and_shares_are_seen() -> None:
    text = (
        "def f(day, lot):\n    return in_months(day, 9, 12, southern=True) or lot.seeds // 10 + lot.mm / 1000"
    )
    assert numbers_within(text) == ["in_months(day, 9, 12, southern=True)", "lot.seeds // 10"]


def test_a_number_at_the_top_is_seen() -> None:
    text = "_FEW = 3\n_LOW: float = -1.5\nNAME = 'x'\nA, B = 1, 2.5\ndef f():\n    inner = 2\n"
    text += "PAIR = (10.0, 20)\nBY_WORD = {'soon': (3, 5)}\nNAMES = ('a', 'b')\nON = True\n"
    assert numbers_at_the_top(text) == ["_FEW", "_LOW", "A", "B", "PAIR", "BY_WORD"]
