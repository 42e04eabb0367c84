"""Records of one genus that are nearly alike: each says what is its own, or leaves it to the genus.

No outside source: how alike two records are is measured word by word, names, counts of seed and footnotes
aside.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from difflib import SequenceMatcher
from itertools import combinations
from pathlib import Path
from typing import Any

from coldspell.check.base import footnotes
from coldspell.shipped import find
from coldspell.yaml.document import parse, plain

ALIKE = 0.85
TOPICS = (
    "seed_mm", "bulk", "filled_percent", "live_seed", "storage", "germination", "emergence", "sowing",
    "harvest", "killed_by", "offspring",
)  # fmt: skip
"""What a record takes from its genus where that asks no question."""
_ASIDE = ("name:", "author:", "common_names:", "taxon:", "#", "schema:", "synonyms:", "seeds_per_kg:")
NEEDS_ITS_OWN = {
    "Asimina parviflora": "the storage says that its seed bears no drying, which a check asks of it"
}


def words(path: Path) -> list[str]:
    """The words and signs of a record, without its names and footnotes."""
    body = path.read_text("utf-8").split("\ncites:")[0]
    lines = [re.sub(r"cite: (\[[^\]]*\]|\w+)", "", line) for line in body.split("\n")]
    kept = "\n".join(line for line in lines if line.strip() and not line.startswith(_ASIDE))
    return re.findall(r"[\w.°%-]+|[^\w\s]", kept)


def near_twins(folder: Path) -> Iterator[tuple[Path, Path]]:
    """Pairs of species records of one folder that are more than 85 in 100 alike."""
    species = {
        p: words(p) for p in sorted(folder.glob("*.yaml")) if "\nrank: genus" not in p.read_text("utf-8")
    }
    for one, two in combinations(species, 2):
        match = SequenceMatcher(None, species[one], species[two], autojunk=False)
        if match.real_quick_ratio() > ALIKE and match.quick_ratio() > ALIKE and match.ratio() > ALIKE:
            yield one, two


def repeated(record: dict[str, Any], genus: dict[str, Any]) -> list[str]:
    """Topics that a record gives as its genus does, from practice or memory of practice alone."""
    if "asks" in genus:
        return []
    same = [topic for topic in TOPICS if topic in record and topic in genus]
    return [
        topic
        for topic in same
        if {**record[topic], "cite": 0} == {**genus[topic], "cite": 0}
        and all(record["cites"][name]["basis"] == "practice" for name in footnotes(record[topic]["cite"]))
    ]


def test_near_twins_leave_to_the_genus_what_is_the_genus() -> None:
    found = {}
    for folder in sorted(p for p in find("species").iterdir() if p.is_dir()):
        alike = {path for pair in near_twins(folder) for path in pair}
        if not alike:
            continue
        records = {p: plain(parse(p.read_text("utf-8"), str(p))) for p in folder.glob("*.yaml")}
        genera = {r["name"]: r for r in records.values() if r["rank"] == "genus"}
        for path in alike:
            record = records[path]
            again = repeated(record, genera.get(record["name"].split()[0], {}))
            if again:
                found[record["name"]] = again
    assert found == {}


def test_a_record_that_copies_its_genus_is_seen() -> None:
    genus = {"sowing": {"depth_mm": [3, 6], "cite": "usual"}}
    record = {"sowing": {"depth_mm": [3, 6], "cite": "a"}, "cites": {"a": {"basis": "practice"}}}
    assert repeated(record, genus) == ["sowing"]
    assert repeated({**record, "cites": {"a": {"basis": "read"}}}, genus) == []
    assert repeated(record, {**genus, "asks": {}}) == []
