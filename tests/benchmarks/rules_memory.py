"""Memory of this process while a million random lots run through the rules (Linux).

python tests/benchmarks/rules_memory.py [--rules DIR] [--lots N] [--engine durable|plain] [--no-memo]
"""

from __future__ import annotations

import argparse
import os
import random
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent / "rules"))

from rules_lots import SHIPPED, limits, outcome, random_lot

from coldspell.rules import Session, best_engine, load_rules
from coldspell.rules.plain import PlainEngine


def resident_mb() -> float:
    """Resident memory in megabytes (10^6 bytes)."""
    pages = int(Path("/proc/self/statm").read_text().split()[1])
    return pages * os.sysconf("SC_PAGE_SIZE") / 1e6


def main() -> None:
    """Print lots, lots per second (making the lots included) and memory at each tenth."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rules", type=Path, default=SHIPPED)
    parser.add_argument("--lots", type=int, default=1_000_000)
    parser.add_argument("--engine", choices=("durable", "plain"), default="durable")
    parser.add_argument("--no-memo", action="store_true")
    options = parser.parse_args()
    book, chance, marks = load_rules([options.rules]), random.Random(1), limits(options.rules)
    engine = best_engine() if options.engine == "durable" else PlainEngine()
    session = Session(book, engine, memo=not options.no_memo)
    print(
        f"{engine.name}, memo {'off' if options.no_memo else 'on'}; at start {resident_mb():.1f} MB",
        flush=True,
    )
    started = time.perf_counter()
    for done in range(1, options.lots + 1):
        outcome(session, random_lot(book, chance, marks))
        if done % (options.lots // 10) == 0:
            rate = done / (time.perf_counter() - started)
            print(f"{done:>10,} lots {rate:8,.0f} lots/s {resident_mb():8.1f} MB", flush=True)


if __name__ == "__main__":
    main()
