"""A new record: what is known is filled in, all else stands as examples, and the file is valid as it is."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from coldspell.library.schema import Violation, shipped_check
from coldspell.library.template import Draft, Moist, scalar, write_record
from coldspell.yaml import document


def test_the_editor_hint_leads_to_the_schema_without_a_network() -> None:
    first = write_record(draft()).splitlines()[0].partition("$schema=")[2]
    root = Path(__file__).parents[2]
    assert (root / "species" / "exemplum" / first).resolve() == root / "docs" / "schemas" / "record-2.json"
    assert (root / "docs" / "schemas" / "record-2.json").is_file()


def faults(text: str) -> list[str]:
    report: list[Violation] = []
    shipped_check("record")(document.parse(text, "new.yaml"), report)
    return [violation.what for violation in report]


def draft(**known: object) -> Draft:
    return Draft(
        **{"name": "Exemplum novum", "family": "Exemplaceae", "plant": "shrub", "unit": "seed"} | known
    )  # type: ignore[arg-type]


@pytest.mark.parametrize(
    "treatment",
    [
        None,
        Moist(),
        Moist(cold_days=(90,)),
        Moist((60,), (60, 90)),
        Moist(cold_days=(30, 45, 60), scarify=True),
    ],
)
def test_every_draft_is_a_valid_record(treatment: Moist | None) -> None:
    text = write_record(draft(treatment=treatment, source="doe-1999", at="p. 3", basis="read"))
    assert faults(text) == []
    found = document.plain(document.parse(text, "new.yaml"))
    assert found["name"] == "Exemplum novum"
    assert ("treatments" in found) == (treatment is not None)
    if treatment:
        assert found["cites"] == {"first": {"source": "doe-1999", "at": "p. 3", "basis": "read"}}


def test_the_examples_are_valid_as_well() -> None:
    """With the marks of comments taken off, each topic is something that a record may say."""
    text = write_record(draft(treatment=Moist(cold_days=(90,))))
    topics = re.findall(r"^# ((\w+): .*)$", text, re.M)
    known = {"yaml", "Only", "A"}
    tried = 0
    for line, topic in topics:
        if topic in known or topic in ("name", "cites", "treatments"):
            continue
        head = text.split("\n# ")[0]
        body = "\n".join(row for row in text.splitlines() if not row.startswith("#"))
        if re.search(rf"^{topic}:", body, re.M):
            continue
        cites = re.findall(r"\bcite: (\w+)", line)
        whole = body + "\n" + line.partition("    #")[0] + "\n"
        for cite in set(cites) - {"first"}:
            whole = whole.replace("cites:\n", f"cites:\n  {cite}: {{basis: practice}}\n", 1)
        assert faults(whole) == [], (head[:20], line)
        tried += 1
    assert tried >= 12


def test_steps_stand_in_the_order_in_which_they_are_done() -> None:
    one = Moist((60,), (60, 90), scarify=True)
    assert one.name == "scarify-then-warm-then-cold"
    found = document.plain(document.parse(write_record(draft(treatment=one)), "new.yaml"))
    assert found["treatments"][0]["steps"] == [
        {"do": "scarify_mechanical"},
        {"do": "warm_moist", "days": 60},
        {"do": "cold_moist", "days": [60, 90]},
    ]
    assert Moist().name == "no-pretreatment"


@pytest.mark.parametrize("text", ["oak", "× Mixtum", "bur oak (mossycup)", "St John's-wort", "Smith/Jones"])
def test_plain_texts_stand_bare(text: str) -> None:
    assert scalar(text) == text


@pytest.mark.parametrize("text", ["null", "true", "a: b", "#1", " x", "10", "[a]", 'say "x"', "", "é:"])
def test_other_texts_are_quoted_and_read_back(text: str) -> None:
    assert scalar(text) != text
    read = document.plain(document.parse(f"word: {scalar(text)}\n", "f"))
    assert read == {"word": text}
