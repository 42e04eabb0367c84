"""The shipped numbers of practice, for commands that only count."""

from __future__ import annotations

from coldspell.decide.practice import Practice, practice_of
from coldspell.rulebook import load_rulebook


def shipped_practice() -> Practice:
    """The numbers of ``rules/practice.yaml``; raises ColdspellError where a checkout's rules have a fault."""
    return practice_of(load_rulebook().book.practice)
