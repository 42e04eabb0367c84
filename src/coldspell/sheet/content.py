"""What stands on the sheet of one lot: plain values, from which each form is laid out."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace

from coldspell import __version__
from coldspell.draw.drawing import pictures
from coldspell.draw.picture import Picture
from coldspell.draw.signs import signs
from coldspell.draw.timeline import timeline
from coldspell.sheet.code import Code, code
from coldspell.sheet.raster import picture as raster
from coldspell.texts import Texts
from coldspell.views.days import days_of
from coldspell.views.short import Row, Short, short_page
from coldspell.write.recipe import Recipe
from coldspell.write.units import plural, spelled_date

DAYS_WIDE = 700.0
"""Width of what is as wide as the page."""


class Adviser(Struct, frozen=True):
    """Who hands the sheet out, where questions go, and a line for every sheet."""

    name: str = ""
    office: str = ""
    note: str = ""


class Shown(Struct, frozen=True):
    """One picture: its heading, the sentence that stands for it, the SVG, and its size in its own units."""

    name: str
    title: str
    says: str
    svg: str
    width: float
    height: float


class Card(Struct, frozen=True):
    """What the grower writes down in June: headings and the rows to fill in."""

    head: str
    says: str
    rows: tuple[Row, ...]


class Sheet(Struct, frozen=True):
    """All that stands on a sheet; ``words`` are the headings of its parts."""

    words: dict[str, str]
    paper: str
    day: str
    heading: str
    botanical: str
    lot: str
    lot_name: str
    short: Short
    pictures: tuple[Shown, ...]
    timeline: Shown | None
    narrow: Shown | None
    """The line of days for a telephone."""
    signs: Shown | None
    """What may be seen at a look, in one row for paper; for a screen it stands among the pictures."""
    ticks: tuple[str, ...]
    troubles: tuple[str, ...]
    """What can go wrong with a lot, to be ticked where somebody asks for help."""
    code: Code
    adviser: Adviser
    logo: Shown | None
    photographs: tuple[Shown, ...]
    """Of the office's own, each with what it shows and its licence as title."""
    card: Card | None
    made: str


class Wanted(Struct, frozen=True):
    """How a sheet is wanted: paper (``a4`` or ``letter``), who signs, name of the lot, June card.

    What only paper has, the code and the signs in a row, takes longer than all the rest: the web page has
    none of it (``printed`` is false).
    """

    paper: str = ""
    adviser: Adviser = Adviser()
    lot_name: str = ""
    june_card: bool = False
    printed: bool = True
    logo: Path | None = None
    photographs: tuple[tuple[Path, str], ...] = ()


def sheet(recipe: Recipe, texts: Texts, wanted: Wanted, *, prefix: str = "") -> Sheet:
    """The content of a sheet.

    Parameters
    ----------
    recipe
        What one lot needs; everything on the sheet stands in it.
    texts
        Sentences of the program.
    wanted
        Paper, adviser, name of the lot, card; the paper follows the units where it is not said.
    prefix
        Keeps the ids of the pictures apart where several sheets stand on one page.
    """
    species, short = recipe.species, _for_paper(short_page(recipe, texts))
    common = species.common_names[0] if species.common_names else ""
    drawn = [shown(one, prefix) for one in pictures(recipe, texts, days_wide=DAYS_WIDE)]
    narrow, row = timeline(recipe, texts), signs(recipe, texts, DAYS_WIDE) if wanted.printed else None
    lot_name = wanted.lot_name or f"{species.name}, {recipe.asked_on}"
    return Sheet(
        words={"read": _capital(texts.say("read_head")), **{key: texts.say(f"sheet_{key}") for key in WORDS}},
        paper=wanted.paper or ("letter" if recipe.units == "us" else "a4"),
        day=recipe.asked_on,
        heading=_capital(common) if common else species.name,
        botanical=species.name if common else "",
        lot=short.lot,
        lot_name=lot_name,
        short=short,
        pictures=tuple(one for one in drawn if one.name != "timeline"),
        timeline=next((one for one in drawn if one.name == "timeline"), None),
        narrow=shown(narrow, f"{prefix}narrow-") if narrow is not None else None,
        signs=shown(row, f"{prefix}row-") if row is not None else None,
        ticks=_ticks(recipe, texts),
        troubles=tuple(texts.say(f"trouble_{word}") for word in TROUBLES) if recipe.steps else (),
        code=code(recipe, lot_name, wanted.adviser.office, texts) if wanted.printed else Code("", ""),
        adviser=wanted.adviser,
        logo=_raster(wanted.logo, wanted.adviser.name) if wanted.logo else None,
        photographs=tuple(_raster(file, title) for file, title in wanted.photographs),
        card=_card(recipe, lot_name, texts) if wanted.june_card else None,
        made=texts.say("sheet_made", tool=f"coldspell {__version__}", library=recipe.library[:8]),
    )


