"""Records of one genus that are nearly alike, word by word; names, counts of seed and footnotes aside.

    python tests/library/near_twins.py [GENUS …]

lists the pairs, most alike first, and beside each the topics in which the two differ. Each pair is then read:
what is of the genus goes to the genus record, what is the species' own is said, and no recipe page loses
advice.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from difflib import SequenceMatcher
from itertools import combinations
from pathlib import Path
from typing import Any

from coldspell.check.base import footnotes
from coldspell.shipped import find
from coldspell.yaml.document import parse, plain

ALIKE = 0.85
TOPICS = (
    "seed_mm", "bulk", "handling", "filled_percent", "live_seed", "storage", "germination", "emergence",
    "sowing", "harvest", "killed_by", "offspring", "not_used",
)  # fmt: skip
"""What a record takes from its genus where that asks no question."""
_ASIDE = ("name:", "author:", "common_names:", "taxon:", "#", "schema:", "synonyms:", "seeds_per_kg:")


@dataclass(frozen=True, slots=True, order=True)
class Pair:
    """Two records and how much of their words is the same, from 0 to 1."""

    share: float
    one: Path
    two: Path


def words(path: Path) -> list[str]:
    """The words and signs of a record, without its names and footnotes."""
    body = path.read_text("utf-8").split("\ncites:")[0]
    lines = [re.sub(r"cite: (\[[^\]]*\]|\w+)", "", line) for line in body.split("\n")]
    kept = "\n".join(line for line in lines if line.strip() and not line.startswith(_ASIDE))
    return re.findall(r"[\w.°%-]+|[^\w\s]", kept)


def near_twins(folder: Path) -> Iterator[Pair]:
    """Pairs of species records of one folder that are more than 85 in 100 alike."""
    species = {
        p: words(p) for p in sorted(folder.glob("*.yaml")) if "\nrank: genus" not in p.read_text("utf-8")
    }
    for one, two in combinations(species, 2):
        match = SequenceMatcher(None, species[one], species[two], autojunk=False)
        if match.real_quick_ratio() > ALIKE and match.quick_ratio() > ALIKE and match.ratio() > ALIKE:
            yield Pair(match.ratio(), one, two)


def folders() -> list[Path]:
    """The folders of the shipped library, one for each genus."""
    return sorted(path for path in find("species").iterdir() if path.is_dir())


def repeated(record: dict[str, Any], genus: dict[str, Any]) -> list[str]:
    """Topics that a record gives as its genus does, word by word and from the same sources.

    Not the law: the page says of a genus only that some of its kinds may be restricted. Not dormancy, for
    which a list names the species.
    """
    if "asks" in genus:
        return []
    both = [topic for topic in TOPICS if topic in record and topic in genus]
    return [t for t in both if _told(record[t], record) == _told(genus[t], genus) and not _own(t, record)]


def _own(topic: str, record: dict[str, Any]) -> bool:
    """Whether a source tells it of this species: storage, or sowing with its marks, which each says."""
    return topic in ("storage", "sowing") and any(
        record["cites"][name]["basis"] != "practice" for name in footnotes(record[topic]["cite"])
    )


def _told(value: Any, record: dict[str, Any]) -> Any:
    """A value with its footnotes replaced by what they stand for."""
    if isinstance(value, dict):
        return {
            key: _cited(one, record) if key == "cite" else _told(one, record) for key, one in value.items()
        }
    return [_told(one, record) for one in value] if isinstance(value, list) else value


def _cited(names: Any, record: dict[str, Any]) -> list[tuple[str, str]]:
    cites = (record["cites"][name] for name in footnotes(names))
    return sorted((one.get("source") or "", one["basis"]) for one in cites)


def _differ(one: Path, two: Path) -> str:
    a, b = (plain(parse(path.read_text("utf-8"), str(path))) for path in (one, two))
    aside = ("name", "author", "common_names", "taxon", "schema", "synonyms", "cites")
    keys = [key for key in sorted(a.keys() | b.keys()) if key not in aside and a.get(key) != b.get(key)]
    return ", ".join(keys) or "nothing"


def main() -> None:
    """List the pairs."""
    wanted = set(sys.argv[1:])
    pairs = [
        pair for folder in folders() if not wanted or folder.name in wanted for pair in near_twins(folder)
    ]
    for pair in sorted(pairs, reverse=True):
        print(f"{pair.share:.3f}  {pair.one.stem} | {pair.two.stem}: {_differ(pair.one, pair.two)}")
    print(f"{len(pairs)} pairs over {ALIKE:.0%}")


if __name__ == "__main__":
    main()
