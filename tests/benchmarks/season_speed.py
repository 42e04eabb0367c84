"""Lots a second of a season by its size and its jobs, from nothing and once more, with memory: run by hand.

    python tests/benchmarks/season_speed.py [LOTS]…

Lots are drawn over all records and seventy states, each kind as seldom as can be: a season of few kinds is
faster, since what a kind alone decides is worked out once.
"""

from __future__ import annotations

import resource
import sys
import tempfile
import time
from pathlib import Path

from coldspell.season.planning import Planner, Setting, planned
from coldspell.tables.read import open_lots

sys.path.insert(0, str(Path(__file__).parents[1] / "house"))
sys.path.insert(0, str(Path(__file__).parents[1] / "season"))
from seasons import DAY, some_lots, written


def main(sizes: list[int]) -> None:
    """Plan tables of some sizes; prints the rate of processor time, and of wall time with two jobs."""
    names = Planner(Setting(DAY))
    with tempfile.TemporaryDirectory() as folder:
        for count in sizes:
            path = written(Path(folder) / f"{count}.csv", some_lots(names, count, 7))
            planner = Planner(Setting(DAY))
            rates = []
            for _ in range(2):
                start = time.process_time()
                _run(path, planner, 1)
                rates.append(count / (time.process_time() - start))
            start = time.perf_counter()
            _run(path, planner, 2)
            wall = count / (time.perf_counter() - start)
            peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
            print(
                f"{count} lots: {rates[0]:.0f}/s, again {rates[1]:.0f}/s, 2 jobs {wall:.0f}/s, {peak:.0f} MB"
            )


def _run(path: Path, planner: Planner, jobs: int) -> None:
    with open_lots(str(path)) as table:
        for _ in planned(table, planner, jobs):
            pass


if __name__ == "__main__":
    main([int(word) for word in sys.argv[1:]] or [300, 3000])
