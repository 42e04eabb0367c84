"""Everything that the parts of one recipe are written from."""

from __future__ import annotations

from msgspec import Struct

from coldspell.decide.decide import Decisions
from coldspell.decide.knowledge import Knowledge
from coldspell.decide.practice import Practice
from coldspell.plan.plan import Plan
from coldspell.rules import Decided, Firing, RuleBook
from coldspell.texts import Texts
from coldspell.write.footnotes import Footnotes
from coldspell.write.placeholders import Words, fill_in
from coldspell.write.units import Units


class Case(Struct, frozen=True):
    """One plan, with the words and footnotes of its recipe; footnotes are numbered in the order of use."""

    plan: Plan
    practice: Practice
    book: RuleBook
    texts: Texts
    footnotes: Footnotes
    words: Words
    units: Units

    @property
    def decisions(self) -> Decisions:
        """What was decided."""
        return self.plan.decisions

    @property
    def knowledge(self) -> Knowledge:
        """What is known of the kind."""
        return self.plan.decisions.knowledge

    def fill(self, text: str) -> str:
        """A text with the words of this lot."""
        return fill_in(text, self.words)

    def says(self, firing: Firing) -> str:
        """What a rule says, filled in."""
        return fill_in(firing.says, self.words)

    def said(self, decision: str) -> str:
        """What the answer says that was given; empty where the decision was not asked."""
        rules = self.decisions.rules(decision)
        return self.answer(decision, rules[0].answer) if rules else ""

    def said_of(self, decided: Decided) -> str:
        """What the answer of a decision says that is asked for each treatment."""
        return self.answer(decided.decision, decided.answer) if decided.answer else ""

    def answer(self, decision: str, answer: str) -> str:
        """What an answer says by itself, filled in."""
        return fill_in(self.book.decisions[decision].answers[answer].says, self.words)
