"""Plants and their names: the classes Taxon and VernacularName of Darwin Core."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from coldspell.export.columns import DCTERMS, DWC, GBIF, TAXON, Cell, Column, Table, darwin_core
from coldspell.records.model import Record
from coldspell.records.name import slug
from coldspell.records.terms import PLANT, SIZE, UNIT

_GBIF = "https://www.gbif.org/species/"
_BELOW = re.compile(r" (?:notho)?(?:subsp\.|var\.|f\.) ")


def taxa(records: Iterable[Record]) -> Table:
    """Accepted names and their synonyms, one row each."""
    rows = sorted((row for one in records for row in _rows(one)), key=lambda row: str(row[0]))
    return Table("taxa", "Plants: accepted names and synonyms", _TAXA, tuple(rows), ("taxonID",), {
        ("acceptedNameUsageID",): ("", ("taxonID",)),
    })  # fmt: skip


_TAXA = (
    TAXON,
    darwin_core("taxonomicStatus", "Whether the name is the accepted one of this library.", required=True,
                words=("accepted", "synonym")),
    darwin_core("acceptedNameUsageID", "The plant that the name means.", required=True),
    darwin_core("scientificName", "The name, with its author where that is known.", required=True),
    darwin_core("scientificNameAuthorship", "Author of the name."),
    darwin_core("family", "Plant family.", required=True),
    darwin_core("genus", "Genus of the accepted name.", required=True),
    darwin_core("genericName", "Genus as it stands in this name.", required=True),
    darwin_core("specificEpithet", "Second word of the name."),
    darwin_core("infraspecificEpithet", "Last word of the name of a subspecies or variety."),
    darwin_core("taxonRank", "Rank of the name; of a synonym it is not told.", words=("genus", "species",
                "subspecies", "variety")),
    darwin_core("nomenclaturalCode", "The code that rules the name.", required=True, words=("ICN",)),
    darwin_core("scientificNameID", "Id of the name in the World Flora Online plant list."),
    darwin_core("taxonConceptID", "The plant in the GBIF backbone taxonomy."),
    Column("hybrid", "Whether the record is one of a named hybrid.", "boolean"),
    Column("plant", "Kind of plant; a judgement.", words=tuple(PLANT)),
    Column("unit", "What is handled and counted as one; a judgement.", words=tuple(UNIT)),
    Column("size", "How the seed is handled; a judgement.", words=tuple(SIZE)),
    Column("soldAsFood", "Whether the seed itself is sold to be eaten; a judgement.", "boolean"),
    Column("record", "The file of the record in its library."),
)  # fmt: skip


def _rows(record: Record) -> Iterator[tuple[Cell, ...]]:
    own = slug(record.name)
    taxon = record.taxon
    gbif = f"{_GBIF}{taxon.gbif}" if taxon and taxon.gbif else None
    hybrid = record.rank == "hybrid"
    yield (
        own, "accepted", own, f"{record.name} {record.author or ''}".strip(), record.author, record.family,
        _genus(record.name), *_parts(record.name), "species" if hybrid else record.rank, "ICN",
        taxon.wfo if taxon else None, gbif, hybrid, record.plant, record.unit, record.size,
        record.sold_as_food, record.path,
    )  # fmt: skip
    for number, name in enumerate(dict.fromkeys(record.synonyms), 1):
        yield (
            f"{own}_synonym-{number}", "synonym", own, name, None, record.family, _genus(record.name),
            *_parts(name), None, "ICN", *[None] * 8,
        )  # fmt: skip


def _genus(name: str) -> str:
    return _parts(name)[0] or ""


def _parts(name: str) -> tuple[str | None, str | None, str | None]:
    """Genus, second word and last word; the hybrid sign stays with the word it marks.

    >>> _parts("Malus × domestica"), _parts("Acer saccharum subsp. nigrum"), _parts("×Sorbaronia")
    (('Malus', '×domestica', None), ('Acer', 'saccharum', 'nigrum'), ('×Sorbaronia', None, None))
    """
    upper, *lower = _BELOW.split(re.sub(r"× ", "×", name))
    genus, _, species = upper.partition(" ")
    return genus, species or None, lower[-1] if lower else None


def vernacular(records: Iterable[Record]) -> Table:
    """Common names by language, in the order of the record: the first of a language is the usual one."""
    rows = {
        (slug(one.name), language, name): number == 1
        for one in records
        for language, names in one.common_names.items()
        for number, name in enumerate(dict.fromkeys(names), 1)
    }
    columns = (
        TAXON,
        Column("language", "Language of the name (ISO 639).", term=DCTERMS + "language", required=True),
        Column("vernacularName", "Common name.", term=DWC + "vernacularName", required=True),
        Column("isPreferredName", "Whether it is the usual one of its language.", "boolean",
               term=GBIF + "isPreferredName", required=True),
    )  # fmt: skip
    return Table(
        "vernacular-names", "Common names", columns, tuple((*key, usual) for key, usual in rows.items()),
        ("taxonID", "language", "vernacularName"), {("taxonID",): ("taxa", ("taxonID",))},
    )  # fmt: skip
