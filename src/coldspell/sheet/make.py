"""One sheet after another in one form."""

from __future__ import annotations

from coldspell.sheet.content import Wanted, sheet
from coldspell.sheet.page import page
from coldspell.sheet.typeset import Typesetter
from coldspell.texts import Texts
from coldspell.write.recipe import Recipe


class Maker:
    """Makes sheets of one kind: ``pdf``, ``png`` or ``html``.

    Raises
    ------
    ColdspellError
        The library for that kind is not installed.
    """

    def __init__(self, kind: str) -> None:
        self._kind = kind
        self._typesetter = None if kind == "html" else Typesetter()

    def made(self, recipe: Recipe, texts: Texts, wanted: Wanted) -> bytes:
        """The sheet of a recipe, whole."""
        content = sheet(recipe, texts, wanted)
        if self._typesetter is None:
            return page(content).encode("utf-8")
        return self._typesetter.pdf(content) if self._kind == "pdf" else self._typesetter.png(content)
