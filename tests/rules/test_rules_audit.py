"""The box arithmetic against counting every cell, and what the audit says of whole rule books."""

from __future__ import annotations

import itertools
import random
import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rules_lots import GOOD, SOURCES, limits, random_lot

from coldspell.errors import InternalFault
from coldspell.rulebook import asked, load_rulebook, rule_paths
from coldspell.rules import check_rules, load_rules
from coldspell.rules.audit import audit
from coldspell.rules.boxes import Box, first_gap, grown, meet, volume
from coldspell.rules.plain import PlainEngine


def cells(box: Box) -> set[tuple[int, ...]]:
    """Every cell of a box, counted out."""
    return set(itertools.product(*([n for n in range(8) if bits >> n & 1] for bits in box)))


@st.composite
def spaces(draw: st.DrawFn) -> tuple[Box, list[Box]]:
    sizes = draw(st.lists(st.integers(1, 4), min_size=1, max_size=4))
    space = tuple(draw(st.integers(1, (1 << size) - 1)) for size in sizes)
    box = st.tuples(*(st.integers(1, (1 << size) - 1) for size in sizes))
    return space, draw(st.lists(box, max_size=9))


@given(spaces())
@settings(max_examples=600, deadline=None)
def test_gap_is_found_exactly_when_a_cell_is_left(case: tuple[Box, list[Box]]) -> None:
    space, boxes = case
    left = cells(space).difference(*(cells(box) for box in boxes))
    gap = first_gap(space, boxes)
    assert (gap is None) == (not left)
    if gap is not None:
        assert cells(gap) <= left
        wide = grown(gap, space, boxes)
        assert cells(gap) <= cells(wide) <= left


@given(spaces())
@settings(max_examples=200, deadline=None)
def test_meet_and_volume_count_cells(case: tuple[Box, list[Box]]) -> None:
    space, boxes = case
    assert volume(space) == len(cells(space))
    for box in boxes:
        both = meet(space, box)
        assert (cells(both) if both else set()) == cells(space) & cells(box)


def test_unique_holds_exactly_when_nothing_meets_and_volumes_add_up() -> None:
    """The two conditions of the proof, on random partitions with and without a box taken out."""
    chance = random.Random(1)
    for _ in range(100):
        space: Box = tuple((1 << chance.randint(2, 6)) - 1 for _ in range(4))
        parts = [space]
        for _ in range(12):
            part = parts.pop(chance.randrange(len(parts)))
            axis = chance.choice([n for n, bits in enumerate(part) if bits.bit_count() > 1] or [0])
            one = part[axis] & -part[axis]
            halves = [(*part[:axis], bits, *part[axis + 1 :]) for bits in (one, part[axis] & ~one)]
            parts += [half for half in halves if all(half)]
        assert not any(meet(a, b) for a, b in itertools.combinations(parts, 2))
        assert sum(map(volume, parts)) == volume(space)
        assert first_gap(space, parts) is None
        gone = parts.pop()
        found = first_gap(space, parts)
        assert cells(grown(found, space, parts)) == cells(gone) or cells(found) <= cells(gone)


def test_eight_facts_of_six_labels_stay_quick() -> None:
    """1.7 million cells and over 100 boxes that leave one open: found, and proved closed, in seconds."""
    chance = random.Random(2)
    space: Box = (0b111111,) * 8
    hole = (1,) * 8
    boxes = [tuple(0b111110 if n == axis else 0b111111 for n in range(8)) for axis in range(8)]
    for _ in range(120):
        box = tuple(chance.randint(1, 63) for _ in range(8))
        boxes.insert(chance.randrange(len(boxes)), box)
    boxes = [box for box in boxes if not meet(box, hole)]
    started = time.perf_counter()
    assert first_gap(space, boxes) == hole
    assert first_gap(space, [*boxes, hole]) is None
    assert time.perf_counter() - started < 20


def test_the_good_book_is_clean_and_every_impossible_row_is_out_of_reach() -> None:
    assert check_rules([GOOD], SOURCES) == []
    book = load_rules([GOOD], SOURCES)
    chance, marks = random.Random(4), limits(GOOD)
    report = audit(book, [random_lot(book, chance, marks) for _ in range(500)])
    assert report.findings == ()
    assert report.lots == 500
    never = {(d, r) for d, rules in report.fired.items() for r, count in rules.items() if count == 0}
    assert never == {("lid", "treated without a medium")}


def test_a_reached_impossible_row_is_shown_once_with_its_lot() -> None:
    book = load_rules([GOOD])
    lot = random_lot(book, random.Random(6), [])
    facts = {**lot, "share": 0.9, "damp": "no"}
    broken = [{**facts, "medium": "not_asked", "route": "treat"}] * 3
    with pytest.raises(InternalFault, match="impossible row 'treated without a medium' was reached"):
        book.decide("lid", broken[0], PlainEngine())


def test_not_asked_is_left_out_only_where_it_cannot_be() -> None:
    book = load_rules([GOOD])
    axis = book.decisions["closure"].axes[0]
    assert axis.within == ("towel", "bag")
    assert set(book.decisions["lid"].axes[0].within) == {"towel or bag", "tray", "not_asked"}


def test_the_shipped_rules_are_clean() -> None:
    findings = [f for f in check_rules(rule_paths(), None, asked) if f.severity == "error"]
    assert findings == []
    report = audit(load_rulebook().book)
    assert report.findings == ()
    cells = sum(proof.cells for proof in report.proofs)
    print(f"\n{len(report.proofs)} decisions, {sum(p.rules for p in report.proofs)} rules, {cells} cells")
