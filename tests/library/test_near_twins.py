"""Records of one genus that are nearly alike: each says what is its own, or leaves it to the genus.

No outside source: how alike two records are is measured word by word, names, counts of seed and footnotes
aside.
"""

from __future__ import annotations

from near_twins import folders, near_twins, repeated

from coldspell.yaml.document import parse, plain

NEEDS_ITS_OWN = {
    "Asimina parviflora": "the storage says that its seed bears no drying, which a check asks of it"
}

MOST = 121
"""Pairs over 85 in 100 alike on 1 December 2026, most of them rows of one table or one practice."""


def test_near_twins_leave_to_the_genus_what_is_the_genus() -> None:
    found = {}
    for folder in folders():
        alike = {path for pair in near_twins(folder) for path in (pair.one, pair.two)}
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


def test_near_twins_become_fewer() -> None:
    """What stands now, told so that no new twin goes unseen; the list is ``near_twins.py``'s."""
    pairs = [pair for folder in folders() for pair in near_twins(folder)]
    assert len(pairs) <= MOST, "a new record says little of its own: leave to the genus what is the genus's"


def test_a_record_that_copies_its_genus_is_seen() -> None:
    practice, page = {"u": {"basis": "practice"}}, {"p": {"source": "book", "basis": "read"}}
    genus = {"sowing": {"depth_mm": [3, 6], "cite": "u"}, "cites": practice}
    record = {"sowing": {"depth_mm": [3, 6], "cite": "a"}, "cites": {"a": {"basis": "practice"}}}
    assert repeated(record, genus) == ["sowing"]
    assert repeated({**record, "cites": {"a": {"source": "book", "basis": "read"}}}, genus) == []
    assert repeated(record, {**genus, "asks": {}}) == []
    told = {"not_used": [{"says": "Acid.", "cite": "p"}], "cites": page}
    assert repeated(told, told) == ["not_used"]
    assert repeated({"storage": {"years": 5, "cite": "p"}, "cites": page}, genus) == []
