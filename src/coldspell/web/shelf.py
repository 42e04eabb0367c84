"""The library to browse: a list with filters, and one record with where each value comes from."""

from __future__ import annotations

from collections.abc import Mapping
from typing import get_args

from msgspec import Struct

from coldspell.counter.record_rows import RecordRows, record_head, record_sources
from coldspell.counter.record_words import MONTHS
from coldspell.decide.knowledge import Knowledge
from coldspell.library.library import Library
from coldspell.library.search import Wanted, search
from coldspell.records.model import Record
from coldspell.records.terms import DormancyClass, Plant
from coldspell.web.for_all import record_for_all

Row = tuple[str, str]
ON_A_PAGE = 60
FILTERS: Mapping[str, tuple[Row, ...]] = {
    "plant": tuple((word, word) for word in get_args(Plant)),
    "dormancy": tuple((word, word) for word in get_args(DormancyClass)),
    "month": tuple((str(number), name) for number, name in enumerate(MONTHS, 1)),
}


class Line(Struct, frozen=True):
    """One record in the list."""

    name: str
    common: str
    family: str
    plant: str
    dormancy: str


class Shelf(Struct, frozen=True):
    """One page of the list; ``page`` counts from 1, ``pages`` is at least 1."""

    lines: tuple[Line, ...]
    count: int
    page: int
    pages: int


class Shown(Struct, frozen=True):
    """One record: names and kind, its values with the marks of their sources, the sources."""

    name: str
    common: str
    rank: str
    head: tuple[Row, ...]
    rows: tuple[Row, ...]
    sources: tuple[str, ...]


def shelf(library: Library, text: str, wanted: Wanted, page: int) -> Shelf:
    """The records that a text and filters find, best first; all by name without a text."""
    hits = search(library, text, wanted, len(library))
    pages = max(1, -(-len(hits) // ON_A_PAGE))
    page = min(max(page, 1), pages)
    some = hits[(page - 1) * ON_A_PAGE : page * ON_A_PAGE]
    return Shelf(tuple(_line(hit.record) for hit in some), len(hits), page, pages)


def _line(record: Record) -> Line:
    dormancy = record.dormancy.class_ if record.dormancy else ""
    return Line(record.name, common(record), record.family, record.plant, dormancy)


def common(record: Record) -> str:
    """The first common name; empty where there is none."""
    return next((names[0] for names in record.common_names.values() if names), "")


def shown(library: Library, record: Record, *, public: bool = False) -> Shown:
    """A record as it is shown; on a public page without what is for trained people."""
    genus = library.genus(record.name)
    if public:
        record, genus = record_for_all(record), None if genus is None else record_for_all(genus)
    rows = RecordRows(Knowledge(record, genus))
    values = (*rows.treatments(), *rows.topics(), *rows.dangers())
    return Shown(
        name=record.name,
        common=common(record),
        rank=record.rank,
        head=tuple(record_head(record)),
        rows=tuple((label, " ".join(text.split())) for label, text in values),
        sources=tuple(text for _, text in record_sources(library, rows.used)),
    )
