"""Ask for one recipe in this process: both pages as printed at 80 columns, and the JSON."""

from __future__ import annotations

import json
from datetime import date
from functools import cache
from typing import Any

from coldspell.ask import Question, answer
from coldspell.decide.tables import Tables
from coldspell.errors import ColdspellError
from coldspell.library.load import Library, load_library, shipped_dirs
from coldspell.lot.read import make_lot
from coldspell.rulebook import load_tables
from coldspell.rules.plain import PlainEngine
from coldspell.texts import Texts
from coldspell.views import full, one_page
from coldspell.views.json_view import render


@cache
def _library() -> Library:
    return load_library(shipped_dirs())


@cache
def _tables() -> Tables:
    return load_tables(PlainEngine())


def names() -> list[str]:
    """All records."""
    return list(_library().names)


def ask(
    name: str,
    said: dict[str, Any],
    today: date,
    tables: Tables | None = None,
    library: Library | None = None,
) -> tuple[str, dict[str, Any] | None]:
    """Both pages and the recipe as plain values; a refusal is a page without a recipe."""
    tables = tables or _tables()
    try:
        recipe = answer(Question(name, make_lot(said), today), library or _library(), tables, "")
    except ColdspellError as error:
        return str(error), None
    texts = Texts(tables.texts)
    pages = [view.render(recipe, texts, 80) for view in (one_page, full)]
    return "\n".join(pages), json.loads(render(recipe))
