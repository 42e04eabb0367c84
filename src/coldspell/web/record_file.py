"""Where a record is written, if at all: the file follows from its name, never from what is typed."""

from __future__ import annotations

import hashlib
import re
import secrets
from pathlib import Path

from coldspell.errors import ColdspellError, Place
from coldspell.library.library import Library
from coldspell.placed import put
from coldspell.records.name import genus_of, slug
from coldspell.shipped import find, is_installed

LOOPBACK = ("127.0.0.1", "localhost", "[::1]")
"""Hosts of this machine: from elsewhere nothing is written."""


def folder_to_write(libraries: list[Path]) -> Path:
    """The folder into which records are written: the last library named, else that of a clone.

    Raises
    ------
    ColdspellError
        It would be inside an installed package, or there is no such folder.
    """
    folder = libraries[-1] if libraries else find("species")
    if is_installed("species") and folder.resolve().is_relative_to(find("species").resolve()):
        what = "a record in the installed program would be lost with the next version of it"
        raise ColdspellError(what, mend="name a library of yours: coldspell page --write --library DIR")
    if not folder.is_dir():
        raise ColdspellError("there is no such folder", Place(str(folder)), "make it first")
    return folder.resolve()


class ShelfFile:
    """Writes records into one folder; ``token`` is what only a page of this program knows."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.token = secrets.token_urlsafe(24)

    def is_ours(self, token: str, origin: str | None, host: str) -> bool:
        """Whether a request comes from a page of ours.

        By its token; by its origin, where it names one; and by the host, so that another's name that leads
        to this machine cannot read the token and use it.
        """
        same = origin is None or origin.partition("://")[2] == host
        here = re.sub(r":\d+$", "", host) in LOOPBACK
        return same and here and secrets.compare_digest(token.encode(), self.token.encode())

    def place(self, name: str, library: Library) -> Path:
        """The file of a record of that name in the folder."""
        if name in library:
            known = library.file(name).resolve()
            if known.is_relative_to(self.folder):
                return known
        return self.folder / slug(genus_of(name)) / f"{slug(name)}.yaml"

    def put(self, text: str, path: Path, seen: str) -> None:
        """Write a record, whole; ``seen`` is the digest of the file that the form was filled from.

        Raises
        ------
        ColdspellError
            There is another text in that file by now, or it cannot be written.
        """
        if not path.resolve().is_relative_to(self.folder):
            raise ColdspellError("this is outside of the library", Place(path.name), "check the name")
        if digest(path) != seen:
            raise ColdspellError(
                "the file was changed, or made, meanwhile", Place(path.name), "open the record again"
            )
        try:
            path.parent.mkdir(exist_ok=True)
            put(path, text.encode())
        except OSError as error:
            what = f"cannot be written: {error.strerror or error}"
            raise ColdspellError(what, Place(path.name), "look at the rights of the folder") from None


def digest(path: Path) -> str:
    """Of the bytes of a file; empty where there is none."""
    return hashlib.sha256(path.read_bytes()).hexdigest() if path.is_file() else ""
