"""Everything that the parts of one recipe are written from."""

from __future__ import annotations

from datetime import date

from msgspec import Struct

from coldspell.recipe.decide import Decisions
from coldspell.recipe.footnotes import Footnotes
from coldspell.recipe.lot import Lot
from coldspell.recipe.topics import Knowledge
from coldspell.recipe.wording import Units
from coldspell.recipe.words import Words, fill
from coldspell.rules import RuleBook


class Case(Struct, frozen=True):
    """One lot with what is known and decided of it; footnotes are numbered in the order of use."""

    knowledge: Knowledge
    lot: Lot
    today: date
    decisions: Decisions
    book: RuleBook
    footnotes: Footnotes
    words: Words
    units: Units

    def text(self, decision: str, answer: str) -> str:
        """The text of an answer, filled in."""
        return fill(self.book.decisions[decision].answers[answer], self.words)

    def said(self, decision: str) -> str:
        """The text of the answer that was given; empty where the decision was not asked."""
        answer = self.decisions.answer(decision)
        return self.text(decision, answer) if answer else ""
