"""Add to a recipe what the office knows of its kind."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from pathlib import Path
from typing import Protocol, TypeVar

from msgspec.structs import replace

from coldspell.lot.place import is_noted_for
from coldspell.office.model import EVERY, Office
from coldspell.records.name import genus_of
from coldspell.texts import Texts
from coldspell.write.recipe import Recipe
from coldspell.write.recipe_work import LawNote


class _OfKind(Protocol):
    @property
    def kind(self) -> str: ...


K = TypeVar("K", bound=_OfKind)


def of_kind(entries: Iterable[K], name: str) -> tuple[K, ...]:
    """The entries on a kind: by its name, its genus, or all."""
    return tuple(one for one in entries if one.kind in (EVERY, name, genus_of(name)))


def captions(office: Office, name: str, texts: Texts) -> tuple[tuple[Path, str], ...]:
    """The photographs of a kind, each with what it shows, by whom, and its licence."""
    return tuple(
        (one.file, texts.say("office_photograph", shows=one.shows, by=one.by, licence=one.licence))
        for one in of_kind(office.photographs, name)
    )


def with_office(recipe: Recipe, office: Office, texts: Texts, stale_days: float) -> Recipe:
    """The recipe with the local notes before those of the records; after ``stale_days`` they say their age.

    Where the lot was said to be in another place, a note is left out.
    """
    place = str(recipe.lot.said["place"] or "")
    asked = date.fromisoformat(recipe.asked_on)
    notes = []
    for one in of_kind(office.notes, recipe.species.name):
        if place and not is_noted_for(place, one.place):
            continue
        stale = (asked - date.fromisoformat(one.checked)).days > stale_days
        text = texts.say(
            "office_note",
            place=one.place,
            says=one.says.rstrip("."),
            who=one.who,
            checked=one.checked,
            stale=texts.say("law_stale") if stale else "",
        )
        whom = recipe.species.name
        notes.append(LawNote(text, None, (), one.place, one.about, whom, local=True))
    return replace(recipe, law=(*notes, *recipe.law)) if notes else recipe

