"""Which recipes change between two versions of a library or of the rules: the same few lots asked of both."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from msgspec import Struct

from coldspell.ask import Question, answer
from coldspell.decide.tables import Tables
from coldspell.library.library import Library
from coldspell.lot.read import make_lot
from coldspell.records.model import Record
from coldspell.records.name import genus_of
from coldspell.write.recipe import Recipe
from coldspell.write.recipe_work import Look

LOTS: dict[str, dict[str, str | int]] = {
    "fresh": {"moisture": "fresh", "seeds": 30},
    "dried": {"moisture": "dried", "seeds": 30},
    "stored three years": {"moisture": "dried", "stored_years": 3, "seeds": 30},
    "kernels": {"moisture": "fresh", "shell": "kernel", "seeds": 30},
    "northern": {"moisture": "fresh", "origin": "north", "seeds": 30},
}
"""The lots asked of both libraries, by what is special about them."""
_DAY = date(2026, 10, 1)


@dataclass(frozen=True, slots=True)
class RecipeChange:
    """One lot whose recipe differs: what it said and says now."""

    record: str
    lot: str
    old: tuple[str, ...]
    new: tuple[str, ...]


def touched(old: Library, new: Library, changed: Collection[str]) -> list[str]:
    """The kinds of both libraries whose recipes a change of some records can change.

    These are all of the genera of those records, for a genus record fills up its species, and whatever record
    asks a question that leads to one of them; nothing else is taken over from another genus.
    """
    genera, wanted = {genus_of(name) for name in changed}, {*changed}

    def is_touched(record: Record) -> bool:
        answers = record.asks.answers if record.asks else ()
        return genus_of(record.name) in genera or any(wanted.intersection(one.then) for one in answers)

    both = {*old.names} & {*new.names}
    return sorted(name for name in both if is_touched(old.get(name)) or is_touched(new.get(name)))


def recipe_changes(
    old: Library, new: Library, tables: Tables, names: Sequence[str]
) -> list[RecipeChange]:
    """Compare the recipes of some kinds that stand in both libraries (see `touched`).

    A change in a genus record shows at every species that it fills up. What changes alike for several lots is
    told for the first of them only.
    """
    return _changes(names, (old, tables), (new, tables))


def changes_by_rules(library: Library, names: Sequence[str], old: Tables, new: Tables) -> list[RecipeChange]:
    """Compare the recipes of some kinds between two sets of rules; alike for several lots, told once."""
    return _changes(names, (library, old), (library, new))


def _changes(
    names: Sequence[str], old: tuple[Library, Tables], new: tuple[Library, Tables]
) -> list[RecipeChange]:
    found = []
    for name in names:
        seen = set()
        for lot, said in LOTS.items():
            question = Question(name, make_lot(said), _DAY)
            before, after = (_gist(answer(question, lib, tables, "")) for lib, tables in (old, new))
            told = (frozenset(before) - frozenset(after), frozenset(after) - frozenset(before))
            if before != after and told not in seen:
                seen.add(told)
                found.append(RecipeChange(name, lot, before, after))
    return found


def _gist(recipe: Recipe) -> tuple[str, ...]:
    """What a grower would read: every sentence and figure of the recipe, but for reasons and sources."""
    return tuple(dict.fromkeys(_told(recipe, "")))


_NOT_TOLD = frozenset(
    {"schema", "tool", "library", "rules", "rule", "cites", "sources", "trace", "asked_on", "lot", "species"}
)
"""What differs where nothing else does, what was asked, and who says so."""


def _told(value: object, name: str) -> Iterator[str]:
    """The sentences in a value, and its figures and words by their names."""
    if isinstance(value, Look):
        yield f"{value.look_for}: {value.then_do}"
    elif isinstance(value, Struct):
        for field in value.__struct_fields__:
            if field not in _NOT_TOLD:
                inner = field.replace("_", " ")
                yield from _told(getattr(value, field), f"{name} {inner}" if name else inner)
    elif isinstance(value, tuple):
        inner_ones = [one for one in value if isinstance(one, (Struct, tuple)) or " " in _figure(one)]
        for one in inner_ones:
            yield from _told(one, name)
        if value and not inner_ones:
            yield f"{name}: {', '.join(map(_figure, value))}"
    elif isinstance(value, str) and " " in value:
        yield value
    elif value is not None:
        yield f"{name}: {_figure(value)}"


def _figure(value: object) -> str:
    return f"{value:g}" if isinstance(value, float) else str(value)
