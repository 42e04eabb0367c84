"""Collecting mistakes, so that one check shows all of them; and offering the nearest name."""

from __future__ import annotations

from coldspell.errors import Place
from coldspell.near import did_you_mean as nearest
from coldspell.rules.model import Finding

__all__ = ["Findings", "nearest"]


class Findings:
    """A list of findings that is filled while files are read."""

    def __init__(self) -> None:
        self.all: list[Finding] = []

    def error(self, where: Place, check: str, message: str, mend: str = "") -> None:
        """Note a mistake that keeps the rule book from being used."""
        self.all.append(Finding(where, check, message, mend))

    def warning(self, where: Place, check: str, message: str, mend: str = "") -> None:
        """Note something odd that does not change any answer."""
        self.all.append(Finding(where, check, message, mend, "warning"))

    def ordered(self) -> list[Finding]:
        """All findings by file, line and column, each once."""
        key = lambda f: (f.where.file, f.where.line, f.where.column, f.check, f.message)  # noqa: E731
        return sorted(dict.fromkeys(self.all), key=key)
