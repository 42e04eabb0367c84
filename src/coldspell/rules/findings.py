"""Collecting mistakes, so that one check shows all of them; and offering the nearest name."""

from __future__ import annotations

from collections.abc import Iterable

from coldspell.errors import Place
from coldspell.rules.model import Finding


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


def nearest(word: str, known: Iterable[str]) -> str:
    """A mend: the name that was probably meant, or the short list of what there is."""
    from difflib import get_close_matches  # only wanted when something is wrong

    names = list(dict.fromkeys(known))
    close = get_close_matches(word, names, n=1, cutoff=0.6 if len(word) < 5 else 0.7)
    if close:
        return f"Did you mean {close[0]!r}?"
    shown = ", ".join(names[:12])
    return f"Known here: {shown}{', …' if len(names) > 12 else ''}." if names else ""
