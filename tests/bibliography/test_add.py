"""``species sources add``: works from other programs, checked, sorted, all or none.

BibTeX fields and types: O. Patashnik, BibTeXing (1988); CSL-JSON: the data schema of the Citation Style
Language 1.0.2, of which tests/library/test_published.py holds our part against the whole.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner

from coldspell.bibliography.add import added, checked, with_id
from coldspell.bibliography.entry import entry
from coldspell.bibliography.read import Work, read_works
from coldspell.cli.species import app
from coldspell.errors import ColdspellError
from coldspell.library.bibtex import bibtex
from coldspell.library.load import load_library, shipped_dirs
from coldspell.yaml.document import parse, plain

pytestmark = pytest.mark.long

pytest.importorskip("bibtexparser", reason="type: uv run --all-groups pytest (the group surfaces)")

SHIPPED = load_library(shipped_dirs()).bibliography
PAPER = {
    "id": "http://zotero.example/items/AB12",
    "type": "article-journal",
    "title": "On the <i>Exemplum</i> &amp; its seed",
    "author": [{"family": "Müller", "given": "K."}, {"literal": "Seed Society"}],
    "issued": {"date-parts": [["2011", "3"]]},
    "container-title": "Journal of Invented Seed",
    "DOI": "https://doi.org/10.5555/exemplum",
    "abstract": "Left out.",
    "citation-key": "mueller11",
}


def csl(*items: dict[str, Any]) -> bytes:
    return json.dumps(items).encode()


def bib(text: str) -> list[dict[str, Any]]:
    return [work.item for work in read_works(text.encode(), "a.bib", "bibtex")]


# ---------------------------------------------------------------------------------------------------- reading


def test_csl_json_is_brought_to_what_a_bibliography_holds() -> None:
    (work,) = read_works(csl(PAPER), "a.json", "csl")
    assert with_id(work) == {
        "id": "muller-2011",
        "type": "article-journal",
        "title": "On the Exemplum & its seed",
        "author": [{"family": "Müller", "given": "K."}, {"literal": "Seed Society"}],
        "issued": {"date-parts": [[2011, 3]]},
        "container-title": "Journal of Invented Seed",
        "DOI": "10.5555/exemplum",
    }
    assert work.left_out == ("abstract", "citation-key")


@pytest.mark.parametrize(
    ("written", "author"),
    [
        ("Doe, J. A.", {"family": "Doe", "given": "J. A."}),
        ("Jane van der Doe", {"non-dropping-particle": "van der", "family": "Doe", "given": "Jane"}),
        ("Doe, Jr., John", {"family": "Doe", "suffix": "Jr.", "given": "John"}),
        (r"M{\"u}ller, Kl\'ara", {"family": "Müller", "given": "Klára"}),
        (r"{Seed \& Co and Sons}", {"literal": "Seed & Co and Sons"}),
    ],
)
def test_names_by_the_rules_of_bibtex(written: str, author: dict[str, str]) -> None:
    """BibTeXing, section 4: three forms of a name, braces, accents."""
    (item,) = bib(f"@book{{a, title={{T}}, author={{{written} and Last, A.}}}}")
    assert item["author"] == [author, {"family": "Last", "given": "A."}]


@pytest.mark.parametrize(
    ("entry_type", "fields", "expected"),
    [
        ("article", "journal={J}", {"type": "article-journal", "container-title": "J"}),
        ("article", "number=4, pages={9--12}", {"issue": "4", "page": "9-12"}),
        ("techreport", "institution={I}, number=7", {"type": "report", "publisher": "I", "number": "7"}),
        ("phdthesis", "school={S}", {"type": "thesis", "publisher": "S"}),
        ("incollection", "booktitle={B}", {"type": "chapter", "container-title": "B"}),
        ("misc", "howpublished={Site}, url={https://example.org/a\\%20b_c~d}",
         {"type": "webpage", "URL": "https://example.org/a%20b_c~d"}),
        ("book", "year=2001, month=mar", {"issued": {"date-parts": [[2001, 3]]}}),
        ("book", "date={2001-03-04}", {"issued": {"date-parts": [[2001, 3, 4]]}}),
        ("book", "year={in press}", {"issued": {"literal": "in press"}}),
    ],
)  # fmt: skip
def test_types_and_fields(entry_type: str, fields: str, expected: dict[str, Any]) -> None:
    (item,) = bib(f"@{entry_type}{{a, title={{{{T}}}}, {fields}}}")
    assert item["title"] == "T"
    assert {key: item[key] for key in expected} == expected


def test_our_own_bibtex_comes_back() -> None:
    """What ``sources --format bibtex`` writes of every shipped source is read back as it was."""
    kept = ("id", "title", "author", "editor", "DOI", "volume", "page", "URL")
    back = {item["id"]: item for item in bib(bibtex(SHIPPED.values()))}
    assert set(back) == set(SHIPPED)
    different = {
        name: (item.get(key), back[name].get(key))
        for name, item in SHIPPED.items()
        for key in kept
        if key in item
        if (str(item[key]).replace("--", "-") if key == "page" else str(item[key]))
        != str(_ordered(item.get(key), back[name].get(key)) or "")
    }
    assert different == {}


def _ordered(ours: Any, theirs: Any) -> Any:
    """Their people with the parts in our order: which part stands first is nothing to tell apart."""
    if not isinstance(ours, list) or not isinstance(theirs, list) or len(ours) != len(theirs):
        return theirs
    return [{key: b[key] for key in a} if set(a) == set(b) else b for a, b in zip(ours, theirs, strict=True)]


# --------------------------------------------------------------------------------------------------- refusing


@pytest.mark.parametrize(
    ("data", "form", "what", "where"),
    [
        (b'[{"title": ]', "csl", "not JSON", ":1:12"),
        (b'"text"', "csl", "list of works", ""),
        (b"[]", "csl", "no work", ""),
        (b"\xff\xfe", "csl", "not UTF-8", ":1"),
        (b"[" * 100_000, "csl", "too deep", ""),
        (b"@book{a, title={T}\n@book{b, title={U}}", "bibtex", "cannot be read", ":1"),
        (b"@book{a, title={T}, title={U}}", "bibtex", "cannot be read", ":1"),
        (b"\n@book{a, title={T}}\n@book{a, title={U}}", "bibtex", "cannot be read", ":3"),
        (b"no entry", "bibtex", "no work", ""),
    ],
)
def test_what_cannot_be_read_is_one_clear_error(data: bytes, form: str, what: str, where: str) -> None:
    with pytest.raises(ColdspellError, match=what) as error:
        read_works(data, "works", form)
    assert where in str(error.value)
    assert error.value.mend


@pytest.mark.parametrize(
    ("change", "what"),
    [
        ({"title": ""}, "'title' is a required"),
        ({"type": "articel-journal"}, "articel-journal"),
        ({"DOI": "none"}, "'none'"),
        ({"URL": "example.org"}, "example.org"),
        ({"issued": {"date-parts": [[20111]]}}, "20111"),
    ],
)
def test_what_breaks_the_schema_is_refused(change: dict[str, Any], what: str) -> None:
    works = read_works(csl({**PAPER, **change}), "a.json", "csl")
    with pytest.raises(ColdspellError, match=what):
        checked(works, "a.json", {})


@pytest.mark.parametrize(
    ("change", "what"),
    [
        ({}, "DOI"),
        ({"DOI": "10.5555/EXEMPLUM", "title": "Another"}, "DOI"),
        (
            {"DOI": "10.5555/other", "title": "On the exemplum and its seed!".replace("and", "&")},
            "title, author",
        ),
        ({"DOI": "10.5555/other", "title": "Another"}, "id 'muller-2011'"),
    ],
)
def test_what_is_there_already_is_refused(change: dict[str, Any], what: str) -> None:
    there = checked(read_works(csl(PAPER), "a.json", "csl"), "a.json", {})
    again = read_works(csl({**PAPER, **change}), "b.json", "csl")
    with pytest.raises(ColdspellError, match=what):
        checked(again, "b.json", {one["id"]: one for one in there})
    with pytest.raises(ColdspellError, match=what):  # twice in one file is no better
        checked([*read_works(csl(PAPER), "a.json", "csl"), *again], "b.json", {})


# ---------------------------------------------------------------------------------------------------- writing


def test_works_come_to_their_place_and_nothing_else_moves() -> None:
    before = (
        "# Head.\n- id: b\n  type: book\n  title: B   # a remark\n# of d\n- id: d\n  type: book\n  title: D\n"
    )
    new = [{"id": name, "type": "book", "title": name.upper()} for name in ("e", "a", "c")]
    after = added(before, new, "b.yaml")
    assert [one["id"] for one in plain(parse(after, "b.yaml"))] == ["a", "b", "c", "d", "e"]
    for line in before.splitlines():
        assert line in after.splitlines()
    assert after.startswith("# Head.\n- id: a\n")
    assert "title: C\n# of d\n- id: d\n" in after


def test_every_shipped_work_is_written_as_it_is_read() -> None:
    for item in SHIPPED.values():
        assert plain(parse(entry(item), "x")) == [item]


def test_the_shipped_bibliography_takes_a_work_in() -> None:
    path = shipped_dirs()[0] / "bibliography.yaml"
    before = path.read_text("utf-8")
    after = added(before, [{"id": "m-0000", "type": "book", "title": "M"}], str(path))
    assert after.replace("- id: m-0000\n  type: book\n  title: M\n", "") == before


@pytest.mark.parametrize(
    "there", ["- id: b\n  type: book\n  title: B\n- id: a\n  type: book\n  title: A\n", "- id: a\n"]
)
def test_a_bibliography_that_is_not_sound_is_not_touched(there: str) -> None:
    with pytest.raises(ColdspellError):
        added(there, [{"id": "c", "type": "book", "title": "C"}], "b.yaml")


def run(*arguments: str | Path, given: str | None = None) -> Any:
    return CliRunner().invoke(app, ["sources", "add", *map(str, arguments)], input=given)


def test_the_command_writes_a_new_bibliography_then_refuses_the_same(tmp_path: Path) -> None:
    (tmp_path / "a.json").write_bytes(csl(PAPER))
    written = tmp_path / "bibliography.yaml"
    dry = run(tmp_path / "a.json", "--into", tmp_path, "--dry-run")
    assert "- id: muller-2011" in dry.stdout
    assert not written.exists()
    assert run(tmp_path / "a.json", "--into", tmp_path, "--id", "mueller-2011").exit_code == 0
    first = written.read_text("utf-8")
    assert plain(parse(first, "x"))[0]["id"] == "mueller-2011"
    again = run(tmp_path / "a.json", "--into", tmp_path)
    assert "Cite 'mueller-2011'" in again.exception.mend
    assert written.read_text("utf-8") == first


def test_one_fault_among_many_writes_nothing(tmp_path: Path) -> None:
    good = {"id": "fine-2000", "type": "book", "title": "Fine"}
    result = run(
        "-", "--format", "csl", "--into", tmp_path, given=csl(good, {"id": "x", "type": "book"}).decode()
    )
    assert isinstance(result.exception, ColdspellError)
    assert list(tmp_path.iterdir()) == []


def test_a_shipped_source_is_cited_not_copied(tmp_path: Path) -> None:
    doi = next(item["DOI"] for item in SHIPPED.values() if "DOI" in item)
    work = {**PAPER, "DOI": doi.upper()}
    result = run("-", "--format", "csl", "--into", tmp_path, given=csl(work).decode())
    assert "is there already" in result.exception.what


@pytest.mark.parametrize(
    ("arguments", "mend"),
    [
        (("missing.json",), "Name a file"),
        (("works.txt",), "--format"),
        (("-",), "--format"),
        (("works.json", "--into", "no-such-folder"), "folder of a library"),
    ],
)
def test_wrong_use_is_one_clear_error(tmp_path: Path, arguments: tuple[str, ...], mend: str) -> None:
    result = run(*arguments, *(() if "--into" in arguments else ("--into", tmp_path)), given="")
    assert isinstance(result.exception, ColdspellError), result.exception
    assert mend in result.exception.mend


def test_no_shipped_work_stands_twice() -> None:
    """The same check over the shipped bibliography: no DOI, and no title of one author and year, twice."""
    works = [Work(dict(item), (), 0) for item in SHIPPED.values()]
    assert len(checked(works, "bibliography.yaml", {})) == len(SHIPPED)
