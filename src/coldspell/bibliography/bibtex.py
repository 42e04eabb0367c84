"""Works of a BibTeX file as CSL data (entry types and fields of BibTeX, Patashnik 1988, and of BibLaTeX)."""

from __future__ import annotations

import re
from collections.abc import Iterator
from logging import CRITICAL, getLogger
from typing import Any

from coldspell.errors import ColdspellError, Place
from coldspell.extras import extra

_TYPES = {
    "article": "article-journal", "book": "book", "booklet": "pamphlet", "collection": "book",
    "conference": "paper-conference", "dataset": "dataset", "electronic": "webpage", "inbook": "chapter",
    "incollection": "chapter", "inproceedings": "paper-conference", "inreference": "entry",
    "manual": "report", "mastersthesis": "thesis", "misc": "document", "mvbook": "book", "online": "webpage",
    "patent": "patent", "phdthesis": "thesis", "proceedings": "book", "report": "report",
    "software": "software", "standard": "standard", "techreport": "report", "thesis": "thesis",
    "unpublished": "manuscript", "www": "webpage",
}  # fmt: skip
_FIELDS = {
    "title": "title", "journal": "container-title", "journaltitle": "container-title",
    "booktitle": "container-title", "howpublished": "container-title", "publisher": "publisher",
    "institution": "publisher", "school": "publisher", "organization": "publisher",
    "address": "publisher-place", "location": "publisher-place", "series": "collection-title",
    "volume": "volume", "edition": "edition", "pages": "page", "doi": "DOI", "url": "URL", "isbn": "ISBN",
    "issn": "ISSN", "note": "note", "type": "genre", "chapter": "chapter-number", "version": "version",
    "language": "language", "langid": "language",
}  # fmt: skip
_AS_IT_STANDS = ("doi", "url")
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_GENRE = {"mastersthesis": "Master's thesis"}


def works(text: str, file: str) -> Iterator[tuple[dict[str, Any], int]]:
    """Yield the CSL data of each entry and its line.

    Raises
    ------
    ColdspellError
        The library that reads BibTeX is not installed, or at the first entry that is not sound.
    """
    bibtexparser = extra("bibtexparser", "sources", "BibTeX")
    getLogger("bibtexparser").setLevel(CRITICAL)  # its faults are told below, once
    library = bibtexparser.parse_string(text)
    for block in library.failed_blocks:
        line = (block.start_line or 0) + 1
        said = " ".join(str(block.error or "").split()) or "a brace or a comma is missing"
        mend = "Correct it, or export it anew."
        raise ColdspellError(f"this entry cannot be read: {said}", Place(file, line), mend)
    for entry in library.entries:
        written = {one.key.lower(): str(one.value) for one in entry.fields}
        item = _item(entry.entry_type.lower(), written)
        for key in ("author", "editor"):
            if key in written:
                item[key] = list(_people(written[key], Place(file, (entry.start_line or 0) + 1)))
        yield {"id": entry.key, **item}, (entry.start_line or 0) + 1


def _item(kind: str, written: dict[str, str]) -> dict[str, Any]:
    """The fields that are texts; keys that BibTeX knows and CSL does not keep their name, to be told of."""
    item: dict[str, Any] = {"type": _TYPES.get(kind, "document")}
    if kind in _GENRE:
        item["genre"] = _GENRE[kind]
    for key, value in written.items():
        if key in _AS_IT_STANDS:
            item[_FIELDS[key]] = re.sub(r"\\([%&#_$~])", r"\1", value)
        elif key == "pages":
            item["page"] = re.sub(r"\s*(?:-{1,3}|–|—)\s*", "-", _decoded(value))
        elif key in ("number", "issue"):
            item["issue" if kind == "article" else "number"] = _decoded(value)
        elif key not in ("author", "editor", "year", "date", "month", "day"):
            item[_FIELDS.get(key, key)] = _decoded(value)
    if "url" in written and item["type"] == "document":
        item["type"] = "webpage"
    said = _decoded(written.get("date") or written.get("year") or "")
    if said:
        item["issued"] = _issued(said, _decoded(written.get("month", "")).lower()[:3])
    return item


def _issued(said: str, month: str) -> dict[str, Any]:
    if said.isdigit() and (month in _MONTHS or month.isdigit()):
        return {"date-parts": [[int(said), int(month) if month.isdigit() else _MONTHS.index(month) + 1]]}
    return {"raw": said}


def _people(written: str, at: Place) -> Iterator[dict[str, str]]:
    """Each person by the parts of the name; a body, which stands in braces as a whole, by its one name."""
    names = extra("bibtexparser.middlewares.names", "sources", "BibTeX")
    for one in names.split_multiple_persons_names(written):
        if one.startswith("{") and _closes_at_end(one):
            yield {"literal": _decoded(one)}
            continue
        try:
            parts = names.parse_single_name_into_parts(one)
        except names.InvalidNameError as error:
            raise ColdspellError(
                f"the name '{one[:60]}' cannot be read: {error.reason}", at, "Correct it."
            ) from None
        said = {
            "non-dropping-particle": parts.von, "family": parts.last, "suffix": parts.jr,
            "given": parts.first,
        }  # fmt: skip
        yield {key: _decoded(" ".join(words)) for key, words in said.items() if words}


def _closes_at_end(text: str) -> bool:
    """Whether the brace that opens a text is closed by its last sign, and not before."""
    depth = 0
    for place, sign in enumerate(text):
        depth += {"{": 1, "}": -1}.get(sign, 0)
        if depth == 0:
            return place == len(text) - 1
    return False


def _decoded(text: str) -> str:
    """A text without the signs of TeX."""
    latex2text = extra("pylatexenc.latex2text", "sources", "BibTeX")
    return " ".join(str(latex2text.LatexNodes2Text().latex_to_text(text)).split())
