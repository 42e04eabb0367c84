"""The folder of an export: the tables as CSV and their description as a data package."""

from __future__ import annotations

import csv
import io
import json
import os
import shutil
import tempfile
from hashlib import sha256
from pathlib import Path
from typing import Any

from coldspell.errors import ColdspellError, Place
from coldspell.export import facts, lists, taxa
from coldspell.export.columns import Cell, Column, Table
from coldspell.library.library import Library

PROFILE = "https://datapackage.org/profiles/2.0/datapackage.json"
"""The standard that ``datapackage.json`` follows: Data Package 2.0, with Table Schema for the columns."""
_LICENCE = {
    "name": "CC-BY-4.0",
    "path": "https://creativecommons.org/licenses/by/4.0/",
    "title": "Creative Commons Attribution 4.0",
}


def tables(library: Library) -> tuple[Table, ...]:
    """Every table of a library, plants first and the works cited last."""
    records = [library.get(name) for name in library.names]
    return (
        taxa.taxa(records),
        taxa.vernacular(records),
        lists.treatments(records),
        lists.steps(records),
        facts.facts(records),
        *lists.other_lists(records),
        lists.footnotes(records),
        lists.sources(library.bibliography),
    )


def files(library: Library, version: str, *, shipped: bool) -> dict[str, bytes]:
    """Every file of the export by its name: the same library gives the same bytes.

    Parameters
    ----------
    version
        Version of the program, which is that of the data package.
    shipped
        Whether all records are shipped ones: their licence is stated then. Nobody knows here under which
        terms the records of another library may be passed on.
    """
    made = tables(library)
    found = {one.path: _csv(one) for one in made}
    descriptor = {
        "$schema": PROFILE,
        "name": "coldspell-species",
        "title": "Coldspell: what seeds need before they are sown",
        "description": "Species records as tables, each value with the footnotes that say so. Names, ids and "
        "facts use the terms of Darwin Core where there is one (rdfType of a field).",
        "version": version,
        "library": library.digest,
        **({"licenses": [_LICENCE]} if shipped else {}),
        "resources": [_resource(one, found[one.path]) for one in made],
    }
    return {
        "datapackage.json": (json.dumps(descriptor, ensure_ascii=False, indent=1) + "\n").encode(),
        **found,
    }


def write_folder(folder: Path, contents: dict[str, bytes]) -> None:
    """Write files into a new folder, which is there whole or not at all.

    Raises
    ------
    ColdspellError
        It is there already, or cannot be written.
    """
    if folder.exists() or folder.is_symlink():
        raise ColdspellError(
            "this is there already", Place(str(folder)), "name a folder that is not there yet"
        )
    part = None
    try:
        part = Path(tempfile.mkdtemp(prefix=f".{folder.name}.", suffix=".part", dir=folder.absolute().parent))
        for name, data in contents.items():
            with (part / name).open("wb") as file:
                file.write(data)
                file.flush()
                os.fsync(file.fileno())
        mask = os.umask(0)
        os.umask(mask)
        part.chmod(0o777 & ~mask)
        os.rename(part, folder)
    except OSError as error:
        if part is not None:
            shutil.rmtree(part, ignore_errors=True)
        what = f"cannot be written: {error.strerror or error}"
        raise ColdspellError(what, Place(str(folder)), "name a folder in one of yours") from None


def _csv(table: Table) -> bytes:
    """RFC 4180: commas, CRLF, quotes where needed; UTF-8."""
    page = io.StringIO()
    writer = csv.writer(page)
    writer.writerow([one.name for one in table.columns])
    writer.writerows([_cell(cell) for cell in row] for row in table.rows)
    return page.getvalue().encode("utf-8")


def _cell(value: Cell) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return str(value).lower()
    return f"{value:.12g}" if isinstance(value, float) else str(value)


def _resource(table: Table, data: bytes) -> dict[str, Any]:
    return {
        "name": table.name,
        "type": "table",
        "path": table.path,
        "title": table.title,
        "format": "csv",
        "mediatype": "text/csv",
        "encoding": "utf-8",
        "bytes": len(data),
        "hash": f"sha256:{sha256(data).hexdigest()}",
        "schema": {
            "fields": [_field(one) for one in table.columns],
            "primaryKey": list(table.key),
            "foreignKeys": [
                {
                    "fields": list(own),
                    "reference": {**({"resource": other} if other else {}), "fields": list(theirs)},
                }
                for own, (other, theirs) in table.refers.items()
            ],
        },
    }


def _field(column: Column) -> dict[str, Any]:
    limits: dict[str, Any] = {"required": True} if column.required else {}
    if column.words:
        limits["enum"] = list(column.words)
    extra = {"rdfType": column.term, "unit": column.unit, "constraints": limits}
    return {
        "name": column.name,
        "type": column.type,
        "description": column.says,
        **{key: value for key, value in extra.items() if value},
    }