TROUBLES = ("smell", "mould", "sprouts", "dry", "temperature", "grubs", "nothing", "bare")
"""What can go wrong, as the counter asks for it (``trouble_...`` among the sentences)."""
WORDS = ("days", "do", "look", "tick", "see", "then", "safety", "notes", "what_if", "trouble", "trouble_says")
"""Headings of the parts, as `sheet_...` among the sentences."""


def _raster(path: Path, title: str) -> Shown:
    svg, width, height = raster(path, title)
    return Shown("photograph", title, title, svg, width, height)


def shown(picture: Picture, prefix: str) -> Shown:
    """A picture as text; the prefix keeps its ids apart from those of others on the page."""
    return Shown(
        picture.name,
        picture.title,
        picture.says,
        picture.svg(prefix),
        picture.width,
        round(picture.height, 1),
    )


def _for_paper(short: Short) -> Short:
    """A short page without what only who types the question can use."""
    trial = short.trial
    if trial is not None:
        trial = replace(trial, first=tuple((label, without_options(text)) for label, text in trial.first))
    looks = short.looks
    if looks is not None:
        looks = replace(looks, when=_capital(looks.when))
    return replace(short, notes=without_options(short.notes), trial=trial, looks=looks)


def _capital(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}"


def without_options(text: str) -> str:
    """A text without brackets and sentences that name an option of the command line."""
    bare = re.sub(r"\s*\([^()]*--[a-z][^()]*\)", "", text)
    return " ".join(one for one in re.split(r"(?<=[.?!]) ", bare) if "--" not in one)


def _ticks(recipe: Recipe, texts: Texts) -> tuple[str, ...]:
    """The days on which to look, each to be ticked off."""
    checks = recipe.checks
    if checks is None or recipe.does.page == "test":
        return ()
    if checks.dates:
        return tuple(days_of(checks.dates, recipe.asked_on))
    return tuple(texts.say("day", first=day) for day in checks.days)


def _card(recipe: Recipe, lot_name: str, texts: Texts) -> Card:
    """What is written down in June: when it was planted, how many, when and how many came up."""
    sowing = recipe.sowing.date if recipe.sowing is not None else None
    planned = spelled_date(date.fromisoformat(sowing)) if sowing else ""
    seeds = recipe.expectation.seeds if recipe.expectation is not None else int(str(recipe.lot.said["seeds"]))
    blank = texts.say("sheet_card_blank")
    return Card(
        head=texts.say("sheet_card"),
        says=texts.say("sheet_card_says"),
        rows=(
            (texts.say("sheet_lot"), lot_name),
            (texts.say("sheet_card_planted"), texts.say("sheet_card_on", day=planned) if planned else blank),
            (
                texts.say("sheet_card_seeds"),
                texts.say("sheet_card_of", seeds=f"{seeds} {plural(recipe.species.unit, seeds)}"),
            ),
            (texts.say("sheet_card_up"), blank),
            (texts.say("sheet_card_count"), blank),
            (texts.say("sheet_card_note"), blank),
        ),
    )
