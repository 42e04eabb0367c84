"""How common names are put into the plural, by language: rules, so that no record carries a name twice."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

_Endings = tuple[tuple[str, str], ...]
_PLURALS: dict[str, _Endings] = {
    "de": (("nuesse", "nuss"), ("nusse", "nuss"), ("isse", "is"), ("n", ""), ("en", ""), ("e", "")),
    "es": (("ces", "z"), ("es", ""), ("s", "")),
    "fr": (("s", ""), ("x", "")),
    "en": (("oes", "o"),),
}
"""What a folded word ends in, and what stands there in the singular (in English mostly ``fold.singular``)."""
_EVERY_WORD = frozenset({"es", "fr"})
"""Languages in which the words beside a noun have its number: chênes pédonculés, nogales negros."""
_LONGEST = 4
"""Words beyond which no plural is guessed."""


def singulars(folded: str) -> Iterator[tuple[str, str]]:
    """Yield what a folded name may be in the singular, each with the language whose plural that would be.

    >>> ("fr", "chene pedoncule") in singulars("chenes pedoncules"), ("es", "nuez") in singulars("nueces")
    (True, True)
    """
    words = folded.split()
    if not 0 < len(words) <= _LONGEST:
        return
    *head, last = words
    for language, endings in _PLURALS.items():
        before = [_readings(word, endings) if language in _EVERY_WORD else [word] for word in head]
        for reading in product(*before, _readings(last, endings)):
            key = " ".join(reading)
            if key != folded:
                yield language, key


def _readings(word: str, endings: _Endings) -> list[str]:
    """A word as it stands after each ending that it may have lost, and last as it is."""
    lost = [word.removesuffix(end) + one for end, one in endings if word.endswith(end) and word != end]
    return [*lost, word]
