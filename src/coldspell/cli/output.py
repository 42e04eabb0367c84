"""How the commands write: lines of name and value, notes, JSON, in what the terminal can show."""

from __future__ import annotations

import math
import os
import shutil
import sys
import textwrap
from collections.abc import Sequence
from datetime import date, datetime
from enum import StrEnum
from typing import Any, TextIO

from msgspec import Struct

from coldspell.errors import ColdspellError
from coldspell.views.layout import fitted, fitted_json

Row = tuple[str, str]


class Form(StrEnum):
    """What the answer is written as."""

    text = "text"
    json = "json"


def answer(
    form: Form, name: str, values: dict[str, Any], rows: Sequence[Row], notes: Sequence[str] = ()
) -> None:
    """Write one answer, whole or not at all.

    Raises
    ------
    ColdspellError
        A number that was counted is beyond all that can be written.
    """
    if name.startswith("count") and not _finite(values):
        raise ColdspellError(TOO_MUCH, mend="check the numbers; write them in digits")
    if form is Form.json:
        import json  # not wanted for a page

        document = {"schema": f"coldspell/{name}/1", **values, "notes": list(notes)}
        page = json.dumps(_as_json(document), ensure_ascii=False, indent=2, allow_nan=False)
        write(page + "\n", json=True)
    else:
        write(text(rows, notes))


TOO_MUCH = "the numbers are too large or too small to be reckoned with"


def _finite(value: Any) -> bool:
    if isinstance(value, float):
        return math.isfinite(value)
    if isinstance(value, dict):
        return all(map(_finite, value.values()))
    return all(map(_finite, value)) if isinstance(value, list | tuple) else True


def text(rows: Sequence[Row], notes: Sequence[str] = (), width: int | None = None) -> str:
    """Rows with their values in a second column, then the notes; never wider than the terminal."""
    width = columns() if width is None else width
    left = max((len(name) for name, _ in rows), default=0) + 2
    lines = []
    for name, value in rows:
        if left <= width // 2:
            body = textwrap.wrap(value, width - left) or [""]
            lines.append(f"{name:<{left}}{body[0]}".rstrip())
            lines += [" " * left + more for more in body[1:]]
        else:
            lines += textwrap.wrap(f"{name}: {value}", width, subsequent_indent="  ")
    for note in notes:
        lines += ["", *textwrap.wrap(note, width)]
    return "\n".join(lines) + "\n"


def columns() -> int:
    """Width to wrap to: the terminal's, between 40 and 100; 80 when piped."""
    return max(40, min(100, shutil.get_terminal_size((80, 24)).columns))


def write(page: str, *, json: bool = False) -> None:
    """Write to standard output in its own character set; a closed pipe is no error."""
    stream = sys.stdout
    fit = fitted_json if json else fitted
    try:
        stream.write(fit(page, stream.encoding))
        stream.flush()
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())


def aside(text: str) -> None:
    """Say something beside the answer, on standard error; nothing of it reaches a terminal raw."""
    if sys.stderr is not None:
        sys.stderr.write(fitted(f"coldspell: {text}\n", sys.stderr.encoding))


def written(path: object) -> None:
    """Say to whoever sits at a terminal that a file was written; a script is told nothing."""
    if sys.stderr is not None and sys.stderr.isatty():
        aside(f"written: {path}")


def working(text: str) -> None:
    """Say to whoever sits at a terminal what takes a while; a script is told nothing."""
    if sys.stderr is not None and sys.stderr.isatty():
        aside(f"{text} …")


def standard_input() -> TextIO:
    """What is piped in.

    Raises
    ------
    ColdspellError
        It is closed.
    """
    if sys.stdin is None:
        raise ColdspellError("standard input is closed", mend="pipe a table in, or name its file")
    return sys.stdin


def number(value: float, digits: int = 3) -> str:
    """A number with so many significant digits, without exponent for everyday sizes.

    >>> number(1234.5), number(0.05678), number(3)
    ('1234', '0.0568', '3')
    """
    if value == 0 or not math.isfinite(value):
        return f"{value:g}"
    places = max(0, digits - 1 - math.floor(math.log10(abs(value))))
    shown = f"{value:.{places}f}"
    return shown.rstrip("0").rstrip(".") if "." in shown else shown


def size(octets: int) -> str:
    """The size of a file as people say it (decimal units, IEC 80000-13).

    >>> size(640), size(20_480), size(3_456_789)
    ('640 bytes', '20 kB', '3.5 MB')
    """
    if octets < 1000:
        return f"{octets} bytes"
    return f"{octets / 1000:.0f} kB" if octets < 1_000_000 else f"{octets / 1e6:.1f} MB"


def percent(share: float) -> str:
    """A share as a percentage: whole, or with the digits that matter near 0 and 100.

    >>> percent(0.9), percent(0.0049), percent(0.9996)
    ('90 %', '0.49 %', '99.96 %')
    """
    value = 100 * share
    places = 0 if 1 <= value <= 99 or value in (0, 100) else 2
    return f"{value:.{places}f} %"


def _as_json(value: Any) -> Any:
    if isinstance(value, Struct):
        return {name: _as_json(getattr(value, name)) for name in value.__struct_fields__}
    if hasattr(value, "__dataclass_fields__") and not isinstance(value, type):
        import dataclasses  # not wanted where a recipe is written

        return {f.name: _as_json(getattr(value, f.name)) for f in dataclasses.fields(value)}
    if isinstance(value, dict):
        return {key: _as_json(item) for key, item in value.items()}
    if isinstance(value, (list, tuple)):
        return [_as_json(item) for item in value]
    if isinstance(value, (date, datetime)):
        return value.isoformat()
    if isinstance(value, float):
        return round(value, 9) if math.isfinite(value) else None
    return value
