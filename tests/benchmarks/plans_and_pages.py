"""Lots a second for plans and for pages in one run, and the memory that they take: run by hand.

python tests/benchmarks/plans_and_pages.py [LOTS]
"""

from __future__ import annotations

import resource
import sys
import time
from datetime import date
from itertools import cycle, islice
from pathlib import Path

import coldspell

sys.path.insert(0, str(Path(__file__).parents[1] / "house"))
import lots

DAY = date(2026, 11, 30)


def main(count: int) -> None:
    """Plan the same lots and write their pages; prints rates and the peak of memory."""
    library = coldspell.Library()
    drawn = list(lots.draw(library.records.names, 3000))
    rows = [{"name": lot["name"], **lot["said"]} for lot in islice(cycle(drawn), count)]
    sum(1 for _ in library.plans(rows[:200], today=DAY))  # the first lots read records and fill the memo
    start = time.process_time()
    planned = sum(not isinstance(p, coldspell.ColdspellError) for p in library.plans(rows, today=DAY))
    plans = time.process_time() - start
    start = time.process_time()
    written = 0
    for row in rows:
        facts = {k: v for k, v in row.items() if k != "name"}
        try:
            written += bool(library.page(library.recipe(str(row["name"]), today=DAY, **facts)))
        except coldspell.ColdspellError:
            continue
    pages = time.process_time() - start
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"{planned} plans {count / plans:.0f}/s, {written} pages {count / pages:.0f}/s, peak {peak:.0f} MB")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 3000)
