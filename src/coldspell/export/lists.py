"""Treatments, their steps, and what else stands in lists of a record: one item a row."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any

from msgspec import Struct

from coldspell.export.columns import TAXON, Cell, Column, Table, dublin_core
from coldspell.export.flat import cells_of, columns_of
from coldspell.library.references import reference
from coldspell.records.model import AskAnswer, Cite, Hazard, Hold, Law, NotUsed, Record, Step, Treatment
from coldspell.records.name import slug

_NUMBER = Column("number", "Its place in the record, from 1.", "integer", required=True)
_TO_TAXA: dict[tuple[str, ...], tuple[str, tuple[str, ...]]] = {("taxonID",): ("taxa", ("taxonID",))}
_TREATMENT = Column("treatment", "Name of the treatment in its record.", required=True)


def treatments(records: Iterable[Record]) -> Table:
    """One row a treatment; ``number`` is the order of preference."""
    own = columns_of(Treatment, "name", "steps", "hold")
    held = tuple(Column(f"hold_{one.name}", one.says, one.type, unit=one.unit) for one in columns_of(Hold))
    rows = []
    for record in records:
        for number, one in enumerate(record.treatments, 1):
            hold = cells_of(one.hold) if one.hold else (None,) * len(held)
            rows.append((slug(record.name), one.name, number, *cells_of(one, "name", "steps", "hold"), *hold))
    return Table(
        "treatments", "Ways to make the seed sprout", (TAXON, _TREATMENT, _NUMBER, *own, *held), tuple(rows),
        ("taxonID", "treatment"), _TO_TAXA,
    )  # fmt: skip


def steps(records: Iterable[Record]) -> Table:
    """One row a step of a treatment, in order."""
    rows = tuple(
        (slug(record.name), one.name, number, *cells_of(step))
        for record in records
        for one in record.treatments
        for number, step in enumerate(one.steps, 1)
    )
    return Table(
        "steps", "Steps of the treatments", (TAXON, _TREATMENT, _NUMBER, *columns_of(Step)), rows,
        ("taxonID", "treatment", "number"),
        {("taxonID", "treatment"): ("treatments", ("taxonID", "treatment"))},
    )  # fmt: skip


def other_lists(records: Iterable[Record]) -> tuple[Table, ...]:
    """Hazards, what is not followed, law, and the questions of mixed genera."""
    kept = tuple(records)
    return (
        _list("hazards", "What is dangerous, to whom", Hazard, kept, lambda one: one.hazards),
        _list("not-used", "What other sources say, and why it is not followed", NotUsed, kept,
              lambda one: one.not_used),
        _list("law", "Dated notes on law; never a permission", Law, kept, lambda one: one.law),
        _questions(kept),
    )  # fmt: skip


def _list(
    name: str,
    title: str,
    struct: type[Struct],
    records: Iterable[Record],
    items: Callable[[Record], Iterable[Struct]],
) -> Table:
    rows = tuple(
        (slug(record.name), number, *cells_of(one))
        for record in records
        for number, one in enumerate(items(record), 1)
    )
    columns = (TAXON, _NUMBER, *columns_of(struct))
    return Table(name, title, columns, rows, ("taxonID", "number"), _TO_TAXA)


def _questions(records: Iterable[Record]) -> Table:
    columns = (
        TAXON,
        _NUMBER,
        Column("question", "The question that decides in a mixed genus.", required=True),
        *columns_of(AskAnswer),
    )
    rows = tuple(
        (slug(record.name), number, record.asks.question, *cells_of(answer))
        for record in records
        if record.asks
        for number, answer in enumerate(record.asks.answers, 1)
    )
    return Table("questions", "Questions of mixed genera", columns, rows, ("taxonID", "number"), _TO_TAXA)


def footnotes(records: Iterable[Record]) -> Table:
    """Who says so: one row a footnote of a record."""
    columns = (TAXON, Column("footnote", "Its name in the record.", required=True), *columns_of(Cite))
    rows = tuple(
        (slug(record.name), name, *cells_of(cite))
        for record in records
        for name, cite in record.cites.items()
    )
    return Table(
        "footnotes", "Who says so, and whether it was read", columns, rows, ("taxonID", "footnote"),
        {**_TO_TAXA, ("source",): ("sources", ("identifier",))},
    )  # fmt: skip


def sources(bibliography: Mapping[str, Mapping[str, Any]]) -> Table:
    """The works that footnotes name."""
    columns = (
        Column("identifier", "Id of the work.", term="http://purl.org/dc/terms/identifier", required=True),
        Column("type", "Kind of work, as in the data model of CSL.", required=True),
        dublin_core("bibliographicCitation", "The work as one line."),
        Column("title", "Its title.", term="http://purl.org/dc/terms/title", required=True),
        Column("year", "Year in which it came out.", "integer"),
        Column("doi", "DOI."),
        dublin_core("references", "Where it is on the web."),
    )
    rows = tuple(_source(name, bibliography[name]) for name in sorted(bibliography))
    return Table("sources", "Works that are cited", columns, rows, ("identifier",))


def _source(name: str, item: Mapping[str, Any]) -> tuple[Cell, ...]:
    parts = (item.get("issued") or {}).get("date-parts")
    year = parts[0][0] if parts else None
    doi = item.get("DOI")
    address = item.get("URL") or (f"https://doi.org/{doi}" if doi else None)
    return name, item["type"], reference(item), item["title"], year, doi, address
