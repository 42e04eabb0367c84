"""Why a lot is treated this way, and which other ways there are."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from coldspell.texts import Texts
from coldspell.views.short import Row
from coldspell.write.recipe import Recipe


def ways(recipe: Recipe, texts: Texts, marked: Callable[[str, Iterable[int]], str]) -> list[Row]:
    """Every treatment of the record: the one used with its reason, those that may be, those refused.

    Parameters
    ----------
    recipe, texts
        What a lot needs, and the sentences of the program.
    marked
        Puts the marks of its sources behind a text.
    """
    if recipe.does.page == "refusal":
        return []
    rows: list[Row] = []
    for treatment in recipe.treatments:
        name = treatment.name.replace("-", " ")
        name = name[:1].upper() + name[1:]
        text = f"{name}. {' '.join(treatment.says)} {treatment.because or ''}"
        if treatment.status == "possible" and not treatment.suits:
            text += f" {treatment.why}"
        if treatment.status == "used":
            text = treatment.because or treatment.why
        elif treatment.status == "refused":
            text = f"{name}. {treatment.why}"
        rows.append((texts.say(f"why_{treatment.status}"), marked(text.strip(), treatment.cites)))
    return rows
