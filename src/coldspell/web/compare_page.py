"""The page on which two dates or two states of one lot stand side by side."""

from __future__ import annotations

from typing import Any

from litestar import Response, get
from msgspec.structs import replace

from coldspell.errors import ColdspellError
from coldspell.web.compare import (
    ASKED,
    SIDES,
    Pairs,
    Side,
    common,
    compared,
    is_said,
    side_fields,
    two,
    wrong_of,
)
from coldspell.web.fields import FIELDS
from coldspell.web.site import Site, Web, pairs_of, site_of
from coldspell.write.recipe import Recipe


@get("/compare", include_in_schema=False)
async def compare_page(request: Web) -> Response[str]:
    """The form with two sides; and below it both answers, once something is said of one side."""
    pairs, site = pairs_of(request), site_of(request)
    sides = two(pairs, site.today())
    if not is_said(pairs):
        return _form(site, sides, pairs)
    if not sides[0].question.name:
        missing = {"name": site.library.texts.say("page_no_name")}
        first = replace(sides[0].question, wrong={**sides[0].question.wrong, **missing})
        return _form(site, (replace(sides[0], question=first), sides[1]), pairs)
    if any(side.question.wrong for side in sides):
        return _form(site, sides, pairs)
    other = site.names(sides[0].question, pairs, "/compare")
    if other is not None:
        return other
    found = tuple(_answered(site, side) for side in sides)
    recipes = [one for one in found if isinstance(one, Recipe)]
    if len(recipes) < 2:
        told = [one if isinstance(one, Side) else side for one, side in zip(found, sides, strict=True)]
        return _form(site, (told[0], told[1]), pairs)
    result = compared(sides, (recipes[0], recipes[1]), site.library.texts)
    species = recipes[0].species
    heading = next(iter(species.common_names), species.name)
    return site.html(
        "compare.html",
        sides=result.sides,
        result=result,
        heading=heading[:1].upper() + heading[1:],
        alerts=None,
        **_of_form(site, sides, pairs),
    )


def _answered(site: Site, side: Side) -> Recipe | Side:
    """What one side needs, or the side with what cannot be."""
    try:
        return site.recipe(side.question)
    except ColdspellError as error:
        if error.exit_code != ColdspellError.exit_code:
            raise
        return wrong_of(side, error)


def _form(site: Site, sides: tuple[Side, Side], pairs: Pairs) -> Response[str]:
    alerts = None
    if any(side.question.wrong for side in sides):
        fields = {"name", "seeds", *ASKED}
        alerts = [
            (key, text)
            for key, side in zip(SIDES, sides, strict=True)
            for name, text in side.question.wrong.items()
            if name not in fields
        ]
    status = 200 if alerts is None else 400
    return site.html(
        "compare.html", status, sides=sides, result=None, alerts=alerts, **_of_form(site, sides, pairs)
    )


def _of_form(site: Site, sides: tuple[Side, Side], pairs: Pairs) -> dict[str, Any]:
    return {
        "keyed": tuple(zip(SIDES, sides, strict=True)),
        "columns": side_fields(site.labels),
        "seeds": FIELDS["seeds"],
        "hidden": common(pairs),
    }
