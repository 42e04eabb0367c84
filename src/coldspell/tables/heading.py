"""What a heading means: a fact of a lot, something that a table says beside, or a column carried through."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from coldspell.lot.table import FACTS, LotFact
from coldspell.near import nearest
from coldspell.tables.raw import heading_key

OWN = {
    "lot": "number or name of the lot, as on its label",
    "name": "name of the plant, botanical or common",
    "grams": "weight of the lot; counts where neither seeds nor kilograms are given",
    "supplier": "who it came from",
    "origin": "where it comes from; north or south also say the part of its range",
    "shelf": "where it stands; season makes a tick sheet for each",
    "note": "anything else",
}
"""Columns of a table beside the facts of a lot, and what they are."""


class Misspelt(Struct, frozen=True):
    """A heading that is not known and looks like one that is."""

    heading: str
    meant: str


class Headings(Struct, frozen=True):
    """Headings as they stand in the table, by what they mean."""

    own: dict[str, str]
    facts: tuple[tuple[str, LotFact], ...]
    carried: tuple[str, ...]
    misspelt: tuple[Misspelt, ...]

    def joined(self, other: Headings) -> Headings:
        """Both, each heading once: where every row brings its own."""
        if other is self:
            return self
        return Headings(
            {**self.own, **other.own},
            tuple(dict([*self.facts, *other.facts]).items()),
            tuple(dict.fromkeys((*self.carried, *other.carried))),
            tuple(dict.fromkeys((*self.misspelt, *other.misspelt))),
        )


def headings_of(headings: Sequence[str] | None) -> Headings:
    """Sort headings by what they mean."""
    own: dict[str, str] = {}
    facts, carried, misspelt = [], [], []
    for heading in headings or ():
        key = heading_key(heading)
        if key in OWN:
            own[key] = heading
        elif key in FACTS:
            facts.append((heading, FACTS[key]))
        elif key:
            carried.append(heading)
            near = nearest(key, [*FACTS, *OWN])
            if near is not None:
                misspelt.append(Misspelt(heading, near))
    return Headings(own, tuple(facts), tuple(carried), tuple(misspelt))
