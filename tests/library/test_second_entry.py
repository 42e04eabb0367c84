"""Every read treatment against what a second reader typed from the source.

Source of the values: ``tests/data/second-entry/*.csv``, each row with its source and page; the rules stand in
the README there. What the comparison would catch is measured by planting faults into the records themselves.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache

import msgspec
import pytest
import second_entry as se

from coldspell.library.load import Library, load_library, shipped_dirs
from coldspell.records.model import Quantity, Record, Step, Treatment

_LEAST = {"days a tenth": 0.9, "order reversed": 0.88, "degrees 15": 0.97, "percent of another": 0.55}
"""Share of the faults that can be planted into compared treatments and must be caught."""


@cache
def _library() -> Library:
    return load_library(shipped_dirs())


@cache
def _entry() -> se.Entry:
    return se.entry(_library(), se.typed_rows())


def test_records_agree_with_the_second_entry(capsys: pytest.CaptureFixture[str]) -> None:
    differences = se.compare(_library(), _entry())
    known = se.known_differences()
    new = [f"{one.key}: {one.what}" for one in differences if one.key not in known]
    lines = "\n".join(new)
    assert not new, f"look again at the source; mend the record, the row, or give the reason:\n{lines}"
    assert not set(known) - {one.key for one in differences}, "these differences are gone; take them out"
    assert all(len(reason) > 20 for reason in known.values())
    read, compared = _counts()
    with capsys.disabled():
        print(f"\nsecond entry: {len(se.typed_rows())} rows", end=", ")
        print(f"{compared} of {read} read treatments compared, {len(known)} differ")
    assert compared >= 0.7 * read


def test_rows_are_whole() -> None:
    """Every row names a source of the bibliography; ranges run upwards; a typed page has its number."""
    for row in se.typed_rows():
        assert row.source in _library().bibliography, row
        assert row.origin in ("page", "evidence"), row
        assert row.origin == "evidence" or any(letter.isdigit() for letter in row.at), row
        spans = [span for step in row.steps or () for span in (step.days, step.celsius)]
        for low, high in (*spans, *row.percents):
            assert low is None or high is None or low <= high, row


@dataclass(frozen=True, slots=True)
class _Case:
    record: Record
    treatment: Treatment
    rows: list[se.Row]

    def differs(self, treatment: Treatment) -> bool:
        margin = se.has_practice(self.record, treatment)
        return bool(se.compare_treatment(treatment, self.rows, margin=margin))


@cache
def _cases() -> tuple[_Case, ...]:
    """Every compared treatment that agrees with its rows."""
    return tuple(case for case in _compared() if not case.differs(case.treatment))


def _compared() -> Iterator[_Case]:
    for record in se.species(_library()):
        for treatment in record.treatments:
            rows = _entry().rows(record, se.read_sources(record, treatment))
            if se.comparable(treatment, rows):
                yield _Case(record, treatment, rows)


def _read_treatments() -> Iterator[_Case]:
    """Every treatment with a read footnote, compared or not."""
    for record in se.species(_library()):
        yield from (_Case(record, one, []) for one in record.treatments if se.read_sources(record, one))


def _counts() -> tuple[int, int]:
    return sum(1 for _ in _read_treatments()), sum(1 for _ in _compared())


def _steps(treatment: Treatment, change: Callable[[Step], Step]) -> Treatment | None:
    steps = tuple(change(step) for step in treatment.steps)
    return None if steps == treatment.steps else msgspec.structs.replace(treatment, steps=steps)


def _times(quantity: Quantity, factor: float) -> Quantity:
    return Quantity(quantity.low * factor, quantity.high * factor)


def _tenth(case: _Case) -> Treatment | None:
    """Days of 12 for 120."""

    def change(step: Step) -> Step:
        if step.do not in ("cold_moist", "warm_moist") or step.days is None:
            return step
        return msgspec.structs.replace(step, days=_times(step.days, 0.1))

    return _steps(case.treatment, change)


def _reversed(case: _Case) -> Treatment | None:
    """Cold before warmth for warmth before cold, the coat opened last."""
    kinds = [step.do for step in case.treatment.steps if step.do in se.KIND]
    steps = case.treatment.steps[::-1]
    same = [se.KIND[one] for one in kinds] == [se.KIND[one] for one in reversed(kinds)]
    return None if same else msgspec.structs.replace(case.treatment, steps=steps)


def _fifteen(case: _Case) -> Treatment | None:
    """15 degrees for 5, where a source told degrees; where none did, the check of the usual range is left."""
    told = [one for row in case.rows for one in row.steps or () if one.celsius[0] is not None]
    if case.rows and not told:
        return None

    def change(step: Step) -> Step:
        if step.do != "cold_moist" or step.celsius is None:
            return step
        return msgspec.structs.replace(step, celsius=Quantity(15, 15))

    return _steps(case.treatment, change)


def _moved(case: _Case) -> Treatment | None:
    """The percent of another treatment of the record."""
    own = case.treatment.percent
    for other in case.record.treatments:
        if own and other.percent and abs(other.percent.high - own.high) > 5:
            return msgspec.structs.replace(case.treatment, percent=other.percent)
    return None


_FAULTS: dict[str, Callable[[_Case], Treatment | None]] = {
    "days a tenth": _tenth, "order reversed": _reversed, "degrees 15": _fifteen, "percent of another": _moved,
}  # fmt: skip


@pytest.mark.parametrize("fault", _FAULTS)
def test_planted_faults_are_caught(fault: str, capsys: pytest.CaptureFixture[str]) -> None:
    planted = [(case, changed) for case in _cases() if (changed := _FAULTS[fault](case)) is not None]
    caught = sum(case.differs(changed) for case, changed in planted)
    every = sum(_FAULTS[fault](case) is not None for case in _read_treatments())
    with capsys.disabled():
        share = f"{caught / len(planted):.1%}, {caught / every:.1%} of the {every} in all read treatments"
        print(f"\n{fault}: {caught} of {len(planted)} planted faults caught ({share})")
    assert caught >= _LEAST[fault] * len(planted)


NAMED = [
    ("days a tenth", "Corylus americana", "cold"),
    ("days a tenth", "Fagus crenata", "cold"),
    ("days a tenth", "Quercus coccinea", "cold"),
    ("days a tenth", "Prunus americana", "cold"),
    ("days a tenth", "Malus baccata", "cold"),
    ("days a tenth", "Rosa acicularis", "warm-then-cold"),
    ("days a tenth", "Viburnum acerifolium", "rooted-cold"),
    ("days a tenth", "Tilia americana", "scarify-then-cold"),
    ("days a tenth", "Acer capillipes", "cold"),
    ("order reversed", "Cornus alternifolia", "warm-then-cold"),
    ("order reversed", "Pinus albicaulis", "warm-then-long-cold"),
    ("order reversed", "Fraxinus americana", "warm-then-cold"),
    ("order reversed", "Crataegus arnoldiana", "acid-then-cold"),
    ("order reversed", "Taxus baccata", "warm-then-cold"),
    ("order reversed", "Carpinus betulus", "warm-then-cold"),
    ("order reversed", "Symphoricarpos albus", "warm-then-cold"),
    ("degrees 15", "Juglans californica", "cold"),
    ("degrees 15", "Carya aquatica", "cold"),
    ("degrees 15", "Styrax japonicus", "warm-then-cold"),
    ("degrees 15", "Sambucus canadensis", "warm-then-cold"),
    ("degrees 15", "Sorbus americana", "cold"),
    ("degrees 15", "Asclepias fascicularis", "cold"),
    ("percent of another", "Cercis canadensis", "cold-fresh"),
    ("percent of another", "Betula nigra", "cold"),
    ("percent of another", "Arbutus unedo", "cold"),
    ("percent of another", "Asparagus acutifolius", "warm"),
    ("percent of another", "Atriplex canescens", "cold"),
]


@pytest.mark.parametrize(("fault", "name", "treatment"), NAMED)
def test_a_named_fault_is_caught(fault: str, name: str, treatment: str) -> None:
    case = next((one for one in _cases() if (one.record.name, one.treatment.name) == (name, treatment)), None)
    assert case is not None, "no such treatment is compared any more: plant the fault elsewhere"
    changed = _FAULTS[fault](case)
    assert changed is not None
    assert case.differs(changed)
