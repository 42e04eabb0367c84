"""``coldspell species find``: which records there are, by name or by what they are."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated, Any

import typer

from coldspell.cli import output
from coldspell.cli.output import Form
from coldspell.cli.species_options import Libraries, load
from coldspell.counter.record_words import MONTHS
from coldspell.errors import ColdspellError
from coldspell.library.fold import fold
from coldspell.library.names import Missing, look_up
from coldspell.library.search import Hit, Wanted, search
from coldspell.records.model import Record


class Dormancy(StrEnum):
    """The dormancy classes of the record format."""

    none = "none"
    physiological = "physiological"
    morphological = "morphological"
    morphophysiological = "morphophysiological"
    physical = "physical"
    combinational = "combinational"


def find(
    words: Annotated[list[str] | None, typer.Argument(metavar="[NAME]", help="Any name, roughly.")] = None,
    family: Annotated[str | None, typer.Option(help="As Fagaceae.")] = None,
    genus: Annotated[str | None, typer.Option(help="As Quercus.")] = None,
    plant: Annotated[str | None, typer.Option(help="As 'nut tree', 'conifer', 'shrub'.")] = None,
    dormancy: Annotated[Dormancy | None, typer.Option(help="Dormancy class.")] = None,
    month: Annotated[
        int | None, typer.Option(min=1, max=12, help="Seed is gathered then (northern hemisphere).")
    ] = None,
    limit: Annotated[int, typer.Option(min=1, help="At most so many.")] = 20,
    libraries: Libraries = None,
    form: Annotated[Form, typer.Option("--format", help="text or json")] = Form.text,
) -> None:
    """Find records by name, however roughly, by family, genus, kind of plant, dormancy or month."""
    library = load(libraries)
    text = " ".join(words or ())
    wanted = Wanted(family, genus, plant, dormancy.value if dormancy else None, month)
    if not fold(text) and wanted == Wanted():
        raise ColdspellError(
            "nothing to look for", mend="Give a name, or an option such as --family Fagaceae."
        )
    known = {record.plant for record in map(library.get, library.names)}
    if plant is not None and plant not in known:
        raise ColdspellError(
            f"no plant of the library is a '{plant}'", mend=f"Known: {', '.join(sorted(known))}."
        )
    hits = search(library, text, wanted, limit)
    if form is Form.json:
        output.answer(form, "species-find", {"hits": [_values(hit) for hit in hits]}, ())
        return
    if text and hits and isinstance(look_up(library, text), Missing):
        output.aside(f"no record is called {text[:80]!r}; these names are like it")
    output.write(_table(hits) if hits else "nothing found\n")


def _values(hit: Hit) -> dict[str, Any]:
    record = hit.record
    return {
        "name": record.name,
        "matched": hit.name,
        "score": hit.score,
        "rank": record.rank,
        "family": record.family,
        "plant": record.plant,
        "dormancy": record.dormancy.class_ if record.dormancy else None,
        "harvest_months": list(record.harvest.months) if record.harvest and record.harvest.months else None,
        "record": record.path,
    }


def _table(hits: list[Hit]) -> str:
    rows = [
        (hit.record.name, _called(hit), hit.record.plant, _dormancy(hit.record), _months(hit.record))
        for hit in hits
    ]
    widths = [max(len(row[column]) for row in rows) for column in range(5)]
    lines = ["  ".join(f"{cell:<{width}}" for cell, width in zip(row, widths, strict=True)) for row in rows]
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _called(hit: Hit) -> str:
    names = [name for each in hit.record.common_names.values() for name in each]
    return hit.name if hit.name != hit.record.name else (names[0] if names else "")


def _dormancy(record: Record) -> str:
    if record.dormancy is None:
        return "asks which species" if record.asks else ""
    return " ".join(part for part in (record.dormancy.level, record.dormancy.class_) if part)


def _months(record: Record) -> str:
    if record.harvest is None or record.harvest.months is None:
        return ""
    return "-".join(dict.fromkeys(MONTHS[month - 1] for month in record.harvest.months))
