"""Every picture of one lot."""

from __future__ import annotations

from coldspell.draw.into import into
from coldspell.draw.lies import Lies, lies_of
from coldspell.draw.packed import layered, mixed
from coldspell.draw.picture import WIDTH, Picture
from coldspell.draw.pit import pit
from coldspell.draw.signs import signs
from coldspell.draw.timeline import timeline
from coldspell.draw.towel import towel
from coldspell.draw.tray import tray
from coldspell.texts import Texts
from coldspell.write.recipe import Recipe


def pictures(recipe: Recipe, texts: Texts, *, days_wide: float = WIDTH) -> tuple[Picture, ...]:
    """The pictures of a recipe, in the order in which they are wanted: packed, sown, when, what is seen.

    Parameters
    ----------
    recipe
        What one lot needs; nothing else is drawn than what stands in it.
    texts
        Sentences of the program.
    days_wide
        Width of the line of days [units; a picture is 340 wide].
    """
    if recipe.does.page == "question":
        return ()
    lies = lies_of(recipe, texts)
    found = (
        _packed(lies) if lies is not None else None,
        into(recipe, texts),
        timeline(recipe, texts, days_wide),
        signs(recipe, texts),
    )
    return tuple(one for one in found if one is not None)


def _packed(lies: Lies) -> Picture | None:
    """The seed in its medium; ``None`` where there is nothing to measure."""
    layout = lies.layout
    if layout.shape == "roll":
        return towel(lies)
    if layout.shape == "tray":
        return tray(lies)
    if layout.shape == "pit":
        return pit(lies)
    if not layout.footprint_mm:
        return None
    return layered(lies) if layout.levels_mm else mixed(lies)
