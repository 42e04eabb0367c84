"""The square code on a sheet: the days of the lot as plain text, for whoever points a telephone at it."""

from __future__ import annotations

import io

from msgspec import Struct

from coldspell.extras import extra
from coldspell.texts import Texts
from coldspell.views.days import day_of
from coldspell.write.recipe import Recipe

_MOST = 280
"""Letters in a code that a telephone still reads off a worn print (our choice)."""


class Code(Struct, frozen=True):
    """The code as SVG, and what it says."""

    svg: str
    says: str


def code(recipe: Recipe, lot_name: str, office: str, texts: Texts) -> Code:
    """The code of a lot: its name, what to do on which day, the next looks, where questions go.

    Raises
    ------
    ColdspellError
        The library for it is not installed.
    """
    segno = extra("segno", "sheet", "a sheet")
    says = _says(recipe, lot_name, office, texts)
    out = io.BytesIO()
    segno.make(says, error="m", micro=False).save(
        out, kind="svg", xmldecl=False, svgclass=None, lineclass=None, border=2, omitsize=True
    )
    return Code(out.getvalue().decode("utf-8"), says)


def _says(recipe: Recipe, lot_name: str, office: str, texts: Texts) -> str:
    lines = [lot_name]
    for step in recipe.steps:
        if step.start is not None:
            lines.append(f"{day_of(step.start, recipe.asked_on)}: {texts.say(f'draw_do_{step.do}')}")
    if recipe.hold is not None and recipe.hold.until is not None:
        lines.append(texts.say("draw_window", day=day_of(recipe.hold.until, recipe.asked_on)))
    if office:
        lines.append(office)
    return "\n".join(lines)[:_MOST]
