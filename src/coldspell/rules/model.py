"""What a rule book is made of, and what it answers: plain frozen values.

A *fact* is a choice between words or a number. A decision cuts each of its facts into *labels*: classes of
values that none of its rules tells apart. Rules, engines, memo and audit see labels only.
"""

# Without postponed annotations: msgspec evaluates those of each class anew at every start.

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from msgspec import Struct, msgpack

from coldspell.errors import Place

FactValue = str | float | bool | None

NOT_ASKED = "not_asked"  # the answer fact of a decision whose `applies` does not hold
IMPOSSIBLE = "impossible"  # the answer of a row that some check or decision rules out
UNKNOWN = "unknown"
POLICIES = ("unique", "first", "collect")
ORIGINS = ("record", "lot", "measured")


class Finding(Struct, frozen=True):
    """One mistake in rules or facts, as the checker reports it."""

    where: Place
    check: str
    message: str
    mend: str = ""
    severity: str = "error"

    def __str__(self) -> str:
        mend = f"\n  {self.mend}" if self.mend else ""
        return f"{self.where}: {self.severity}: {self.message} [{self.check}]{mend}"


class Fact(Struct, frozen=True, array_like=True, omit_defaults=True):
    """A declared fact: a choice (`values`), a number (`bounds` and `unit`) or words for texts (`text`)."""

    name: str
    origin: str
    means: str
    place: Place
    values: tuple[str, ...] = ()
    unit: str | None = None
    bounds: tuple[float, float] | None = None
    may_be_unknown: bool = False
    text: bool = False


class Cite(Struct, frozen=True, array_like=True, omit_defaults=True):
    """Who says so: ``practice`` has no source; a bare bibliography id counts as ``recalled``."""

    basis: str
    source: str | None = None
    at: str | None = None


class Condition(Struct, frozen=True, array_like=True, omit_defaults=True):
    """What a rule asks of one fact.

    A choice: one of `values`. A number: over `over` and up to `up_to` when `known`; unknown when `unknown`.
    `labels` are the labels of this decision's axis that satisfy it, `words` is how it reads.
    """

    fact: str
    words: str
    values: tuple[str, ...] = ()
    known: bool = False
    unknown: bool = False
    over: float | None = None
    up_to: float | None = None
    labels: tuple[str, ...] = ()


class Axis(Struct, frozen=True, array_like=True, omit_defaults=True):
    """How one decision cuts one fact.

    `atoms` are the finest pieces (values, or cells between cuts, then ``unknown``); `classes` gives the label
    of each atom. `within` are the labels that can occur when the decision is asked at all. `holds` says for
    each label which rules hold with it: a bit for each, as far as this fact goes.
    """

    fact: str
    atoms: tuple[str, ...]
    classes: tuple[str, ...]
    labels: tuple[str, ...]
    within: tuple[str, ...]
    cuts: tuple[float, ...] = ()
    bounds: tuple[float, float] | None = None
    may_be_unknown: bool = False
    holds: tuple[bytes, ...] = ()


class Rule(Struct, frozen=True, array_like=True, omit_defaults=True):
    """A row: where every condition of `when` holds, `answer` is chosen (or added)."""

    name: str
    answer: str
    because: str
    cites: tuple[Cite, ...]
    when: tuple[Condition, ...]
    place: Place
    text: str | None = None
    guaranteed_by: tuple[str, ...] = ()


class Rules:
    """The rules of a table in file order; compiled ones are decoded when they are looked at, as few are."""

    __slots__ = ("_rules",)

    def __init__(self, rules: Iterable[Rule | bytes] = ()) -> None:
        self._rules = list(rules)

    def __len__(self) -> int:
        return len(self._rules)

    def __getitem__(self, index: int) -> Rule:
        rule = self._rules[index]
        if isinstance(rule, bytes):
            rule = self._rules[index] = msgpack.decode(rule, type=Rule)
        return rule

    def __iter__(self) -> Iterator[Rule]:
        return (self[index] for index in range(len(self._rules)))

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Rules) and [*self] == [*other]

    def __hash__(self) -> int:
        return hash(tuple(self))

    def packed(self) -> list[bytes]:
        """What is kept of them."""
        return [msgpack.encode(rule) for rule in self]


class Answer(Struct, frozen=True, array_like=True, omit_defaults=True):
    """What an answer says, and its fields: what the program does with it, in closed words."""

    says: str
    fields: dict[str, str] = {}


