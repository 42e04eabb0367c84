"""Rule files cut, crossed and misspelt at random: the check says what is wrong and never breaks."""

from __future__ import annotations

import random

import pytest
from rules_lots import GOOD, SOURCES, limits, random_lot

from coldspell.rules.audit import audit
from coldspell.rules.compiler import compile_files
from coldspell.rules.plain import PlainEngine
from coldspell.rules.session import RuleFault, Session

pytestmark = pytest.mark.long

FILES = {path.name: path.read_text(encoding="utf-8") for path in sorted(GOOD.glob("*.yaml"))}


def damaged(text: str, chance: random.Random) -> str:
    """One or two small changes of the kind that hands make."""
    for _ in range(chance.choice([1, 1, 2])):
        lines = text.split("\n")
        at = chance.randrange(len(lines))
        kind = chance.randrange(6)
        if kind == 0:
            del lines[at]
        elif kind == 1:
            lines.insert(chance.randrange(len(lines)), lines[at])
        elif kind == 2:
            words = lines[at].split(" ")
            other = chance.choice(chance.choice(lines).split(" "))
            words[chance.randrange(len(words))] = other
            lines[at] = " ".join(words)
        elif kind == 3 and lines[at]:
            where = chance.randrange(len(lines[at]))
            lines[at] = lines[at][:where] + chance.choice("{}[],:-x9 '#&*\t\u2028") + lines[at][where + 1 :]
        elif kind == 4:
            lines[at] = "  " + lines[at]
        else:
            lines = lines[:at] + lines[at + chance.randrange(4) :]
        text = "\n".join(lines)
    return text


@pytest.mark.parametrize("seed", range(8))
def test_damaged_rules_are_reported_or_still_right(seed: int) -> None:
    """Rules without an error of form or proof never fail for a lot."""
    chance, reported, sound = random.Random(seed), 0, 0
    for _ in range(60):
        name = chance.choice(list(FILES))
        files = {**FILES, name: damaged(FILES[name], chance)}
        book, findings = compile_files([(n, t.encode()) for n, t in files.items()], SOURCES)
        if any(f.severity == "error" for f in findings):
            reported += 1
            continue
        proved = not audit(book).findings
        session, marks = Session(book, PlainEngine()), limits(GOOD)
        for _ in range(40):
            lot = random_lot(book, chance, marks)
            try:
                session.run(lot, skip=())
            except RuleFault as fault:
                by_guarantee = "impossible row" in fault.what  # not proved by the audit alone
                assert by_guarantee or not proved, (name, files[name], lot)
        sound += proved
    assert reported
    assert sound
