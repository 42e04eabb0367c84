"""What is certain of the facts whenever a decision is asked at all.

`applies` of a decision restricts its facts. Where it names an earlier answer, that decision was asked too, so
its own `applies` holds as well, and so on. A later decision then needs no rows for what cannot occur.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from coldspell.rules.model import NOT_ASKED, Condition, Decision, Fact
from coldspell.rules.wording import range_words

Scope = dict[str, Condition]


def scope_of(decision: Decision, earlier: Mapping[str, Decision], facts: Mapping[str, Fact]) -> Scope | None:
    """The restrictions, one for each fact that has any; None where the decision can never be asked."""
    scope: Scope = {}
    possible = all(_restrict(scope, condition) for condition in decision.applies)
    changed = True
    while changed and possible:
        before = dict(scope)
        for other in earlier.values():
            if other.applies:
                possible = possible and _settle(scope, other, facts[other.name])
            if any(answer.fields for answer in other.answers.values()):
                possible = possible and _link(scope, other, facts[other.name])
        changed = scope != before
    return scope if possible else None


def _settle(scope: Scope, other: Decision, fact: Fact) -> bool:
    """Draw what follows from another decision being asked or not; False on a contradiction."""
    held = scope.get(other.name)
    if held and NOT_ASKED not in held.values and not all(_restrict(scope, c) for c in other.applies):
        return False
    if all(c.fact in scope and _implies(scope[c.fact], c) for c in other.applies):
        values = tuple(v for v in fact.values if v != NOT_ASKED)
    elif any(c.fact in scope and meet(scope[c.fact], c) is None for c in other.applies):
        values = (NOT_ASKED,)
    else:
        return True
    return _restrict(scope, Condition(other.name, " or ".join(values), values=values))


def _link(scope: Scope, other: Decision, fact: Fact) -> bool:
    """Draw what the fields of a decision say of its answer, and its answer of its fields."""
    told = {answer: other.fields_of(answer) for answer in other.answers}
    paths = next(iter(told.values()), {})
    if not any(name in scope for name in (other.name, *paths)):
        return True
    held = scope.get(other.name)
    left = []
    for answer in fact.values if held is None else held.values:
        fields = told.get(answer, dict.fromkeys(paths, NOT_ASKED))
        if all(p not in scope or word in scope[p].values for p, word in fields.items()):
            left.append(answer)
    possible = _restrict(scope, _one_of(other.name, left)) if left else False
    for path in paths:
        words = dict.fromkeys(told[a][path] if a in told else NOT_ASKED for a in left)
        possible = possible and _restrict(scope, _one_of(path, list(words)))
    return possible


def _one_of(name: str, values: list[str]) -> Condition:
    return Condition(name, " or ".join(values), values=tuple(values))


def _restrict(scope: Scope, condition: Condition) -> bool:
    old = scope.get(condition.fact)
    both = meet(old, condition) if old else condition
    if both is not None:
        scope[condition.fact] = both
    return both is not None


def meet(one: Condition, two: Condition) -> Condition | None:
    """Both conditions of one fact at once; None where nothing satisfies both."""
    if one.values or two.values:
        values = tuple(v for v in one.values if v in two.values)
        return Condition(one.fact, " or ".join(values), values=values) if values else None
    over = _tighter(one.over, two.over, max)
    up_to = _tighter(one.up_to, two.up_to, min)
    known = one.known and two.known and (over is None or up_to is None or over < up_to)
    unknown = one.unknown and two.unknown
    if not known and not unknown:
        return None
    words = range_words(over, up_to, known, unknown) if known else "unknown"
    return Condition(one.fact, words, known=known, unknown=unknown, over=over, up_to=up_to)


def _tighter(one: float | None, two: float | None, pick: Callable[[float, float], float]) -> float | None:
    if one is None or two is None:
        return two if one is None else one
    return pick(one, two)


def _implies(narrow: Condition, wide: Condition) -> bool:
    both = meet(narrow, wide)
    return both is not None and (both.values, both.known, both.unknown, both.over, both.up_to) == (
        narrow.values,
        narrow.known,
        narrow.unknown,
        narrow.over,
        narrow.up_to,
    )
