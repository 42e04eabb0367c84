"""The sources of a short page: one number for each work, with the places in it that the page leans on."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterable, Sequence

from msgspec import Struct

from coldspell.texts import Texts
from coldspell.write.recipe_found import Source

_WHO_WHEN = re.compile(r"(.{2,60}?) \((\d{4})\)")


class Work(Struct, frozen=True):
    """One work with its number on the page."""

    number: int
    text: str
    where: str
    url: str


class Sources:
    """Numbers works in the order of use; common practice is a letter."""

    def __init__(self, sources: Sequence[Source], texts: Texts) -> None:
        self._by_number = {source.number: source for source in sources}
        self._texts = texts
        self._numbers: dict[str, int] = {}
        self._places: dict[str, list[str]] = {}

    def marked(self, text: str, cites: Iterable[int], most: int | None = None) -> str:
        """The text with the numbers of its works; ``(p)`` where nothing but practice says so.

        ``most``: no more works than so many, the first of them; the full page names all.
        """
        cited = [self._by_number[number] for number in cites]
        first = list(dict.fromkeys(source.source for source in cited if source.source is not None))[:most]
        cited = [source for source in cited if source.source is None or source.source in first]
        numbers = sorted({self._number(source) for source in cited if source.source is not None})
        if numbers:
            return f"{text} [{','.join(map(str, numbers))}]"
        return f"{text} {self._texts.say('practice_mark')}" if cited else text

    @property
    def count(self) -> int:
        """How many works were named."""
        return len(self._numbers)

    def listed(self, beyond: int = 0) -> str:
        """All works that were named, or those after a number, with what of them, in one run of text."""
        works = [
            f"[{number}] {' '.join([_short(self._example(key)), *self._where(key)])}"
            for key, number in self._numbers.items()
            if number > beyond
        ]
        return self._texts.say("sources_short", works=" ".join(works)) if works else ""

    def works(self) -> tuple[Work, ...]:
        """Every work that was named, whole, with the places in it and where it can be read."""
        found = []
        for key, number in self._numbers.items():
            example = self._example(key)
            found.append(Work(number, example.text, ", ".join(self._where(key)), example.url or ""))
        return tuple(found)

    def _number(self, source: Source) -> int:
        key = source.source or ""
        number = self._numbers.setdefault(key, len(self._numbers) + 1)
        places = self._places.setdefault(key, [])
        basis = self._texts.say("recalled_mark") if source.basis == "recalled" else ""
        place = " ".join(part for part in (_page(source.at), basis) if part)
        if place and place not in places:
            places.append(place)
        return number

    def _where(self, key: str) -> list[str]:
        """The places in one work: pages from the first to the last, then what is no page."""
        places = self._places[key]
        pages = sorted({int(n) for place in places for n in re.findall(r"\d+", place) if _is_page(place)})
        rest = [place for place in places if not _is_page(place)]
        named = [f"pp {pages[0]}–{pages[-1]}" if len(pages) > 1 else f"p {pages[0]}"] if pages else []
        return [", ".join([*named, *rest])] if named or rest else []

    def _example(self, key: str) -> Source:
        return next(source for source in self._by_number.values() if source.source == key)


class Unmarked(Sources):
    """Leaves texts as they are, for pages beside which a whole answer stands with its sources."""

    def marked(self, text: str, cites: Iterable[int], most: int | None = None) -> str:
        """The text alone."""
        return text


def _is_page(place: str) -> bool:
    return re.fullmatch(r"pp? [\d–-]+", place) is not None


_TITLE = 72


def _short(source: Source) -> str:
    """Who and when; the title of what has no author."""
    found = _WHO_WHEN.match(source.text)
    if found:
        return f"{found[1]} {found[2]}"
    return textwrap.shorten(source.text.split(", ")[0], _TITLE, placeholder=" …")


def _page(at: str | None) -> str:
    """The page of a place, else the place as it is when it is short."""
    if at is None:
        return ""
    page = re.search(r"(pp?)\. ?([\d–-]+)", at)
    return f"{page[1]} {page[2]}" if page else at if len(at) <= 24 else ""
