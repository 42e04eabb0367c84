"""``coldspell species sources`` and ``gaps``: who is cited for what, and what is missing."""

from __future__ import annotations

import json
from collections import Counter
from enum import StrEnum
from typing import Annotated, Any

import typer
from typer.core import TyperGroup

from coldspell.check.shares import Citation, Gaps, citations, gaps, shares
from coldspell.cli import output
from coldspell.cli.output import Form
from coldspell.cli.species_options import Libraries, load
from coldspell.cli.species_sources_add import add
from coldspell.errors import ColdspellError
from coldspell.library.bibtex import bibtex
from coldspell.library.library import Library
from coldspell.library.references import reference
from coldspell.near import did_you_mean


class Output(StrEnum):
    """What the list of sources is written as."""

    text = "text"
    json = "json"
    csl = "csl"
    bibtex = "bibtex"


_ALL_IDS = "To see all ids type: coldspell species sources"


def list_sources(
    source: Annotated[str | None, typer.Argument(metavar="[SOURCE]", help="Id of one source.")] = None,
    unused: Annotated[bool, typer.Option("--unused", help="Only sources that no record cites.")] = False,
    libraries: Libraries = None,
    form: Annotated[
        Output, typer.Option("--format", help="text, json, csl (CSL-JSON) or bibtex")
    ] = Output.text,
) -> None:
    """List the sources with how often they are cited; of one source, which records cite it for what."""
    library = load(libraries)
    cited = [one for one in citations(library) if one.source]
    ids = sorted({one.source for one in cited if one.source} | set(library.bibliography))
    if source is not None:
        if source not in ids:
            raise ColdspellError(f"no source has the id '{source}'", mend=did_you_mean(source, ids, _ALL_IDS))
        ids, cited = [source], [one for one in cited if one.source == source]
    counts = Counter(str(one.source) for one in cited)
    if unused:
        if source is not None and counts[source]:
            raise ColdspellError(
                f"{source} is cited {counts[source]} times", mend=f"coldspell species sources {source}"
            )
        ids = [one for one in ids if not counts[one]]
    items = [library.bibliography[one] for one in ids if one in library.bibliography]
    if form is Output.csl:
        output.write(json.dumps(items, ensure_ascii=False, indent=1) + "\n")
    elif form is Output.bibtex:
        output.write(bibtex(items))
    elif form is Output.json:
        values = {"sources": [_values(library, one, cited) for one in ids]}
        output.answer(Form.json, "species-sources", values, ())
    else:
        output.write(_one(library, ids[0], cited) if source else _all(library, ids, counts))


class _Sources(TyperGroup):
    """``sources`` and ``sources ID`` list; ``sources add`` is another command."""

    def parse_args(self, ctx: Any, args: list[str]) -> Any:
        if not args or (args[0] not in self.commands and args[0] not in ("-h", "--help")):
            args = ["list", *args]
        return super().parse_args(ctx, args)


sources = typer.Typer(cls=_Sources, help="List the sources and who cites them; add works to a bibliography.")
sources.command("list")(list_sources)
sources.command("add")(add)


def _values(library: Library, source: str, cited: list[Citation]) -> dict[str, Any]:
    uses = [one for one in cited if one.source == source]
    return {
        "id": source,
        "reference": reference(library.bibliography[source]) if source in library.bibliography else None,
        "citations": [
            {"record": one.record, "at": one.at, "basis": one.basis, "topics": list(one.topics)}
            for one in uses
        ],
    }


def _all(library: Library, ids: list[str], counts: Counter[str]) -> str:
    ranked = sorted(ids, key=lambda one: (-counts[one], one))
    rows = [
        (
            f"{counts[one]:>5}  {one}",
            reference(library.bibliography[one]) if one in library.bibliography else "",
        )
        for one in ranked
    ]
    return output.text(rows)


def _one(library: Library, source: str, cited: list[Citation]) -> str:
    head = reference(library.bibliography[source]) if source in library.bibliography else source
    rows = [
        (one.record, f"{', '.join(one.topics)}; {one.basis}{f', {one.at}' if one.at else ''}")
        for one in cited
    ]
    return f"{head}\n\n" + (output.text(rows) if rows else "no record cites it\n")


def list_gaps(
    limit: Annotated[int, typer.Option(min=1, help="At most so many records.")] = 40,
    libraries: Libraries = None,
    form: Annotated[Form, typer.Option("--format", help="text or json")] = Form.text,
) -> None:
    """List what is missing, recalled from memory or rests on one source, the worst records first."""
    library = load(libraries)
    found = gaps(library)
    counts = shares(library)
    total = sum(counts.values()) or 1
    if form is Form.json:
        values = {"shares": counts, "records": [_gap_values(one) for one in found[:limit]]}
        output.answer(form, "species-gaps", values, ())
        return
    said = ", ".join(f"{word} {output.percent(number / total)}" for word, number in counts.items())
    lines = [f"{len(library)} records; topics with a footnote: {total}; best basis: {said}"]
    more = len(found) - limit
    note = [f"and {more} more records with smaller gaps"] if more > 0 else []
    rows = [(one.record, _gap_words(one)) for one in found[:limit]]
    output.write("\n".join(lines) + "\n\n" + output.text(rows, note))


def _gap_values(one: Gaps) -> dict[str, Any]:
    return {
        "record": one.record,
        "path": one.path,
        "missing": list(one.missing),
        "not_read": list(one.not_read),
        "sources": list(one.sources),
        "weight": one.weight,
    }


def _gap_words(one: Gaps) -> str:
    parts = []
    if one.missing:
        parts.append(f"missing: {', '.join(one.missing)}".replace("_", " "))
    if one.not_read:
        parts.append(f"not read: {', '.join(one.not_read)}".replace("_", " "))
    if len(one.sources) == 1:
        parts.append(f"one source: {one.sources[0]}")
    elif not one.sources:
        parts.append("no source")
    return "; ".join(parts)
