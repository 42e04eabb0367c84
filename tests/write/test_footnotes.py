"""Footnotes are numbered in the order of use; short references as in author-date styles."""

from __future__ import annotations

from coldspell.library.references import short_reference as reference
from coldspell.records.model import Cite as RecordCite
from coldspell.records.model import Record
from coldspell.rules import Firing
from coldspell.rules.model import Cite
from coldspell.texts import Texts
from coldspell.write.footnotes import Footnotes

BIBLIOGRAPHY = {
    "doe-1999": {"title": "Seeds", "author": [{"family": "Doe"}],
                 "issued": {"date-parts": [[1999]]}, "DOI": "10.1/x"},
    "roe": {"title": "Nuts.", "publisher": "Press", "URL": "https://example.org/nuts"},
}  # fmt: skip
RECORD = Record(
    name="Exemplum primum", family="Exemplaceae", rank="species", plant="shrub", unit="seed",
    cites={
        "a": RecordCite(basis="read", source="doe-1999", at="p. 3"),
        "b": RecordCite(basis="recalled", source="doe-1999", at="p. 3"),
        "same": RecordCite(basis="read", source="doe-1999", at="p. 3"),
        "usual": RecordCite(basis="practice"),
    },
)  # fmt: skip


def footnotes() -> Footnotes:
    return Footnotes(BIBLIOGRAPHY, Texts({"practice": "common practice"}))


def firing(*cites: Cite) -> Firing:
    return Firing("wait", "rule", "answer", {}, "Because.", "Says.", {}, cites)


def test_equal_ones_share_a_number_and_a_basis_tells_them_apart() -> None:
    notes = footnotes()
    assert notes.of_record(RECORD, ["usual", "a"]) == (1, 2)
    assert notes.of_record(RECORD, ["same", "a", "b"]) == (2, 3)
    assert notes.practice() == 1
    assert notes.of_record(None, ["a"]) == (1,)  # no record: common practice stands in
    assert [(s.number, s.source, s.basis) for s in notes.all()] == [
        (1, None, "practice"), (2, "doe-1999", "read"), (3, "doe-1999", "recalled"),
    ]  # fmt: skip


def test_rules_and_records_share_their_sources() -> None:
    notes = footnotes()
    cited = firing(Cite("read", "doe-1999", "p. 3"), Cite("practice"))
    assert notes.of_rules([cited, cited]) == (1, 2)
    assert notes.of_record(RECORD, ["a"]) == (1,)
    assert notes.of_rules([firing(Cite("recalled", "roe"))]) == (3,)
    assert [s.url for s in notes.all()] == ["https://doi.org/10.1/x", None, "https://example.org/nuts"]
    assert [s.text for s in notes.all()] == ["Doe (1999), Seeds", "common practice", "Press, Nuts"]


def test_a_source_that_is_in_no_bibliography_is_named_by_its_id() -> None:
    assert reference("lost-2001", None) == "lost-2001"


def test_references() -> None:
    people = [{"family": "Aa"}, {"literal": "The Society"}, {"family": "Cc"}, {"family": "Dd"}]
    item = {"title": "On seed", "issued": {"date-parts": [[2008, 5]]}, "container-title": "Journal"}
    assert reference("x", {**item, "author": people[:1]}) == "Aa (2008), On seed. Journal"
    assert reference("x", {**item, "author": people[:2]}) == "Aa & The Society (2008), On seed. Journal"
    assert reference("x", {**item, "author": people[:3]}) == "Aa, The Society & Cc (2008), On seed. Journal"
    assert reference("x", {**item, "author": people}) == "Aa and others (2008), On seed. Journal"
    assert reference("x", {**item, "editor": people[:1]}) == "Aa (2008), On seed. Journal"
    assert reference("x", {"title": "On seed"}) == "On seed"
    assert reference("x", {"publisher": "Press"}) == "Press, x"
