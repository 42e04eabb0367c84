"""BibTeX entries: types and fields of the BibTeX manual (O. Patashnik, BibTeXing, 1988, section 3)."""

from __future__ import annotations

from typing import Any

import pytest

from coldspell.library.bibtex import bibtex, entry, escaped


def item(kind: str, **more: Any) -> dict[str, Any]:
    return {"id": "a1", "type": kind, "title": "On seed", **more}


@pytest.mark.parametrize(
    ("kind", "container", "begins", "field"),
    [
        ("article-journal", "Journal", "@article{a1,", "journal = {Journal}"),
        ("chapter", "Book", "@incollection{a1,", "booktitle = {Book}"),
        ("paper-conference", "Proceedings", "@inproceedings{a1,", "booktitle = {Proceedings}"),
        ("webpage", "Site", "@misc{a1,", "howpublished = {Site}"),
    ],
)
def test_types(kind: str, container: str, begins: str, field: str) -> None:
    text = entry(item(kind, **{"container-title": container}))
    assert text.startswith(begins)
    assert f"  {field},\n" in text


def test_an_article_without_a_journal_is_misc() -> None:
    """The manual requires ``journal`` of an article."""
    assert entry(item("article-journal")).startswith("@misc{")


@pytest.mark.parametrize(
    ("kind", "field"), [("report", "institution"), ("thesis", "school"), ("book", "publisher")]
)
def test_who_published_it(kind: str, field: str) -> None:
    assert f"  {field} = {{Press}},\n" in entry(item(kind, publisher="Press"))


def test_people_years_pages_and_places() -> None:
    text = entry(
        item(
            "article-journal",
            author=[
                {"family": "Doe", "given": "J."},
                {"literal": "Seed & Co"},
                {"family": "Beek", "given": "A.", "non-dropping-particle": "van der"},
                {"family": "Roe", "given": "B.", "suffix": "Jr."},
            ],
            issued={"date-parts": [[2008, 7]]},
            page="934-936",
            volume=27,
            issue=4,
            DOI="10.1/x_y",
            URL="https://example.org/a%20b",
            **{"container-title": "Journal"},
        )
    )
    assert "author = {Doe, J. and {Seed \\& Co} and van der Beek, A. and Roe, Jr., B.}," in text
    for field in ("year = {2008}", "pages = {934--936}", "volume = {27}", "number = {4}"):
        assert f"  {field},\n" in text
    assert "doi = {10.1/x_y}" in text  # not a text to be set: kept as it is
    assert "url = {https://example.org/a\\%20b}" in text


def test_titles_keep_their_capitals_and_special_signs() -> None:
    """Two pairs of braces: BibTeX styles make the rest of a title lower case."""
    assert "title = {{Acorns \\& 50\\% of \\$1 \\#2 \\_x}}," in entry(
        item("book", title="Acorns & 50% of $1 #2 _x")
    )
    assert escaped("a~b^c\\d{e}") == r"a\textasciitilde{}b\textasciicircum{}c\textbackslash{}d\{e\}"


def test_braces_match_and_entries_are_apart() -> None:
    text = bibtex([item("book"), item("report", note="seen {twice}")])
    assert text.count("\n\n") == 1
    bare = text.replace("\\{", "").replace("\\}", "")
    assert bare.count("{") == bare.count("}")
    assert " = {}" not in text
