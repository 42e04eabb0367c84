"""Lay out lines of text: wrapped to a width, in plain characters where the terminal has no others."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterable

_ASCII = str.maketrans(
    {
        "–": "-",
        "—": "-",
        "−": "-",
        "×": "x",
        "°": "deg ",
        "·": "-",
        "•": "*",
        "└": "-",
        "…": "...",
        "’": "'",
        "‘": "'",
        "“": "'",
        "”": "'",
        "½": "1/2",
        "¼": "1/4",
        "¾": "3/4",
        "⅛": "1/8",
        "⅜": "3/8",
        "⅝": "5/8",
        "⅞": "7/8",
        "≥": ">=",
        "≤": "<=",
        "→": "->",
    }
)


def in_ascii(text: str) -> str:
    """The text in ASCII: dashes, degrees and fractions spelled, accents off, anything else a question mark.

    >>> in_ascii("1–5 °C, 2½ × Fraxinus é")
    '1-5 deg C, 21/2 x Fraxinus e'
    """
    import unicodedata

    folded = unicodedata.normalize("NFKD", text.translate(_ASCII))
    return "".join(c for c in folded if not unicodedata.combining(c)).encode("ascii", "replace").decode()


def fits(text: str, encoding: str | None) -> bool:
    """Whether a character set has all of a text; one that is not known has."""
    try:
        text.encode(encoding or "utf-8")
    except (UnicodeEncodeError, LookupError):
        return False
    return True


_RAW = (
    "[\x00-\x08\x0b-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff\ud800-\udfff]"
)


def shown(text: str) -> str:
    """The text with what could move the cursor, turn the line or be no text spelled out as in JSON.

    >>> shown("a\x1b[31m\u202e")
    'a\\\\u001b[31m\\\\u202e'
    """
    if text.replace("\n", "").isprintable():  # nearly every text: then the expression is not even compiled
        return text
    return re.sub(_RAW, lambda found: f"\\u{ord(found[0]):04x}", text)


def fitted(text: str, encoding: str | None) -> str:
    """The text as a terminal of that character set can show it."""
    text = shown(text)
    return text if fits(text, encoding) else in_ascii(text)


def fitted_json(text: str, encoding: str | None) -> str:
    """JSON as that character set can hold it, with nothing lost: what it has not is escaped."""
    text = shown(text)
    return text if fits(text, encoding) else _escaped(text)


def _escaped(text: str) -> str:
    """Every character beyond ASCII as in JSON, those beyond the first plane as a pair."""
    import json

    return "".join(one if one.isascii() else json.dumps(one)[1:-1] for one in text)


KEPT = "\N{NO-BREAK SPACE}"
"""Where no line is broken; it is printed as a space."""

_BEFORE_UNIT = re.compile(r"(?<=[\d½¼¾]) (?=(?:mm|cm|m|m²|ml|l|g|kg|°C|°F|in|ft|oz|lb|fl|US)\b)")


def paragraph(text: str, width: int, indent: int = 0, first: str | None = None) -> list[str]:
    """Wrap a text, no number apart from its unit; ``first`` stands where the first line would be indented."""
    start = " " * indent if first is None else first.ljust(indent)
    if len(start.rstrip()) >= indent > 0 and first:
        return [start.rstrip(), *paragraph(text, width, indent)]
    width = max(width, indent + 12)
    if len(start) + len(text) <= width and text.isprintable() and text.strip() == text != "":
        return [start + text]  # most lines of a page are one
    lines = textwrap.wrap(
        _BEFORE_UNIT.sub(KEPT, text),
        width,
        initial_indent=start,
        subsequent_indent=" " * indent,
        break_long_words=True,
        break_on_hyphens=False,
    ) or [start.rstrip()]
    return [line.replace(KEPT, " ") for line in lines]


def labelled(rows: Iterable[tuple[str, str]], width: int, indent: int) -> list[str]:
    """Rows of label and text, the texts in one column; below 60 columns each text goes under its label."""
    lines: list[str] = []
    for label, text in rows:
        if width < 60:
            if label:
                lines += paragraph(label.strip(), width)
            lines += paragraph(text, width, 2)
        else:
            lines += paragraph(text, width, indent, label)
    return lines
