"""``coldspell species export FOLDER``: the library as tables that open in anything."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from coldspell import __version__
from coldspell.cli import output
from coldspell.cli.species_options import Libraries, load


def export(
    folder: Annotated[Path, typer.Argument(metavar="FOLDER", help="A new folder for the tables.")],
    libraries: Libraries = None,
) -> None:
    """Write the library as CSV tables with the terms of Darwin Core, described by a data package."""
    from coldspell.export.package import files, write_folder

    library = load(libraries)
    contents = files(library, __version__, shipped=not libraries)
    write_folder(folder, contents)
    rows = [(name, output.size(len(data))) for name, data in contents.items()]
    output.write(output.text(rows, [f"{len(library)} records in {folder}"]))
