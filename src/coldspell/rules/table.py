"""A decision as the table it is: a column for each fact, a line for each rule."""

from __future__ import annotations

from msgspec import Struct

from coldspell.rules.model import Decision, Rule

ANY = "–"


class Table(Struct, frozen=True):
    """Headings and lines of text, all lines as long as the headings."""

    head: tuple[str, ...]
    lines: tuple[tuple[str, ...], ...]


def as_table(decision: Decision, *, one_column: bool = False) -> Table:
    """The rules in file order: name, what each fact must be (``–`` where anything will do), answer.

    With `one_column` the conditions of a rule stand together in a column ``when``, for decisions that look at
    many facts and test few in each rule.
    """
    if one_column:
        head: tuple[str, ...] = ("rule", "when", "answer")
        return Table(head, tuple((r.name, when_words(r), r.answer) for r in decision.rules))
    tested = [fact for fact in decision.given if any(c.fact == fact for r in decision.rules for c in r.when)]
    return Table(("rule", *tested, "answer"), tuple(_line(rule, tested) for rule in decision.rules))


def when_words(rule: Rule) -> str:
    """The conditions of a rule in one line."""
    return "; ".join(f"{c.fact}: {c.words}" for c in rule.when) or "everything else"


def _line(rule: Rule, facts: list[str]) -> tuple[str, ...]:
    words = {c.fact: c.words for c in rule.when}
    return (rule.name, *(words.get(fact, ANY) for fact in facts), rule.answer)
