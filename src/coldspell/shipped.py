"""Where the shipped species records and rules lie: inside an installed package, or in a checkout."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from coldspell.errors import InternalFault


@cache
def find(kind: str) -> Path:
    """Return the shipped directory of one kind of data.

    Parameters
    ----------
    kind
        ``"species"`` or ``"rules"``.

    Raises
    ------
    InternalFault
        If neither the package nor the checkout around it holds the directory.
    """
    package = Path(__file__).resolve().parent
    installed = package / "shipped" / kind
    if installed.is_dir():
        return installed
    checkout = package.parent.parent / kind
    if checkout.is_dir():
        return checkout
    raise InternalFault(
        f"the shipped {kind} are missing",
        f"{installed} or {checkout}",
        "Install Coldspell again; the installation is not complete.",
    )


def is_installed(kind: str) -> bool:
    """Say whether the shipped directory of a kind of data lies inside the installed package."""
    return find(kind).is_relative_to(Path(__file__).resolve().parent)


def is_source(folder: Path) -> bool:
    """Say whether a folder is the library of a checkout: what the shipped one is made from."""
    return folder.name == "species" and (folder.parent / "src" / "coldspell" / "shipped.py").is_file()
