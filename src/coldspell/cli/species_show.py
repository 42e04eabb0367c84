"""``coldspell species show``: one record as a page, with where each value comes from."""

from __future__ import annotations

from typing import Annotated, Any

import typer

from coldspell.cli import output
from coldspell.cli.output import Form
from coldspell.cli.species_options import Libraries, load
from coldspell.counter.record_rows import RecordRows, record_head, record_sources
from coldspell.decide.knowledge import Knowledge
from coldspell.library.library import Library
from coldspell.library.one import one_record
from coldspell.records.model import Record


def show(
    name: Annotated[list[str], typer.Argument(help="Botanical or common name.", metavar="NAME...")],
    libraries: Libraries = None,
    form: Annotated[Form, typer.Option("--format", help="text or json")] = Form.text,
) -> None:
    """Show what the library knows of a plant, and where each value comes from."""
    library = load(libraries)
    typed = " ".join(name)
    library.refuse_left_out(typed)
    record = one_record(library, typed, command="coldspell species show")
    library.refuse_left_out(record.name)
    if form is Form.json:
        genus = Knowledge(record, library.genus(record.name)).genus
        origins = [origin for origin in (record, genus) if origin]
        cited = sorted({cite.source for origin in origins for cite in origin.cites.values() if cite.source})
        sources = [library.bibliography[one] for one in cited if one in library.bibliography]
        values: dict[str, Any] = {"record": record, "genus": genus, "sources": sources}
        output.answer(form, "species", values, ())
        return
    output.write(page(library, record))


def page(library: Library, record: Record) -> str:
    """Return the page of a record as text."""
    width = output.columns()
    lines = RecordRows(Knowledge(record, library.genus(record.name)))
    blocks = [output.text(list(record_head(record)), width=width)]
    rows = [*lines.treatments(), *lines.topics(), *lines.dangers()]
    if rows:
        blocks.append(output.text(rows, width=width))
    sources = list(record_sources(library, lines.used))
    if sources:
        blocks.append("Sources\n" + output.text(sources, width=width))
    return "\n".join(blocks)
