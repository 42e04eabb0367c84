"""Marks of the sowing (tender, acid, not pricked out), held against lists made by others.

A record's own ``sowing`` stands in place of that of its genus as a whole, so a mark of the genus is lost
unseen where the species writes a depth and forgets it. What the lists name was read on 2026-11-30:

* TENDER and HARDY: Gardening in the Carolinas, "Annuals" (gardeningcarolina.com/annuals/annuals.html), its
  tender annuals; Natural Pruning NW, "Hardy and tender flowers" (naturalpruningnw.com), its hardy ones, less
  those that the first list calls tender (petunia, nasturtium, verbena) and the doubtful cosmos and lobelia.
* LIME_HATING: BBC Gardening, glossary, "ericaceous".
* NOT_MOVED: Szerlag, The Detroit News, 12 March 2020, annuals that struggle as transplants; "What herbs don't
  transplant well?" (98905.com).
"""

from __future__ import annotations

import re

import pytest

from coldspell.api import shipped
from coldspell.records.model import Record

MARKS = ("tender", "acid", "pricked_out", "in_place")
TENDER = (
    "Ageratum houstonianum, Impatiens balsamina, Begonia × semperflorens-cultorum, Celosia argentea, "
    "Gomphrena globosa, Impatiens walleriana, Tagetes erecta, Tagetes patula, Ipomoea purpurea, "
    "Tropaeolum majus, Nicotiana alata, Petunia × atkinsiana, Salvia splendens, Verbena × hybrida, "
    "Zinnia elegans"
)
HARDY = (
    "Viola × wittrockiana, Papaver rhoeas, Lobularia maritima, Dianthus caryophyllus, Calendula officinalis, "
    "Antirrhinum majus, Lathyrus odoratus"
)
LIME_HATING = "Calluna vulgaris, Rhododendron catawbiense, Camellia japonica, Vaccinium corymbosum"
NOT_MOVED = (
    "Tropaeolum majus, Nigella damascena, Centaurea cyanus, Delphinium ajacis, Helianthus annuus, "
    "Anethum graveolens, Coriandrum sativum, Foeniculum vulgare"
)
RECORDS = shipped().records


def _mark(record: Record, mark: str) -> bool | None:
    return getattr(record.sowing, mark) if record.sowing is not None else None


def _names(listed: str) -> list[str]:
    return listed.split(", ")


@pytest.mark.parametrize("mark", MARKS)
def test_no_mark_of_a_genus_is_lost(mark: str) -> None:
    """A species that writes its own sowing says the mark of its genus as well, or denies it."""
    records = [RECORDS.get(name) for name in RECORDS.names]
    said = {r.name for r in records if r.rank == "genus" and r.asks is None and _mark(r, mark) is not None}
    lost = [r.name for r in records if r.sowing and r.name.split()[0] in said and _mark(r, mark) is None]
    assert said
    assert not lost, f"{mark} of the genus is not said by {', '.join(lost)}"


@pytest.mark.parametrize("name", _names(TENDER))
def test_what_others_call_tender(name: str) -> None:
    assert _mark(RECORDS.get(name), "tender") is True


@pytest.mark.parametrize("name", _names(HARDY))
def test_what_others_call_hardy(name: str) -> None:
    assert not _mark(RECORDS.get(name), "tender")


@pytest.mark.parametrize("name", _names(LIME_HATING))
def test_what_others_call_lime_hating(name: str) -> None:
    assert _mark(RECORDS.get(name), "acid") is True


@pytest.mark.parametrize("name", _names(NOT_MOVED))
def test_what_others_do_not_move(name: str) -> None:
    assert _mark(RECORDS.get(name), "pricked_out") is False


def test_days_of_a_test_in_the_cold_are_not_those_of_coming_up() -> None:
    """Pages count ``germination.days`` from the day of sowing; what sprouted in the cold was not sown then.

    Handbook tables (Bonner & Karrfalt 2008, Table 6 (Acer)) count days from the start of the cold.
    """
    cold = [
        name
        for name in RECORDS.names
        if (germination := RECORDS.get(name).germination) is not None
        and germination.days is not None
        and germination.celsius is not None
        and germination.celsius.high <= 5
    ]
    assert not cold


def test_no_note_says_what_moist_seed_lies_in() -> None:
    """The page says what this lot lies in; what the source took stands under `because`."""
    library = shipped().records
    medium = r"in (?:damp|moist|wet) (?:sand|peat|vermiculite|sphagnum|sawdust|perlite|coir)(?=[,;.]|$)"
    notes = (s.note for name in library.names for t in library.get(name).treatments for s in t.steps)
    assert not [note for note in notes if note and re.match(medium, note)]
