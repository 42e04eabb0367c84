"""Claims for a reader who opens the sources: drawn at random in strata before anybody looks.

    python tests/readings/draw_claims.py FILE [--seed N] [--seen]
    python tests/readings/draw_claims.py FILE --count

A claim is one map of a record that cites footnotes: a treatment, a seed size, a hazard, an entry of what is
not used, … It belongs to one stratum: hazards by what it is, the others by the best that its footnotes offer.
With --seen only what can be opened again is drawn: the pages at hand and claims whose read footnotes are all
open data. The reader judges each at its place: right; wrong (any number, word or sentence contradicts it);
arguable (a stretch, an inference that is not said, a choice that another reader would make otherwise);
not seen (the place cannot be had); no source (practice).
"""

from __future__ import annotations

import argparse
import csv
import random
import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from coldspell.check.base import footnotes
from coldspell.shipped import find
from coldspell.yaml.document import parse, plain

HANDBOOK, PAGES = "bonner-karrfalt-2008", range(706, 1191)
"""The handbook, and its pages of which a copy with text is at hand."""
SHARES = {
    "handbook at hand": 130,
    "other handbook": 60,
    "other read": 100,
    "recalled": 40,
    "practice": 40,
    "hazards": 30,
}
OPEN_DATA = {
    "seedarc-disturbance", "alpine-spectrum", "alpine-traits", "sylvanseeds", "fernandez-pascual-2021",
    "meadow-seed-ecology", "baskin-dormancy-database", "baskin-dormancy-dataset", "usda-plants",
    "henniges-2022",
}  # fmt: skip
SEEN = {"handbook at hand": 120, "open data": 80}
Claim = tuple[str, str, str, Any, dict[str, Any]]


def claims() -> Iterator[Claim]:
    """Every claim: stratum, record, where in it, the map, its footnotes; in the order of files."""
    root = find("species")
    for path in sorted(root.glob("*/*.yaml")):
        record = plain(parse(path.read_text("utf-8"), str(path)))
        cites = record.get("cites", {})
        for where, value in _maps(record, ""):
            own = {name: cites[name] for name in footnotes(value["cite"])}
            yield stratum(where, own), record["name"], where, value, own


def _maps(value: Any, where: str) -> Iterator[tuple[str, dict[str, Any]]]:
    if isinstance(value, dict):
        if "cite" in value:
            yield where, value
        for key, item in value.items():
            if key not in ("cites", "cite"):
                yield from _maps(item, f"{where}.{key}".lstrip("."))
    elif isinstance(value, list):
        for number, item in enumerate(value, 1):
            yield from _maps(item, f"{where}[{number}]")


def stratum(where: str, cites: dict[str, Any]) -> str:
    """The stratum of a claim."""
    if where.startswith("hazards"):
        return "hazards"
    read = [one for one in cites.values() if one["basis"] == "read"]
    handbook = [str(one.get("at", "")) for one in read if one["source"] == HANDBOOK]
    if any(int(page) in PAGES for at in handbook for page in re.findall(r"\d{3,4}", at)):
        return "handbook at hand"
    if handbook:
        return "other handbook"
    if read:
        return "other read"
    return "recalled" if any(one["basis"] == "recalled" for one in cites.values()) else "practice"


def opened(claim: Claim) -> Claim:
    """The claim, in the stratum of open data if it rests on nothing else that was read."""
    read = {one["source"] for one in claim[4].values() if one["basis"] == "read"}
    return ("open data", *claim[1:]) if claim[0] == "other read" and read <= OPEN_DATA else claim


def draw(seed: int, shares: dict[str, int]) -> list[Claim]:
    """The sample of the strata."""
    every = [opened(claim) for claim in claims()] if "open data" in shares else list(claims())
    chance = random.Random(seed)
    return [
        one
        for name, share in shares.items()
        for one in chance.sample([claim for claim in every if claim[0] == name], share)
    ]


def count(file: Path) -> str:
    """Verdicts by stratum; the share of wrong ones among those seen, with its 95 % interval (Wilson 1927)."""
    from scipy.stats import binomtest

    with file.open(encoding="utf-8", newline="") as stream:
        told = [(row["stratum"], row["verdict"]) for row in csv.DictReader(stream)]
    lines = [f"{'':18}{'drawn':>6}{'right':>7}{'arguable':>10}{'wrong':>7}   wrong of those seen"]
    for name in (*dict.fromkeys(stratum for stratum, _ in told), "all"):
        of = Counter(verdict for stratum, verdict in told if name in (stratum, "all"))
        seen = of["right"] + of["arguable"] + of["wrong"]
        share = "none seen"
        if seen:
            ends = binomtest(of["wrong"], seen).proportion_ci(method="wilson")
            share = f"{of['wrong'] / seen:.1%} of {seen} ({ends.low:.1%} to {ends.high:.1%})"
        counts = f"{of.total():6}{of['right']:7}{of['arguable']:10}{of['wrong']:7}"
        lines.append(f"{name:18}{counts}   {share}")
    return "\n".join(lines)


def main() -> None:
    """Write the sample as a table to fill in."""
    arguments = argparse.ArgumentParser()
    arguments.add_argument("file", type=Path)
    arguments.add_argument("--seed", type=int, default=20261130)
    arguments.add_argument("--seen", action="store_true", help="only what can be opened again")
    arguments.add_argument("--count", action="store_true", help="count the verdicts of a table filled in")
    given = arguments.parse_args()
    if given.count:
        print(count(given.file))
        return
    with given.file.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(["number", "stratum", "record", "where", "claim", "footnotes", "verdict", "why"])
        drawn = draw(given.seed, SEEN if given.seen else SHARES)
        for number, (name, record, where, value, cites) in enumerate(drawn, 1):
            writer.writerow([number, name, record, where, value, cites, "", ""])


if __name__ == "__main__":
    main()
