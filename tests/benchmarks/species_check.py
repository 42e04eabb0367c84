"""Cold check of generated records against a general-purpose JSON Schema checker, on the same files.

Run: ``python tests/benchmarks/species_check.py [COUNT]`` (default 10,000). Prints the times of

- ``coldspell species check`` (form, footnotes, ranges, limits, names, the library as a whole), and
- ``check-jsonschema --schemafile docs/schemas/record-2.json`` (form only), told to read the same YAML files,

each as a fresh process with no cache, and the growth of the first from a quarter to all of the records.
"""

from __future__ import annotations

import json
import os
import random
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from coldspell import shipped
from coldspell.library.files import BIBLIOGRAPHY, NOT_RECORDS, walk
from coldspell.records.name import slug
from coldspell.yaml import document

SCHEMA = Path(__file__).parent.parent.parent / "docs" / "schemas" / "record-2.json"
CHECK = "import sys; from coldspell.cli.species import app; app(['check', sys.argv[1], '--format', 'json'])"


def generate(folder: Path, count: int) -> None:
    """Write copies of shipped records under invented names, spread over invented genera."""
    rng = random.Random(11)
    library = shipped.find("species")
    sources = [path for name, path in walk(library) if name not in NOT_RECORDS]
    texts = [text for text in (path.read_text() for path in sources) if "\nrank: species" in text]
    shutil.copy(library / BIBLIOGRAPHY, folder / BIBLIOGRAPHY)
    for number in range(count):
        genus = f"Fictum{letters(number // 50)}"
        name = f"{genus} {letters(number % 50)}{rng.choice(['ense', 'oides', 'atum'])}"
        place = folder / genus.lower()
        place.mkdir(exist_ok=True)
        (place / f"{slug(name)}.yaml").write_text(renamed(texts[number % len(texts)], name))


def letters(number: int) -> str:
    """Return a number as a syllable of four letters, no two alike by one letter only."""
    alphabet = "bdfgklmnprstvz"
    return "".join(
        alphabet[number // len(alphabet) ** place % len(alphabet)]
        + "aeiou"[number // len(alphabet) ** place % 5]
        for place in range(3)
    )


def renamed(text: str, name: str) -> str:
    """Return a record under another name, without what would collide or be another genus's."""
    lines = []
    for line in text.splitlines():
        if line.startswith("name: "):
            line = f"name: {name}"
        elif line.startswith("family: "):
            line = "family: Fictaceae"
        elif line.startswith("synonyms: "):
            continue
        lines.append(line)
    return "\n".join(lines) + "\n"


def timed(command: list[str], cwd: Path, environment: dict[str, str]) -> tuple[float, str]:
    """Run a command in a fresh process; return seconds and what it printed."""
    start = time.perf_counter()
    done = subprocess.run(command, cwd=cwd, env=environment, capture_output=True, text=True)
    return time.perf_counter() - start, done.stdout + done.stderr


def own(folder: Path) -> tuple[float, dict[str, int]]:
    """Time the check of this project; return seconds and its counts."""
    environment = {**os.environ, "COLDSPELL_CACHE": "off"}
    seconds, said = timed([sys.executable, "-c", CHECK, str(folder)], folder, environment)
    result = json.loads(said)
    return seconds, {key: result[key] for key in ("records", "errors", "warnings")}


def other(folder: Path) -> tuple[float, str]:
    """Time the general-purpose checker on the same records."""
    files = [str(path) for name, path in walk(folder) if name not in NOT_RECORDS]
    listed = folder.parent / "files.txt"
    listed.write_text("\n".join(files))
    tool = str(Path(sys.executable).with_name("check-jsonschema"))
    command = ["xargs", "-a", str(listed), "-n", str(len(files)), "-s", "1900000"]
    return timed([*command, tool, "--schemafile", str(SCHEMA)], folder, dict(os.environ))


def main(count: int) -> None:
    """Generate, time, print."""
    with tempfile.TemporaryDirectory() as name:
        quarter, whole = Path(name) / "quarter", Path(name) / "whole"
        for folder, size in ((quarter, count // 4), (whole, count)):
            folder.mkdir()
            generate(folder, size)
        small, _ = own(quarter)
        seconds, counts = own(whole)
        theirs, said = other(whole)
        print(f"coldspell species check: {seconds:.2f} s for {counts}")
        print(f"check-jsonschema:        {theirs:.2f} s ({said.strip().splitlines()[-1][:80]})")
        print(
            f"ratio {theirs / seconds:.1f}; four times the records took {seconds / small:.2f} times as long"
        )
        print(f"C parser: {document.has_c_parser()}; Python {sys.version.split()[0]}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 10_000)
