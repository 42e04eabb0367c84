"""A table of the export: its columns with type, meaning and Darwin Core term, and its rows."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

DWC = "http://rs.tdwg.org/dwc/terms/"
"""Where the terms of Darwin Core are defined (TDWG standard 450)."""
DCTERMS = "http://purl.org/dc/terms/"
"""Where the terms are defined that Darwin Core takes over from Dublin Core."""
GBIF = "http://rs.gbif.org/terms/1.0/"
"""Where the terms are defined that extensions of Darwin Core have beside those of the standard."""

Cell = str | float | int | bool | None


@dataclass(frozen=True, slots=True)
class Column:
    """One column: ``type`` is one of Table Schema, ``term`` the address of what it means in a standard."""

    name: str
    says: str
    type: str = "string"
    term: str = ""
    unit: str = ""
    required: bool = False
    words: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Table:
    """One CSV file; ``key`` tells its rows apart, ``refers`` names columns whose values stand elsewhere."""

    name: str
    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    key: tuple[str, ...]
    refers: Mapping[tuple[str, ...], tuple[str, tuple[str, ...]]] = field(default_factory=dict)

    @property
    def path(self) -> str:
        """Its file in the folder."""
        return f"{self.name}.csv"

    def values(self) -> Iterator[dict[str, Cell]]:
        """The rows, each by the names of the columns."""
        names = [one.name for one in self.columns]
        for row in self.rows:
            yield dict(zip(names, row, strict=True))


def darwin_core(name: str, says: str, *, required: bool = False, words: tuple[str, ...] = ()) -> Column:
    """A column that is a term of Darwin Core itself."""
    return Column(name, says, term=DWC + name, required=required, words=words)


def dublin_core(name: str, says: str) -> Column:
    """A column that is a term which Darwin Core takes over from Dublin Core."""
    return Column(name, says, term=DCTERMS + name)


TAXON = darwin_core("taxonID", "The plant: the file name of its record.", required=True)
FOOTNOTES = Column("footnotes", "Footnotes that say so, in footnotes.csv; several are parted by spaces.")


def text(value: Any) -> Cell:
    """A value as it is written in a cell."""
    if isinstance(value, tuple | list):
        return "; ".join(str(one) for one in value)
    if value is None or isinstance(value, str | bool | int | float):
        return value
    return str(value)
