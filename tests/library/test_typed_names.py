"""Words people type for the commonest kinds, in four languages: tests/data/typed-names.csv.

The words are recalled, not read; what each means was decided by reading the list, not by the program.
Plurals come from the rules of ``library/plurals.py``, which the last test takes away one by one.
"""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path

import pytest

from coldspell.library import plurals
from coldspell.library.load import Library, load_library, shipped_dirs
from coldspell.library.names import Found, Missing, Several, look_up

TABLE = Path(__file__).parents[1] / "data" / "typed-names.csv"


@cache
def _shipped() -> Library:
    return load_library(shipped_dirs())


@cache
def _rows() -> tuple[tuple[str, str, str], ...]:
    lines = [line for line in TABLE.read_text("utf-8").splitlines() if not line.startswith("#")]
    return tuple((row["typed"], row["language"], row["means"]) for row in csv.DictReader(lines))


def _wrong(typed: str, means: str) -> bool:
    found = look_up(_shipped(), typed)
    if means.startswith("? "):
        return not isinstance(found, Several) or means[2:] not in {one.name for one in found.records}
    return not isinstance(found, Found) or found.record.name != means


def test_every_typed_word_means_its_plant() -> None:
    assert [(typed, means) for typed, _, means in _rows() if _wrong(typed, means)] == []


def test_the_table_is_whole() -> None:
    """Sixty kinds and more, each language, words with accents and the same words without."""
    kinds = {means.removeprefix("? ") for _, _, means in _rows()}
    assert len(kinds) >= 60
    assert kinds <= set(_shipped().names)
    for language in ("en", "de", "fr", "es"):
        assert sum(one == language for _, one, _ in _rows()) >= 120, language
    assert sum(not typed.isascii() for typed, _, _ in _rows()) >= 80


@pytest.mark.parametrize("language", ["de", "es", "fr", "en"])
def test_without_its_plurals_a_language_is_not_understood(
    language: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(plurals._PLURALS, language, ())
    assert [typed for typed, one, means in _rows() if one == language and _wrong(typed, means)]


@pytest.mark.parametrize("typed", ["Foo ×", "× foo", "×", "' '", "a b c d e f"])
def test_a_name_with_nothing_in_a_part_of_it_is_not_found(typed: str) -> None:
    assert isinstance(look_up(_shipped(), typed), Missing)
