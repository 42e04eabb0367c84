"""Check that what rules go by stands in a field, not only in the words of a line beside it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from coldspell.check.base import Fault, RecordFile, Surroundings
from coldspell.check.limits import limits

_GLOVES = re.compile(r"\bgloves\b", re.IGNORECASE)
_MALES = re.compile(r"\bmales?\b", re.IGNORECASE)


@cache
def _trained() -> re.Pattern[str]:
    return re.compile(rf"\b(?:{'|'.join(limits().trained_words)})\b", re.IGNORECASE)


def told_in_words(record: RecordFile, around: Surroundings) -> Iterator[Fault]:
    """Gloves, male and female plants, methods for trained people, in words where no field tells of them."""
    for index, hazard in enumerate(record.values.get("hazards", ())):
        if "gloves" not in hazard and _GLOVES.search(hazard.get("says", "")):
            mend = "Write 'gloves: true' beside it, or 'gloves: false' where none are wanted."
            yield Fault(("hazards", index, "says"), f"gloves in words: '{hazard['says']}'", mend)
    offspring = record.values.get("offspring", {})
    if "says_sexes" not in offspring and _MALES.search(offspring.get("says", "")):
        mend = "Write 'says_sexes: true' beside it, or false where it does not say what becomes of them."
        yield Fault(("offspring", "says"), f"male and female plants in words: '{offspring['says']}'", mend)
    for index, other in enumerate(record.values.get("not_used", ())):
        if "trained" not in other and (word := _trained().search(f"{other['says']} {other['because']}")):
            mend = "Write 'trained: true' where it is a method for trained people, else 'trained: false'."
            yield Fault(("not_used", index, "says"), f"'{word[0]}' in words: who is it for?", mend)
