"""Libraries that only some commands need, and the line that installs them."""

from __future__ import annotations

import importlib
from pathlib import Path
from typing import Any

from coldspell import __version__
from coldspell.errors import ColdspellError


def extra(module: str, name: str, what: str) -> Any:
    """A module of an extra of the package.

    Parameters
    ----------
    module
        Its name (``pyarrow.parquet``).
    name
        The extra that brings it.
    what
        What it is wanted for, as the subject of a sentence (``Parquet``).

    Raises
    ------
    ColdspellError
        It is not installed; the mend is the line to type.
    """
    try:
        return importlib.import_module(module)
    except ModuleNotFoundError as error:
        missing = (error.name or module).partition(".")[0]
        raise ColdspellError(
            f"{what} needs {missing}, which is not installed",
            mend=_line(name),
        ) from None


def _line(name: str) -> str:
    """The line that installs an extra: of a clone that of uv, for no index holds the package."""
    again = f'install it again with its extras, as README says: uv tool install --force ".[{_ALL}]"'
    root = Path(__file__).resolve().parents[2]
    if (root / "pyproject.toml").is_file() and (root / "species").is_dir():
        return f"type in the clone: uv run --extra {name} coldspell …; elsewhere {again}"
    wheel = f'pip install "coldspell-{__version__}-py3-none-any.whl[{name}]"'
    return f"{again} in the clone; with the wheel: {wheel}"


_ALL = "sheet,page,season"
"""The extras that README names together."""
