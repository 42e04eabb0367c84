"""The tables that decide, ready to be asked: the rule book with an engine, its numbers and its sentences."""

from __future__ import annotations

from collections.abc import Collection

from msgspec import Struct

from coldspell.decide.practice import Practice, practice_of
from coldspell.rules import Engine, RuleBook, Session


class Tables(Struct, frozen=True):
    """Rules, numbers of practice and texts; kept for many lots."""

    session: Session
    practice: Practice
    asked: frozenset[str] | None = None
    """Decisions that are asked of a lot with its treatment chosen; ``None``: all."""

    @property
    def book(self) -> RuleBook:
        """The rules."""
        return self.session.book

    @property
    def texts(self) -> dict[str, str]:
        """Sentences and labels that belong to no rule or record."""
        return self.session.book.texts


def tables_of(book: RuleBook, engine: Engine, *, memo: bool = True) -> Tables:
    """Tables from a rule book that was held against the contract of the program."""
    return Tables(Session(book, engine, memo=memo), practice_of(book.practice))


def tables_for(decisions: Collection[str], book: RuleBook, engine: Engine) -> Tables:
    """Tables that ask only for some decisions and what these rest on, and keep no reasons."""
    asked = frozenset().union(*map(book.needed_for, decisions))
    return Tables(Session(book, engine, traced=False), practice_of(book.practice), asked)
