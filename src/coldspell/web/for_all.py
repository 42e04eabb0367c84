"""What a public page says of a recipe: nothing of methods that are only for trained people."""

from __future__ import annotations

import re

from msgspec.structs import replace

from coldspell.records.do import PROFESSIONAL
from coldspell.write.recipe import Recipe

_SUCH = re.compile(
    r"\b(acid|sulph?uric|gibberell\w*|GA\s?[0-9+]+|hormone\w*|regulators?|growth chemicals?|cytokinin\w*"
    r"|kinetin|benzyladenine|ethephon|ethrel|ethylene|bleach|peroxide|nitrate|quicklime|lye)\b",
    re.IGNORECASE,
)
"""Words of the methods; what other sources say is prose, of which nothing else tells what it is about."""


def for_all(recipe: Recipe) -> Recipe:
    """The recipe without the treatments, and the words of other sources, that are for trained people.

    A source that only mentions such a method (acid peat) is left out with the others: it costs a reason, not
    advice. What the recipe warns of stays.
    """
    trained = {one.name for one in recipe.treatments if not PROFESSIONAL.isdisjoint(one.steps)}
    return replace(
        recipe,
        treatments=tuple(one for one in recipe.treatments if one.name not in trained),
        not_used=tuple(one for one in recipe.not_used if not _SUCH.search(f"{one.says} {one.because}")),
        trace=tuple(row for row in recipe.trace if row.candidate not in trained),
    )
