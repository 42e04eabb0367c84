"""The options of an office, as the commands that take them share them."""

# Without postponed annotations: typer would evaluate each of them by itself.

from pathlib import Path
from typing import Annotated

import typer

OfficeFolder = Annotated[
    Path | None,
    typer.Option(help="Folder of the office: its own notes by kind and place, logo, photographs."),
]
Tally = Annotated[
    bool, typer.Option("--tally", help="Count the question in the folder of the office: day, kind, trouble.")
]
