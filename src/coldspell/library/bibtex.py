"""Write CSL items as BibTeX (entry types and fields of the BibTeX manual, Patashnik 1988)."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import Any

_TYPES = {
    "article": "article",
    "article-journal": "article",
    "book": "book",
    "chapter": "incollection",
    "paper-conference": "inproceedings",
    "report": "techreport",
    "thesis": "phdthesis",
}
_SMALL_WORD = re.compile(r"(?:^| )[a-z]\S* | and ")
_SPECIAL = re.compile(r"([&%$#_{}])")
_OTHER = {"~": r"\textasciitilde{}", "^": r"\textasciicircum{}", "\\": r"\textbackslash{}"}


def bibtex(items: Iterable[Mapping[str, Any]]) -> str:
    """Return the items as BibTeX entries, in UTF-8, separated by empty lines."""
    return "\n".join(entry(item) for item in items)


def entry(item: Mapping[str, Any]) -> str:
    """Return one entry.

    >>> print(entry({"id": "a1", "type": "book", "title": "Seeds & trees", "author": [{"family": "Doe"}]}))
    @book{a1,
      author = {Doe},
      title = {{Seeds \\& trees}},
    }
    <BLANKLINE>
    """
    kind = _TYPES.get(str(item["type"]), "misc")
    if kind == "article" and "container-title" not in item:
        kind = "misc"
    lines = [f"@{kind}{{{item['id']},"]
    lines += [f"  {key} = {{{value}}}," for key, value in _fields(item, kind) if value]
    return "\n".join([*lines, "}", ""])


def _fields(item: Mapping[str, Any], kind: str) -> Iterable[tuple[str, str]]:
    yield "author", _people(item.get("author", ()))
    yield "editor", _people(item.get("editor", ()))
    yield "title", "{" + escaped(item["title"]) + "}"
    container = {"article": "journal", "incollection": "booktitle", "inproceedings": "booktitle"}.get(kind)
    yield container or "howpublished", escaped(item.get("container-title", ""))
    publisher = {"techreport": "institution", "phdthesis": "school"}.get(kind, "publisher")
    yield publisher, escaped(item.get("publisher", ""))
    yield "type", escaped(item.get("genre", ""))
    yield "series", escaped(item.get("collection-title", ""))
    for key in ("number", "edition", "volume"):
        yield key, escaped(str(item.get(key, "")))
    if "number" not in item:
        yield "number", escaped(str(item.get("issue", "")))
    yield "pages", escaped(str(item.get("page", "")).replace("-", "--"))
    yield "year", _year(item)
    yield "doi", str(item.get("DOI", ""))
    yield "url", str(item.get("URL", "")).replace("%", r"\%")
    yield "note", escaped(item.get("note", ""))


def escaped(text: str) -> str:
    """Escape what TeX keeps for itself."""
    return "".join(_OTHER.get(character) or _SPECIAL.sub(r"\\\1", character) for character in text)


def _people(people: Iterable[Mapping[str, str]]) -> str:
    return " and ".join(_person(person) for person in people)


def _person(person: Mapping[str, str]) -> str:
    if "literal" in person:
        return "{" + escaped(person["literal"]) + "}"
    particle = person.get("non-dropping-particle") or person.get("dropping-particle")
    family = escaped(person["family"])
    if _SMALL_WORD.search(family):  # BibTeX would take small words for a particle, or part the name there
        family = "{" + family + "}"
    parts = [f"{escaped(particle)} {family}" if particle else family]
    return ", ".join([*parts, *(escaped(person[key]) for key in ("suffix", "given") if key in person)])


def _year(item: Mapping[str, Any]) -> str:
    parts = item.get("issued", {}).get("date-parts")
    return str(parts[0][0]) if parts else ""
