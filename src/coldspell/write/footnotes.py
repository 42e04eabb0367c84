"""Numbers the sources that an answer leans on, in the order of first use."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any, cast

from coldspell.records.model import Record
from coldspell.rules import Firing
from coldspell.texts import Texts
from coldspell.write.recipe import Source

if TYPE_CHECKING:
    from coldspell.records.terms import Basis


class Footnotes:
    """Collects footnotes of records and rules; equal ones share a number."""

    def __init__(self, bibliography: Mapping[str, Mapping[str, Any]], texts: Texts) -> None:
        self._bibliography, self._texts = bibliography, texts
        self._numbers: dict[tuple[str | None, str | None, str], int] = {}
        self._sources: list[Source] = []

    def of_record(self, record: Record | None, keys: Iterable[str]) -> tuple[int, ...]:
        """Numbers of footnotes of a record; without a record, of common practice."""
        if record is None:
            return (self._number(None, None, "practice"),)
        found = []
        for key in keys:
            cite = record.cites[key]
            found.append(self._number(cite.source, cite.at, cite.basis))
        return tuple(dict.fromkeys(found))

    def of_rules(self, firings: Iterable[Firing]) -> tuple[int, ...]:
        """Numbers of the sources that rules cite."""
        cites = (cite for firing in firings for cite in firing.cites)
        # the reader of rules admits the words that records have
        found = [self._number(c.source, c.at, cast("Basis", c.basis)) for c in cites]
        return tuple(dict.fromkeys(found))

    def practice(self) -> int:
        """The number of common practice."""
        return self._number(None, None, "practice")

    def all(self) -> tuple[Source, ...]:
        """Every source so far, in order."""
        return tuple(self._sources)

    def _number(self, source: str | None, at: str | None, basis: Basis) -> int:
        key = (source, at, basis)
        if key not in self._numbers:
            self._numbers[key] = len(self._numbers) + 1
            item = self._bibliography.get(source) if source else None
            text = self._texts.say("practice") if source is None else reference(source, item)
            url = (item or {}).get("URL") or _doi(item)
            self._sources.append(Source(self._numbers[key], text, source, at, basis, url))
        return self._numbers[key]


def _doi(item: Mapping[str, Any] | None) -> str | None:
    return f"https://doi.org/{item['DOI']}" if item and "DOI" in item else None


def reference(source: str, item: Mapping[str, Any] | None) -> str:
    """A short reference from a CSL item: authors, year, title, container.

    >>> reference("x", {"author": [{"family": "Bonner"}], "issued": {"date-parts": [[1976]]}})
    'Bonner (1976), x'
    """
    if item is None:
        return source
    people = item.get("author") or item.get("editor") or []
    names = [str(p.get("family") or p.get("literal") or "") for p in people]
    who = (
        names[0] + " and others"
        if len(names) > 3
        else ", ".join(names[:-1]) + " & " * (len(names) > 1) + "".join(names[-1:])
    )
    if not who:
        who = str(item.get("publisher", ""))
    parts = (item.get("issued") or {}).get("date-parts") or []
    year = f" ({parts[0][0]})" if parts and parts[0] else ""
    title = str(item.get("title", source)).rstrip(".")
    container = item.get("container-title")
    text = f"{who}{year}, {title}" if who else f"{title}{year}"
    return f"{text}. {container}" if container else text
