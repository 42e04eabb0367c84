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
        """Findings by file, line and column, each once; of a broken form the cause alone.

        What a file that cannot be read declares is missing at every place that names it: that would be told
        hundreds of times.
        """
        key = lambda f: (f.where.file, f.where.line, f.where.column, f.check, f.message)  # noqa: E731
        found = sorted(dict.fromkeys(self.all), key=key)
        checks = {one.check for one in found}
        if "file" in checks:
            return [one for one in found if one.check == "file"]
        return [one for one in found if one.check not in _FOLLOWS] if checks & _BROKEN else found


_BROKEN = {"shape", "missing-key"}
"""A map or list that is not what it must be: what should stand in it is not declared."""
_FOLLOWS = frozenset(
    [
        *("contract", "never-asked", "not-given", "otherwise", "placeholder", "undeclared-answer"),
        *("undeclared-fact", "undeclared-value", "unknown-field", "unreachable-answer", "untested-fact"),
        "unused-fact",
    ]
)
"""What is found at other places because of it; told when the form is mended."""
