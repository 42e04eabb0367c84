"""Ask for one recipe in this process: the page as printed at 80 columns, and the JSON."""

from __future__ import annotations

import json
from datetime import date
from functools import cache
from typing import Any

from coldspell import shipped
from coldspell.errors import ColdspellError
from coldspell.library.load import Library, load_library, shipped_dirs
from coldspell.recipe.build import Question, answer
from coldspell.recipe.lot import make_lot
from coldspell.rules import PlainEngine, Session, load_rules
from coldspell.views import reasons, text
from coldspell.views.json_view import render


@cache
def _library() -> Library:
    return load_library(shipped_dirs())


@cache
def _session() -> Session:
    return Session(load_rules([shipped.find("rules")]), PlainEngine())


def names() -> list[str]:
    """All records."""
    return list(_library().names)


def ask(name: str, said: dict[str, Any], today: date) -> tuple[str, dict[str, Any] | None]:
    """The page and the recipe as plain values; a refusal is a page without a recipe."""
    try:
        recipe = answer(Question(name, make_lot(said), today), _library(), _session(), "")
    except ColdspellError as error:
        return str(error), None
    return text.render(recipe, 80), json.loads(render(recipe))


def reasons_of(name: str, said: dict[str, Any], today: date) -> str:
    """What ``--why`` adds."""
    return reasons.tree(answer(Question(name, make_lot(said), today), _library(), _session(), ""), 80)
