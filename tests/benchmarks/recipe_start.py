"""Start of ``coldspell recipe NAME`` against a bare typer program, alternating, in one run.

    python tests/benchmarks/recipe_start.py [--name NAME] [--runs N] [--program PATH]

Both programs run from compiled byte code in one environment: that of PROGRAM, which may be an installed wheel
(with or without the engine) or a checkout, whose compiled files are warm then. The bare one has one command
and prints one line. Prints which engine answers, smallest and median time of each, and the ratios; on a busy
machine only the smallest times mean something.
"""

from __future__ import annotations

import argparse
import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

BARE = """\
import typer

app = typer.Typer(add_completion=False, rich_markup_mode=None, pretty_exceptions_enable=False)


@app.command()
def hello(name: str) -> None:
    print(f"hello {name}")
"""


def timed(command: list[str], environment: dict[str, str]) -> float:
    """Run a command in a fresh process; return milliseconds."""
    started = time.perf_counter()
    subprocess.run(command, env=environment, check=True, stdout=subprocess.DEVNULL)
    return (time.perf_counter() - started) * 1e3


def main() -> None:
    """Write the bare program, warm both, time them by turns, print."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("--name", default="Quercus alba")
    parser.add_argument("--runs", type=int, default=21)
    parser.add_argument("--program", type=Path, default=Path(sys.executable).with_name("coldspell"))
    options = parser.parse_args()
    python = str(options.program.with_name("python"))
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "bare_hello.py").write_text(BARE)
        subprocess.run([python, "-m", "py_compile", f"{folder}/bare_hello.py"], check=True)
        start = f"import sys; sys.path.append({folder!r}); from bare_hello import app; sys.exit(app())"
        commands = {
            "bare python": [python, "-c", "pass"],
            "bare typer": [python, "-c", start, "you"],
            "recipe": [str(options.program), "recipe", options.name],
        }
        environment = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
        times: dict[str, list[float]] = {name: [] for name in commands}
        for turn in range(options.runs + 3):
            for name, command in commands.items():
                spent = timed(command, environment)
                if turn >= 3:
                    times[name].append(spent)
    print(subprocess.run([options.program, "--version"], capture_output=True, text=True).stdout.strip())
    for name, each in times.items():
        print(f"{name:<12} smallest {min(each):6.1f} ms, median {statistics.median(each):6.1f} ms")
    bare, recipe = times["bare typer"], times["recipe"]
    middle = statistics.median(recipe) / statistics.median(bare)
    print(f"ratio {min(recipe) / min(bare):.2f} (of medians {middle:.2f}); goal for the wheel 1.5")


if __name__ == "__main__":
    main()
