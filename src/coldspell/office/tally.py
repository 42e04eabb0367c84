"""A tally of questions: day, kind and trouble, a line each; who asked is never written down."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from coldspell.errors import ColdspellError, Place

HEAD = "date,kind,trouble"


def count(folder: Path, day: date, kind: str, trouble: str = "") -> Path:
    """Add a line to ``tally.csv`` in the folder of the office, which is made where there is none.

    Raises
    ------
    ColdspellError
        It cannot be written.
    """
    path = folder / "tally.csv"
    line = f'{day.isoformat()},"{kind}",{trouble}\n'
    try:
        with path.open("a", encoding="utf-8", newline="") as file:
            file.write(line if file.tell() else f"{HEAD}\n{line}")
    except OSError as error:
        what = f"the tally cannot be written: {error.strerror}"
        raise ColdspellError(what, Place(str(path)), "leave out --tally") from None
    return path
