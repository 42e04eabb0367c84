"""The one kind of error a person sees: what is wrong, where, and how to mend it."""

# Without postponed annotations: msgspec evaluates those of each class anew at every start.

from msgspec import Struct


class Place(Struct, frozen=True, array_like=True, omit_defaults=True):
    """A place in a file; line and column count from 1, 0 means not known."""

    file: str
    line: int = 0
    column: int = 0

    def __str__(self) -> str:
        if not self.line:
            return self.file
        return f"{self.file}:{self.line}:{self.column}" if self.column else f"{self.file}:{self.line}"


_LONGEST = 300
"""Characters of a place that a message shows; of a longer path its end."""


class ColdspellError(Exception):
    """Wrong use: exit code 2. Printed as ``where: what (mend)`` without a traceback."""

    exit_code = 2

    def __init__(self, what: str, where: Place | str | None = None, mend: str = "") -> None:
        super().__init__(what)
        self.what, self.where, self.mend = what, where, mend
        self.candidates: tuple[str, ...] = ()
        """Names of which one may be meant, for programs; the mend says them to people."""

    def __str__(self) -> str:
        where = str(self.where or "")
        where = where if len(where) <= _LONGEST else f"…{where[-_LONGEST:]}"
        text = f"{where}: {self.what}" if where else self.what
        return f"{text}\n  {self.mend}" if self.mend else text


def on_one_line(mend: str) -> str:
    """A mend of several lines as sentences for a cell: what is listed under a line is parted by commas.

    >>> on_one_line("Type one of these:\\n    Malus domestica   apple\\n    Pyrus communis\\n  Or another.")
    'Type one of these: Malus domestica (apple), Pyrus communis. Or another.'
    """
    found: list[str] = []
    for line in mend.splitlines():
        word, _, common = line.strip().partition("   ")
        shown = f"{word} ({common.strip()})" if common else word
        if found and line.startswith("    "):
            found[-1] += (" " if found[-1].endswith(":") else ", ") + shown
        elif shown:
            found.append(shown)
    ended = [text if text.endswith((".", "?", "!", ":")) else f"{text}." for text in found[:-1]]
    return " ".join([*ended, *found[-1:]])


class LeftOutWarning(UserWarning):
    """A file of a library holds no sound record, so other answers are given without it."""


class InternalFault(ColdspellError):  # noqa: N818  (a fault of ours, not an error of use)
    """A fault of the program or of the rules, not of the question: exit code 3."""

    exit_code = 3