class Field(Struct, frozen=True, array_like=True, omit_defaults=True):
    """A declared field of the answers of one decision: one of `words`, or a number within `bounds`."""

    decision: str
    name: str
    means: str
    place: Place
    words: tuple[str, ...] = ()
    bounds: tuple[float, float] | None = None

    @property
    def path(self) -> str:
        """The name by which rules ask for it: ``route.lies``."""
        return f"{self.decision}.{self.name}"


class Number(Struct, frozen=True, array_like=True, omit_defaults=True):
    """A number of common practice, or a pair or three of them, with its unit and reason."""

    name: str
    value: tuple[int | float, ...]
    unit: str
    because: str
    cites: tuple[Cite, ...]
    place: Place


class Decision(Struct, frozen=True, array_like=True, omit_defaults=True):
    """A table of rules that answers one question."""

    name: str
    asks: str
    policy: str
    given: tuple[str, ...]
    answers: dict[str, Answer]
    rules: Rules
    place: Place
    applies: tuple[Condition, ...] = ()
    per: str | None = None
    axes: tuple[Axis, ...] = ()  # of `given`, in that order
    gates: tuple[Axis, ...] = ()  # of `applies`, in that order

    def fields_of(self, answer: str) -> dict[str, str]:
        """The fields of an answer under the names by which rules ask for them."""
        return {f"{self.name}.{field}": word for field, word in self.answers[answer].fields.items()}

    @property
    def facts(self) -> tuple[str, ...]:
        """Every fact and earlier answer that the decision looks at."""
        return tuple(dict.fromkeys((*(c.fact for c in self.applies), *self.given)))


class DecisionsByName(Mapping[str, Decision]):
    """Decisions in computed order; compiled ones are decoded when a lot asks for them."""

    __slots__ = ("_decisions",)

    def __init__(self, decisions: Mapping[str, Decision | bytes]) -> None:
        self._decisions = dict(decisions)

    def add(self, decision: Decision) -> None:
        """Put one behind those that are there."""
        self._decisions[decision.name] = decision

    def __getitem__(self, name: str) -> Decision:
        decision = self._decisions[name]
        if isinstance(decision, bytes):
            decision = msgpack.decode(decision, type=Decision, dec_hook=_rules)
            self._decisions[name] = decision
        return decision

    def __contains__(self, name: object) -> bool:
        return name in self._decisions

    def __iter__(self) -> Iterator[str]:
        return iter(self._decisions)

    def __reversed__(self) -> Iterator[str]:
        return reversed(self._decisions)

    def __len__(self) -> int:
        return len(self._decisions)

    def packed(self) -> dict[str, bytes]:
        """What is kept of them."""
        return {name: msgpack.encode(one, enc_hook=Rules.packed) for name, one in self.items()}


def _rules(kind: Any, packed: Any) -> Any:
    return kind(packed)


class Firing(Struct, frozen=True):
    """A rule that held for a lot, with the values of the facts it tested."""

    decision: str
    rule: str
    answer: str
    facts: dict[str, FactValue]
    because: str
    says: str
    """The text of the rule, else that of the answer."""
    fields: dict[str, str]
    cites: tuple[Cite, ...]


class Decided(Struct, frozen=True):
    """What a decision answers for a lot; `answer` is the only or first of `answers`."""

    decision: str
    applies: bool
    answers: tuple[str, ...]
    firings: tuple[Firing, ...]

    @property
    def answer(self) -> str | None:
        """The answer; ``None`` where the decision was not asked or nothing was collected."""
        return self.answers[0] if self.answers else None

    @property
    def fields(self) -> dict[str, str] | None:
        """The fields of the answer; ``None`` where there is none."""
        return self.firings[0].fields if self.firings else None


class Failed(Struct, frozen=True):
    """A condition that did not hold: the fact, its value, and what it would have to be."""

    fact: str
    value: FactValue
    needs: str


class Near(Struct, frozen=True):
    """Why a rule did not give its answer: conditions that failed, or an earlier rule that came first."""

    decision: str
    rule: str
    answer: str
    failed: tuple[Failed, ...]
    behind: str | None = None  # in a `first` decision: the earlier rule that held

    @property
    def held(self) -> bool:
        """True where the rule did give its answer."""
        return not self.failed and self.behind is None
