"""The usual states of a lot, and what each needs without dates; alike answers stand once."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Any

import msgspec
from msgspec import Struct
from msgspec.structs import replace

from coldspell.api import Library
from coldspell.arithmetic.seasons import months_between
from coldspell.draw.drawing import pictures
from coldspell.draw.picture import Picture
from coldspell.records.model import Record
from coldspell.sheet.content import without_options
from coldspell.views.short import Row, Short, short_page
from coldspell.views.undated import UndatedAnswer, counted, undated

SEEDS = 50
STATES: Mapping[str, Mapping[str, Any]] = {
    "fresh": {"moisture": "fresh"},
    "dried": {"moisture": "dried"},
    "stored": {"moisture": "dried", "stored_years": 3},
    "outdoors": {"moisture": "fresh", "refrigerator": "none", "winter": "cold"},
}
"""The states that are answered for every plant (our choice), as facts of a lot; the texts name each."""
YEAR = 2025
"""The year in which all are asked for: neither it nor the two after it have a 29 February."""
_ASKED = (10, 1)
"""Month and day on which dried seed is asked about, and fresh seed of which nobody says when it ripens."""


class Drawn(Struct, frozen=True):
    """One picture as a file of the site."""

    name: str
    title: str
    says: str
    file: str
    width: float
    height: float


class State(Struct, frozen=True):
    """One state, or several with the same answer: its anchor, its names, and what it needs."""

    key: str
    label: str
    answer: UndatedAnswer
    drawings: tuple[Drawn, ...]
    cautions: tuple[str, ...]
    leads: tuple[tuple[str, ...], ...]
    """Of a question, the names that each answer leads to."""


class Drawings:
    """Writes pictures as files named by their content, so that each stands once on the site."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def put(self, picture: Picture) -> Drawn:
        """The picture as a file."""
        svg = picture.svg().encode()
        file = f"{hashlib.sha256(svg).hexdigest()[:16]}.svg"
        path = self._folder / file
        if not path.exists():
            path.write_bytes(svg)
        return Drawn(picture.name, picture.title, picture.says, file, picture.width, round(picture.height, 1))


def states(library: Library, record: Record, drawings: Drawings) -> tuple[State, ...]:
    """What the usual states of a plant need; those that need the same stand under one heading."""
    texts = library.texts
    found: dict[bytes, State] = {}
    for key, facts in STATES.items():
        label = texts.say(f"export_state_{key}")
        day = _day(record) if facts["moisture"] == "fresh" else date(YEAR, *_ASKED)
        recipe = library.recipe(record.name, today=day, seeds=SEEDS, units="both", **facts)
        ahead_days = library.tables.practice.undated_ahead_days
        said = undated(recipe, short_page(recipe, texts), texts, ahead_days)
        told = UndatedAnswer(_for_page(said.short), said.weeks)
        same = msgspec.json.encode(replace(told, short=replace(told.short, lot="", sources="")))
        if same in found:
            known = found[same]
            found[same] = replace(known, label=texts.say("export_and", one=known.label, two=_small(label)))
            continue
        drawn = tuple(map(drawings.put, pictures(counted(recipe, texts), texts)))
        leads = tuple(choice.leads_to for choice in recipe.asks.choices) if recipe.asks else ()
        found[same] = State(key, label, told, drawn, tuple(note.text for note in recipe.cautions), leads)
    return tuple(found.values())


def _day(record: Record) -> date:
    """The middle of the months in which it ripens."""
    months = record.harvest.months if record.harvest is not None else None
    if months is None:
        return date(YEAR, *_ASKED)
    between = months_between(*months)
    return date(YEAR, between[len(between) // 2], 15 if len(between) % 2 else 1)


def _for_page(short: Short) -> Short:
    """A short page without what only who types the question can use, and without what repeats the heading."""
    rows: dict[str, tuple[Row, ...]] = {
        name: tuple((label, kept) for label, text in getattr(short, name) if (kept := without_options(text)))
        for name in ("needs", "kept", "what_if", "keeps", "instead")
    }
    return replace(short, notes=without_options(short.notes), title="", printed="", called="", **rows)


def dangers(found: tuple[State, ...]) -> tuple[str, ...]:
    """What is dangerous in any of the states, once; its sources stand beside the record below."""
    return tuple(dict.fromkeys(text for state in found for text in state.cautions))


def _small(text: str) -> str:
    return f"{text[:1].lower()}{text[1:]}"
