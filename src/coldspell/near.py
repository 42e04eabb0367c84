"""The known word that a misspelt one was probably meant to be, for the mend of a message."""

from __future__ import annotations

from collections.abc import Iterable, Sequence


def nearest_few(word: str, known: Iterable[str], count: int, cutoff: float = 70) -> tuple[str, ...]:
    """Up to ``count`` known words similar to a misspelt one, best first; likeness from 0 to 100."""
    from rapidfuzz import fuzz, process  # only wanted when something is wrong

    found = process.extract(word[:90], list(known), scorer=fuzz.ratio, limit=count, score_cutoff=cutoff)
    return tuple(str(match[0]) for match in found)


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word nearest to a misspelt one; ``None`` if none is near.

    >>> nearest("dreid", ["fresh", "dried"]), nearest("wet", ["fresh", "dried"])
    ('dried', None)
    """
    short = len(word) < 5  # one wrong letter is a third of a short word
    found = nearest_few(word, sorted(known), 1, 60 if short else 70)
    return found[0] if found else None


def did_you_mean(word: str, known: Iterable[str], otherwise: str | None = None) -> str:
    """The mend for a misspelt word: the one that was probably meant; else ``otherwise``, or what there is.

    >>> did_you_mean("towl", ["towel", "medium"]), did_you_mean("x", ["towel", "medium"])
    ("Did you mean 'towel'?", 'Known here: towel, medium.')
    """
    names: Sequence[str] = list(dict.fromkeys(known))
    near = nearest(word, names)
    if near is not None:
        return f"Did you mean '{near}'?"
    if otherwise is not None or not names:
        return otherwise or ""
    return f"Known here: {', '.join(names[:12])}{', …' if len(names) > 12 else ''}."
