"""Lots per second of both engines, memo off and on, and what a start costs.

    python tests/benchmarks/rules_speed.py [--rules DIR] [--lots N]

Random lots are the hard case: nearly every one brings label tuples that were not seen before. The second set
repeats 500 lots, as a nursery's list of like lots does.
"""

from __future__ import annotations

import argparse
import random
import subprocess
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent / "rules"))

from rules_lots import SHIPPED, limits, outcome, random_lot

from coldspell.rules import RuleBook, Session, best_engine, load_rules
from coldspell.rules.audit import audit
from coldspell.rules.plain import PlainEngine


def start_costs(folder: Path) -> None:
    """Load, compile and audit once, in milliseconds."""
    for label in ("load, first or warm", "load, warm"):
        started = time.perf_counter()
        book = load_rules([folder])
        print(f"{label:<40}{(time.perf_counter() - started) * 1e3:9.1f} ms")
    engine = best_engine()
    started = time.perf_counter()
    for decision in book.decisions.values():
        engine.matching(decision, tuple(axis.labels[0] for axis in decision.axes))
    what = f"compile and ask {len(book.decisions)} decisions ({engine.name})"
    print(f"{what:<40}{(time.perf_counter() - started) * 1e3:9.1f} ms")
    started = time.perf_counter()
    cells = sum(proof.cells for proof in audit(book).proofs)
    print(f"{f'audit of {cells} cells':<40}{(time.perf_counter() - started) * 1e3:9.1f} ms")
    code = (
        "import sys,pathlib,time; t=time.perf_counter(); import coldspell.rules as r; "
        "b=r.load_rules([pathlib.Path(sys.argv[1])]); e=r.best_engine(); print((time.perf_counter()-t)*1e3)"
    )
    runs = [
        float(
            subprocess.run(
                [sys.executable, "-c", code, str(folder)], capture_output=True, text=True, check=True
            ).stdout
        )
        for _ in range(5)
    ]
    print(f"{'import and load in a new process, best of 5':<40}{min(runs):6.1f} ms")


def rate(book: RuleBook, lots: list[dict[str, object]], engine: str, memo: bool) -> float:
    """Lots per second over all decisions."""
    session = Session(book, best_engine() if engine == "durable" else PlainEngine(), memo=memo)
    outcome(session, lots[0])
    started = time.perf_counter()
    for lot in lots:
        outcome(session, lot)
    return len(lots) / (time.perf_counter() - started)


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rules", type=Path, default=SHIPPED)
    parser.add_argument("--lots", type=int, default=20_000)
    options = parser.parse_args()
    start_costs(options.rules)
    book, chance, marks = load_rules([options.rules]), random.Random(1), limits(options.rules)
    plain, lots = Session(book, PlainEngine()), []
    while len(lots) < options.lots:  # only lots that no impossible row stops
        lot = random_lot(book, chance, marks)
        lots += [lot] if isinstance(outcome(plain, lot), dict) else []
    alike = [lots[index % 500] for index in range(options.lots)]
    for name, these in (("random lots", lots), ("500 lots repeated", alike)):
        for engine in ("plain", "durable"):
            for memo in (False, True):
                said = f"{name:<20}{engine:<10}memo {'on' if memo else 'off':<4}"
                print(f"{said}{rate(book, these, engine, memo):10,.0f} lots/s")


if __name__ == "__main__":
    main()
