"""Pages for readers who know the page alone: lots drawn over records and states, each with its command.

    python tests/readings/draw_pages.py FOLDER [--seed N] [--count N]

The seed is fixed before anybody reads. Two lots of three are of kinds that people raise
(``tests/data/raised-plants.csv``), the others of any record, genus records too.
"""

from __future__ import annotations

import argparse
import csv
import random
import shlex
import sys
from datetime import date
from pathlib import Path
from typing import Any

TESTS = Path(__file__).parent.parent
sys.path.insert(0, str(TESTS / "house"))

import lots  # noqa: E402

from coldspell.api import shipped  # noqa: E402
from coldspell.errors import ColdspellError  # noqa: E402
from coldspell.lot.table import FACTS, options  # noqa: E402


def raised() -> list[str]:
    """Names of the plants that people raise and that have a record."""
    with (TESTS / "data" / "raised-plants.csv").open(encoding="utf-8") as file:
        names = [next(iter(row.values())) for row in csv.DictReader(line for line in file if line[0] != "#")]
    return [name for name in names if name in shipped().records.names]


def typed(lot: dict[str, Any]) -> str:
    """The command that gives the page."""
    words = ["coldspell", "recipe", lot["name"], "--today", lot["today"], "--no-settings"]
    for key, value in lot["said"].items():
        fact = FACTS[key]
        if value is True or value is False:
            word, flag = "yes" if value else "no", fact.about.flag
            if flag is not None and flag[1] == word:
                words.append(f"--{flag[0]}")
                continue
            value = word
        for one in value if isinstance(value, list) else [value]:
            words += [options(fact)[0], str(one)]
    return shlex.join(words)


def main() -> None:
    """Write the pages, a file each, and the list of commands."""
    arguments = argparse.ArgumentParser()
    arguments.add_argument("folder", type=Path)
    arguments.add_argument("--seed", type=int, default=1)
    arguments.add_argument("--count", type=int, default=150)
    given = arguments.parse_args()
    given.folder.mkdir(parents=True, exist_ok=True)
    pick = random.Random(given.seed)
    every, known = sorted(shipped().records.names), raised()
    drawn = [
        *lots.draw(every, 2 * given.count, given.seed),
        *lots.awkward(every, 2 * given.count, given.seed),
    ]
    commands = []
    for number, each in enumerate(pick.sample(drawn, given.count), 1):
        lot = {**each, "name": pick.choice(known)} if number % 3 else each
        lib, said = shipped(), dict(lot["said"])
        try:
            recipe = lib.recipe(lot["name"], today=date.fromisoformat(lot["today"]), **said)
            page = lib.page(recipe)
        except ColdspellError as error:
            page = f"coldspell: {error}\n"
        command = typed(lot)
        commands.append(f"{number:03d}  {command}")
        (given.folder / f"{number:03d}.txt").write_text(f"$ {command}\n\n{page}", encoding="utf-8")
    (given.folder / "commands.txt").write_text("\n".join(commands) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
