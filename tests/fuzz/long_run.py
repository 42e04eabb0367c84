"""Run attempts of one kind for long and count what came of them.

    python tests/fuzz/long_run.py lots|typed|files|kills COUNT [--seed N] [--first F] [--seconds S] [--jobs J]

Writes each fault, with what shows it again, and one line of JSON for each process. Of J processes each makes
every J-th attempt of the one seed, so together they find what one alone finds. ``--first`` leaves out the
attempts before it: with it a run goes on where another ended. Exit code 1 when there are faults. Of lots all
are held against every invariant; "twice" counts those that were asked with and without reasons as well.
"""

from __future__ import annotations

import argparse
import gc
import json
import os
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter
from functools import lru_cache
from itertools import islice
from pathlib import Path

ROOT = Path(__file__).parents[1]
sys.path[:0] = [str(ROOT / room) for room in ("fuzz", "house", "recipe")]
MOST_SHOWN = 100


def main() -> int:
    """Run, count, tell."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("kind", choices=("lots", "typed", "files", "kills"))
    parser.add_argument("count", type=int)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--first", type=int, default=0, help="number of the first attempt")
    parser.add_argument("--every", type=int, default=1, help="of so many attempts one is made")
    parser.add_argument("--seconds", type=float, default=float("inf"))
    parser.add_argument("--jobs", type=int, default=1)
    given = parser.parse_args()
    if given.jobs > 1:
        return _shared(given)
    signal.signal(signal.SIGINT, signal.default_int_handler)  # a shell lets what it runs behind ignore it
    _keep_the_library()
    import attempts
    import kills

    kinds = {
        "lots": attempts.drawn_lots,
        "typed": attempts.typed,
        "files": attempts.broken_files,
        "kills": kills.killed,
    }
    tally: Counter[str] = Counter()
    faults: list[str] = []
    twice = 0
    start = time.monotonic()
    with tempfile.TemporaryDirectory() as folder:
        os.chdir(folder)
        os.environ["COLDSPELL_SETTINGS"] = str(Path(folder) / "none" / "settings.yaml")
        made = kinds[given.kind](given.seed, Path(folder), given.first, given.every)
        for outcome in islice(made, given.count):
            tally[outcome.kind] += 1
            twice += outcome.twice
            if sum(tally.values()) == 10:
                gc.collect()
                gc.freeze()  # what is loaded by now stays: looking through it takes an eighth of the time
                gc.set_threshold(100_000)
            if outcome.kind == "fault":
                faults.append(outcome.what)
                print(outcome.what.encode("ascii", "backslashreplace").decode(), file=sys.stderr, flush=True)
            if sum(tally.values()) % 100 == 0:
                print(f"{dict(tally)} after {time.monotonic() - start:.0f} s", file=sys.stderr, flush=True)
            if len(faults) >= MOST_SHOWN or time.monotonic() - start > given.seconds:
                break
        os.chdir("/")
    took = {"seconds": round(time.monotonic() - start), "of_processor": round(time.process_time())}
    which = {"kind": given.kind, "seed": given.seed, "first": given.first, "every": given.every}
    print(json.dumps({**which, **took, **tally, "twice": twice}), flush=True)
    return 1 if faults else 0


def _shared(given: argparse.Namespace) -> int:
    """The same in several processes, each with every so many attempts of the one seed."""
    more = [] if given.seconds == float("inf") else ["--seconds", str(given.seconds)]
    runs = []
    for job in range(given.jobs):
        share = len(range(job, given.count, given.jobs))
        first = given.first + job * given.every
        which = ["--first", str(first), "--every", str(given.jobs * given.every)]
        command = [sys.executable, __file__, given.kind, str(share), "--seed", str(given.seed)]
        runs.append(subprocess.Popen([*command, *which, *more]))
    return max(run.wait() for run in runs)


def _keep_the_library() -> None:
    """Load each library once: within one run none of the shipped files changes."""
    from coldspell.library import load

    loaded = load.load_library
    shipped = lru_cache(maxsize=1)(lambda: loaded(load.shipped_dirs()))

    def kept(folders, *rest, **more):  # type: ignore[no-untyped-def]
        plain = list(folders) == list(load.shipped_dirs()) and not rest and not more
        return shipped() if plain else loaded(folders, *rest, **more)

    load.load_library = kept


if __name__ == "__main__":
    sys.exit(main())
