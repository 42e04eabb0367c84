"""Every record is found by each of its whole names, or by a question that lists it."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from coldspell.library.fold import fold
from coldspell.library.library import Library
from coldspell.library.load import load_library, shipped_dirs
from coldspell.library.names import Found, Several, look_up
from coldspell.records.model import Record
from coldspell.records.name import genus_of


@pytest.fixture(scope="module")
def shipped() -> Library:
    return load_library(shipped_dirs())


def whole_names(record: Record) -> Iterator[str]:
    """Yield every name that a record carries."""
    yield record.name
    yield from record.synonyms
    for commons in record.common_names.values():
        yield from commons


def fault(library: Library, record: Record, typed: str) -> str | None:
    """What is wrong with the answer to a whole name of a record; ``None`` if nothing is."""
    found = look_up(library, typed)
    if isinstance(found, Found):
        if found.record is record:
            return None
        return None if record.name in found.others else f"silently {found.record.name}"
    if isinstance(found, Several):
        listed = {one.name for one in found.records}
        return None if record.name in listed else f"a question that does not list it: {sorted(listed)}"
    return f"not found; {found.nearest}"


def faults(library: Library, spell: object = None) -> list[tuple[str, str, str]]:
    """All faults of the library, each whole name spelled in some way."""
    found = []
    for name in library.names:
        record = library.get(name)
        for whole in whole_names(record):
            typed = spell(whole) if callable(spell) else whole
            wrong = fault(library, record, typed)
            if wrong:
                found.append((name, typed, wrong))
    return found


def _lower_ascii(name: str) -> str:
    return fold(name)


@pytest.mark.parametrize(
    "spell",
    [None, str.upper, _lower_ascii, lambda name: f"  {name.replace(' ', '   ')} ", lambda n: f'"{n}"'],
    ids=["as it stands", "upper case", "without accents", "with spaces", "in quotation marks"],
)  # fmt: skip
def test_a_whole_name_never_gives_another_plant_silently(shipped: Library, spell: object) -> None:
    assert faults(shipped, spell) == []


def test_the_accepted_name_is_never_a_question(shipped: Library) -> None:
    """The name of a species is that plant; that of a genus the genus, unless other trades use the word."""
    for name in shipped.names:
        found = look_up(shipped, name)
        if " " in name:
            assert isinstance(found, Found), name
            assert found.record.name == name
        else:
            assert isinstance(found, Several) or found.record.name == name, name  # type: ignore[union-attr]


def test_no_botanical_genus_name_becomes_one_species(shipped: Library) -> None:
    alone = {genus for genus, meant in shipped.words.items() if len(meant) == 1}
    for genus in {genus_of(name) for name in shipped.names}:
        found = look_up(shipped, genus)
        if genus.casefold() not in alone:
            assert isinstance(found, Several) or found.record.rank == "genus", genus  # type: ignore[union-attr]


def test_less_than_a_whole_name_is_never_an_answer(shipped: Library) -> None:
    """Neither the end of a common name, nor a name with a word before it that is not its own."""
    for key in list(shipped.index)[::97]:  # each look at a part of a name goes through the whole index
        words = key.split()
        if len(words) > 1 and words[0].isalpha():
            rest = " ".join(words[1:])
            found = look_up(shipped, rest)
            if isinstance(found, Found):
                carried = {fold(name) for name in whole_names(found.record)} | {
                    fold(genus_of(found.record.name))
                }
                assert any(_same(rest, name) for name in carried), (rest, found.record.name)
        found = look_up(shipped, f"zzyzx {key}")
        assert not isinstance(found, Found), key


def _same(typed: str, name: str) -> bool:
    """Whether a name is the one that was typed, but for its plural, its author, a space, or a unit word."""
    short, long = sorted((typed.replace(" ", ""), name.replace(" ", "")), key=len)
    return long.startswith(short[:-1]) or short.startswith(long[:4])


def test_a_planted_fault_is_found(shipped: Library, monkeypatch: pytest.MonkeyPatch) -> None:
    """The check above sees a look-up that answers with the first match."""
    from coldspell.library import names

    class First:
        def __new__(cls, records: tuple[Record, ...], *_: object, **__: object) -> Found:  # type: ignore[misc]
            return Found(records[0], "first")

    monkeypatch.setattr(names, "Several", First)
    assert len(faults(shipped)) > 30
