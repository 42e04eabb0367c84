"""The page of a recipe, with the sentences of the program."""

from __future__ import annotations

from functools import cache

from coldspell.rulebook import load_rulebook
from coldspell.texts import Texts
from coldspell.views import full, one_page
from coldspell.views.short import short_page
from coldspell.write.recipe import Recipe


@cache
def texts() -> Texts:
    """The sentences that belong to no rule or record."""
    return Texts(load_rulebook().book.texts)


def render(recipe: Recipe, width: int = 80, *, ascii_only: bool = False) -> str:
    """The page with everything, as ``--full`` prints it."""
    return full.render(recipe, texts(), width, ascii_only=ascii_only)


def short(recipe: Recipe, width: int = 80, *, ascii_only: bool = False) -> str:
    """The one page, as the command prints it."""
    return one_page.render(recipe, texts(), width, ascii_only=ascii_only)


def on_one_line(recipe: Recipe) -> str:
    """All words of the one page, for reading by programs: wrapping takes half of the time of a page."""
    unwrapped = one_page._Page(short_page(recipe, texts()), texts(), 100_000, ascii_only=False)
    return " ".join(unwrapped.text().split())
