"""What stands in the folder of an office."""

from __future__ import annotations

from pathlib import Path

from msgspec import Struct

from coldspell.records.terms import LawAbout

EVERY = "all"
"""Stands in place of a name where a note or a photograph is of every kind."""


class LocalNote(Struct, frozen=True):
    """A dated note on one kind in one place, and who says so."""

    kind: str
    """Accepted name of a species or a genus, or ``all``."""
    place: str
    about: LawAbout
    """growing, moving, collecting or border, as in records."""
    says: str
    who: str
    checked: str
    """Day on which it was looked up (ISO 8601)."""


class Photograph(Struct, frozen=True):
    """A picture of the office's own, with its licence."""

    kind: str
    file: Path
    shows: str
    by: str
    licence: str


class Office(Struct, frozen=True):
    """All that the folder says."""

    folder: Path
    name: str = ""
    telephone: str = ""
    logo: Path | None = None
    notes: tuple[LocalNote, ...] = ()
    photographs: tuple[Photograph, ...] = ()
