"""What a shell offers when a name is half typed: the next word of every plant that fits."""

from __future__ import annotations

import os
from collections.abc import Iterable, Sequence

from coldspell.library.fold import fold
from coldspell.library.library import Library

VARIABLE = "_COLDSPELL_COMPLETE"


def words_so_far() -> list[str] | None:
    """The words on the command line while a shell asks for a completion; ``None`` where none does."""
    if VARIABLE not in os.environ:
        return None
    line = os.environ.get("_TYPER_COMPLETE_ARGS") or os.environ.get("COMP_WORDS", "")
    return line.replace('"', " ").replace("'", " ").split()[1:]


def next_words(library: Library, before: Sequence[str], begun: str) -> list[str]:
    """The words that may follow, each once, sorted; nothing before two letters are typed.

    Parameters
    ----------
    library
        Its names are offered, botanical and common ones of all languages.
    before
        The words of the name that are typed already.
    begun
        The word that is being typed.
    """
    typed = fold(" ".join([*before, begun]))
    if len(typed) < 2:
        return []
    place = len(before)
    found = set()
    for printed in _names(library, typed):
        words = printed.split()
        if len(words) > place and fold(" ".join(words[:place])) == fold(" ".join(before)):
            word = words[place]
            if fold(word).startswith(fold(begun)):
                found.add(word if word.startswith(begun) else begun + word[len(begun) :])
    return sorted(found)


def _names(library: Library, typed: str) -> Iterable[str]:
    """Names as printed of which the folded spelling begins so."""
    for key in library.index_beginning(typed[:2]):
        if key.startswith(typed) or typed.startswith(key):
            yield from (entry.printed for entry in library.index[key])
