"""Numbers the sources that an answer leans on, in the order of first use."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any, cast

from coldspell.library.references import address, short_reference
from coldspell.records.model import Record
from coldspell.rules import Firing
from coldspell.texts import Texts
from coldspell.write.recipe_found import Source

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
            text = self._texts.say("practice") if source is None else short_reference(source, item)
            self._sources.append(Source(self._numbers[key], text, source, at, basis, address(item or {})))
        return self._numbers[key]
