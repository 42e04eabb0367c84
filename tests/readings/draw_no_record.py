"""Pages of kinds without a record, for readers who know the page alone; each with its command.

    python tests/readings/draw_no_record.py FOLDER [--seed N]

Twenty lots, drawn before anybody reads: eight species whose record is hidden, seven whose whole genus is,
and five genera by their name alone (the species are those of ``tests/benchmarks/no_record.py``). States and
days vary; climate and shedding are told, as they are, in every second lot that has none on record.
"""

from __future__ import annotations

import argparse
import random
import shlex
import sys
from datetime import date
from pathlib import Path
from typing import Any, cast

sys.path.insert(0, str(Path(__file__).parent.parent / "benchmarks"))

import no_record

from coldspell.ask import Question, answer
from coldspell.errors import ColdspellError
from coldspell.library.library import Library
from coldspell.lot.read import make_lot
from coldspell.lot.table import FACTS, options
from coldspell.records.name import genus_of
from coldspell.views import one_page

DAYS = [date(2026, 10, 8), date(2026, 11, 30), date(2027, 1, 18), date(2027, 3, 5), date(2027, 6, 12)]
STATES: list[dict[str, Any]] = [
    {},
    {"moisture": "fresh"},
    {"moisture": "dried"},
    {"moisture": "dried", "stored_years": 2},
    {"refrigerator": "none", "winter": "mild"},
    {"refrigerator": "none", "winter": "cold"},
    {"southern": True},
    {"purpose": "school"} if "purpose" in FACTS else {},
]
KINDS = ["record"] * 8 + ["genus"] * 7 + ["name"] * 5


def lots(seed: int) -> list[tuple[str, set[str], dict[str, Any], date]]:
    """The lots: name asked for, records that are hidden, what is said, the day."""
    pick, drawn = random.Random(seed), no_record.drawn()
    genera = [name for name in no_record.RECORDS.names if no_record.RECORDS.get(name).rank == "genus"]
    species = pick.sample(drawn, len(KINDS))
    found = []
    for place, (kind, name) in enumerate(zip(KINDS, species, strict=True)):
        said = {"seeds": pick.choice((4, 8, 15, 30, 60, 150)), **pick.choice(STATES)}
        if kind == "name":
            asked: str = pick.choice(genera)
            found.append((asked, set[str](), said, pick.choice(DAYS)))
            continue
        if place % 2:
            said |= no_record.told(no_record.truth(name))
        genus = genus_of(name) if kind == "genus" else None
        hidden = {n for n in no_record.RECORDS.names if no_record.binomial(n) == name or genus_of(n) == genus}
        found.append((name, hidden, said, pick.choice(DAYS)))
    return found


def command(name: str, said: dict[str, Any], day: date) -> str:
    """What somebody types for the lot."""
    words = ["coldspell", "recipe", name, "--today", day.isoformat(), "--no-settings"]
    for key, value in said.items():
        flag = FACTS[key].about.flag
        words += [f"--{flag[0]}"] if value is True and flag else [options(FACTS[key])[0], str(value)]
    return shlex.join(words)


def main() -> None:
    """Write the pages, a file each."""
    arguments = argparse.ArgumentParser()
    arguments.add_argument("folder", type=Path)
    arguments.add_argument("--seed", type=int, default=1130)
    given = arguments.parse_args()
    given.folder.mkdir(parents=True, exist_ok=True)
    for number, (name, hidden, said, day) in enumerate(lots(given.seed), 1):
        library = cast(Library, no_record.Hidden(hidden))
        try:
            made = answer(Question(name, make_lot(said), day), library, no_record.TABLES, "0" * 16)
            page = one_page.render(made, no_record.LIB.texts, 80)
        except ColdspellError as error:
            page = f"coldspell: {error}\n"
        text = f"$ {command(name, said, day)}\n\n{page}"
        (given.folder / f"{number:02}.txt").write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
