"""The names of the program as the contract that rules are held against."""

from __future__ import annotations

from functools import cache
from typing import Any, Literal, get_args, get_origin, get_type_hints

from coldspell.decide.names.asks import VERDICTS, Ask
from coldspell.decide.names.facts import FACTS as PROGRAM_FACTS
from coldspell.decide.names.fields import FIELDS
from coldspell.decide.names.words import WORDS
from coldspell.decide.practice import LENGTHS, Practice
from coldspell.errors import Place
from coldspell.lot.lot import Lot
from coldspell.lot.table import FACTS as LOT_FACTS
from coldspell.lot.table import LotFact
from coldspell.rules.contract import Contract
from coldspell.rules.model import Fact

_TABLE = Place("docs/lots.md")


@cache
def contract() -> Contract:
    """What the program asks of the rules; made only where rules are compiled or checked."""
    decisions = {v for k, v in vars(Ask).items() if k.isupper()}
    facts = {k: _words(hint) for kind in PROGRAM_FACTS for k, hint in get_type_hints(kind).items()}
    fields = {
        f"{decision}.{k}": _words(hint)
        for decision, kind in FIELDS.items()
        for k, hint in get_type_hints(kind).items()
    }
    placeholders = {k for kind in WORDS for k in kind.__annotations__}
    practice = {name: LENGTHS[kind] for name, kind in Practice.__annotations__.items()}
    declares = tuple(_declared(fact) for fact in LOT_FACTS.values() if fact.about.ruled)
    return Contract(
        declares, facts, frozenset(decisions), fields, frozenset(placeholders), practice, (VERDICTS,)
    )


def _words(hint: Any) -> tuple[str, ...]:
    return get_args(hint) if get_origin(hint) is Literal else ()


def _declared(fact: LotFact) -> Fact:
    """A fact of the lot table as rules may ask for it."""
    about, place = fact.about, _TABLE
    if fact.number:
        bounds = (about.low, about.high)
        unsaid = getattr(Lot(), fact.field) is None
        return Fact(
            fact.field, "lot", about.means, place, unit=about.unit, bounds=bounds, may_be_unknown=unsaid
        )
    words = ("yes", "no") if fact.kind is bool else fact.words
    return Fact(fact.field, "lot", about.means, place, values=words)
