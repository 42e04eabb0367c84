"""The option for further libraries, which the species commands share."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Annotated

import typer

from coldspell.library.library import Library
from coldspell.library.load import load_library, shipped_dirs

Libraries = Annotated[
    list[Path] | None,
    typer.Option(
        "--library", metavar="DIR", help="A library of your own, after the shipped one; repeatable."
    ),
]


def load(libraries: Sequence[Path] | None) -> Library:
    """Load the shipped library and those of the user after it."""
    return load_library([*shipped_dirs(), *(libraries or ())])
