"""Checks of where a footnote says that something stands: pages that run backwards, places that name none."""

from __future__ import annotations

import re
from collections.abc import Iterator

from coldspell.check.base import Fault, RecordFile, Surroundings
from coldspell.check.limits import limits

_PAGES = re.compile(r"\bpp?\.?\s*(\d+)\s*[-\N{EN DASH}]\s*(\d+)")
_WORD = re.compile(r"[^\W_]+")


def pages_backwards(record: RecordFile, around: Surroundings) -> Iterator[Fault]:
    """Pages of a footnote that run backwards, or whose second number is shortened: pp 120-9."""
    for note, footnote in record.values.get("cites", {}).items():
        for first, last in _PAGES.findall(footnote.get("at", "")):
            if int(last) < int(first):
                what = f"the pages {first} to {last} run backwards"
                mend = "Write both in full, the lower first, as they stand in the source."
                yield Fault(("cites", note, "at"), what, mend)


def place_says_nothing(record: RecordFile, around: Surroundings) -> Iterator[Fault]:
    """A footnote whose place only names the work as a whole: nobody finds the value there."""
    for note, footnote in record.values.get("cites", {}).items():
        words = {word.casefold() for word in _WORD.findall(footnote.get("at", ""))}
        if "at" in footnote and words <= limits().no_place:
            what = f"'{footnote['at']}' is no place in a work"
            yield Fault(("cites", note, "at"), what, "Name the page, table, chapter or heading.")
