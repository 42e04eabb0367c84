"""Text for HTML of which no line ends within a quantity: ``2–5 °C`` and ``rinse. (p)`` stay whole."""

from __future__ import annotations

import re
from typing import Any

_NUMBER = r"\d+(?:[.,]\d+)*"
_QUANTITY = re.compile(rf"({_NUMBER}(?:–{_NUMBER})?)( (?:°[CF]|mm|cm|ml|l|m²|kg|g|%|in|ft²|qt)(?!\w))?")
_MARK = re.compile(r" (?=\(p\)|\[\d)")
"""What stands before the mark of a source."""


def unbroken(text: str) -> Any:
    """The text as escaped markup; a range and its unit are one span, a mark stays with its word.

    Spans, and no invisible characters, so that what is copied from the page is what was written.
    """
    from markupsafe import Markup, escape

    found, at = [], 0
    for match in _QUANTITY.finditer(text):
        if match[2] or "–" in match[1]:
            found += [_marked(text[at : match.start()]), f'<span class="whole">{escape(match[0])}</span>']
            at = match.end()
    return Markup("".join([*found, _marked(text[at:])]))


def _marked(text: str) -> str:
    from markupsafe import escape

    return _MARK.sub("&nbsp;", str(escape(text)))
