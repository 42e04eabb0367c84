"""What the program asks of the rules, held against the files: no name is used that the other side has not."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence

from msgspec import Struct

from coldspell.errors import Place
from coldspell.rules.book import RuleBook
from coldspell.rules.findings import Findings, nearest
from coldspell.rules.model import Decision, Fact, Field
from coldspell.rules.numbers import hold_numbers

_RULES = Place("rules")


class Contract(Struct, frozen=True):
    """Names that the program uses.

    ``declares`` are facts with their words that come with the program (what a grower may say of a lot);
    ``facts`` are all that it sets, with their words, or with none where any word or number will do;
    ``decisions`` those it asks for; ``fields`` the words it understands, by path; ``placeholders`` what it
    fills in; ``practice`` the numbers it uses.
    """

    declares: tuple[Fact, ...]
    facts: dict[str, tuple[str, ...]]
    decisions: frozenset[str]
    fields: dict[str, tuple[str, ...]]
    placeholders: frozenset[str]
    practice: dict[str, int]
    """Numbers of practice, and how many each of them is."""
    one_of: tuple[tuple[str, ...], ...] = ()
    """Decisions of which exactly one is asked, for every answer of the one on which their `applies` hang."""

    def hold(self, book: RuleBook, decisions: Mapping[str, Decision], out: Findings) -> None:
        """Note every name that one side has and the other has not."""
        _decisions(self.decisions, decisions, out)
        for group in self.one_of:
            _one_of([decisions[name] for name in group if name in decisions], decisions, out)
        _facts(self, book.facts.values(), out)
        _fields(self.fields, book.fields, out)
        placeholders = {f.name: f.place for f in book.facts.values() if f.text}
        _set_and_declared(self.placeholders, placeholders, "placeholder", "placeholders.yaml", out)
        numbers = {name: number.place for name, number in book.practice.items()}
        _set_and_declared(self.practice, numbers, "number", "practice.yaml", out)
        for name, number in book.practice.items():
            if len(number.value) != self.practice.get(name, len(number.value)):
                what = f"the number {name!r} must be {self.practice[name]}, not {len(number.value)}"
                out.error(number.place, "contract", what, "Write one number, or a list of so many.")
        hold_numbers(book.practice.values(), out)


def _decisions(asked: Collection[str], decisions: Mapping[str, Decision], out: Findings) -> None:
    for name in sorted(set(asked) - set(decisions)):
        what = f"no decision is named {name!r}, for which the program asks"
        out.error(_RULES, "contract", what, nearest(name, decisions))
    used = {fact.partition(".")[0] for decision in decisions.values() for fact in decision.facts}
    for name, decision in decisions.items():
        if name not in asked and name not in used:
            what = f"{name}: neither the program nor another decision asks for it"
            out.error(decision.place, "contract", what, nearest(name, sorted(set(asked) - set(decisions))))


def _one_of(group: Sequence[Decision], decisions: Mapping[str, Decision], out: Findings) -> None:
    names = ", ".join(table.name for table in group)
    heads = {c.fact.partition(".")[0] for table in group for c in table.applies} & decisions.keys()
    if len(heads) != 1 or not all(table.applies for table in group):
        out.error(
            _RULES, "contract", f"which of {names} is asked must hang on one decision", "See 'applies'."
        )
        return
    by = decisions[heads.pop()]
    for answer in by.answers:
        told = {by.name: answer, **by.fields_of(answer)}
        asked = [t.name for t in group if all(told.get(c.fact) in c.values for c in t.applies)]
        if len(asked) != 1:
            what = f"{by.name}: for the answer {answer!r} {' and '.join(asked) or 'none'} of {names} is asked"
            out.error(by.place, "contract", what, "Name it in 'applies' of exactly one of them.")


def _facts(contract: Contract, facts: Iterable[Fact], out: Findings) -> None:
    declared = {fact.name: fact for fact in facts if not fact.text}
    own = {fact.name for fact in contract.declares}
    places = {name: fact.place for name, fact in declared.items() if name not in own}
    _set_and_declared(set(contract.facts) - own, places, "fact", "facts.yaml", out)
    for name in sorted(own - set(contract.facts)):
        out.error(declared[name].place, "contract", f"nothing sets the fact {name!r}", "Set it.")
    for name, words in contract.facts.items():
        fact = declared.get(name)
        missing = [w for w in words if fact is not None and fact.values and w not in fact.values]
        for word in missing:
            what = f"the fact {name!r} can be {word!r}, which is not among its values"
            out.error(fact.place if fact else _RULES, "contract", what, f"Add {word} to its values.")


def _fields(understood: Mapping[str, tuple[str, ...]], fields: Mapping[str, Field], out: Findings) -> None:
    _set_and_declared(understood, {p: f.place for p, f in fields.items()}, "field", "fields.yaml", out)
    for path, words in understood.items():
        for word in sorted(set(fields[path].words) ^ set(words)) if path in fields else ():
            what = f"{path}: the program does not know the word {word!r}"
            if word in words:
                what = f"{path}: the word {word!r}, which the program knows, is not declared"
            out.error(fields[path].place, "contract", what, nearest(word, words))


def _set_and_declared(
    known: Collection[str], declared: Mapping[str, Place], kind: str, file: str, out: Findings
) -> None:
    """Names that the program sets must be declared, and declared ones must be set."""
    for name in sorted(set(known) - set(declared)):
        mend = f"Declare it in {file}. {nearest(name, declared)}".strip()
        out.error(_RULES, "contract", f"the {kind} {name!r}, which the program sets, is not declared", mend)
    for name in sorted(set(declared) - set(known)):
        mend = nearest(name, sorted(set(known) - set(declared)) or sorted(known))
        out.error(declared[name], "contract", f"nothing sets the {kind} {name!r}", mend or "Take it out.")
