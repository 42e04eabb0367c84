"""Read one condition of `when` or `applies` against the fact it tests."""

from __future__ import annotations

from coldspell.errors import Place
from coldspell.rules.findings import Findings, nearest
from coldspell.rules.model import UNKNOWN, Condition, Fact
from coldspell.rules.reader import Node
from coldspell.rules.shape import to_number
from coldspell.rules.wording import number_words, range_words

_NUMBER_FORMS = "Write 'up to n', 'over n', [over a, up to b], 'known' or 'unknown'."


def read_condition(fact: Fact, node: Node, out: Findings) -> Condition | None:
    """The condition a node states, or None where it is mistaken (then a finding says why)."""
    if node.entries is not None or (node.items is None and not node.text) or node.items == ():
        what = "an empty condition" if node.entries is None else "a condition cannot be a map"
        out.error(node.place, "condition", f"{fact.name}: {what}", "Write a value, a list, or 'not value'.")
        return None
    nodes = (node,) if node.items is None else node.items
    for item in nodes:
        if not item.text:
            out.error(item.place, "condition", f"{fact.name}: a list in a condition holds values only")
            return None
    made = _number(fact, nodes, out) if fact.bounds else _choice(fact, nodes, node.items is not None, out)
    if made and holds_always(fact, made):
        out.error(
            node.place,
            "always",
            f"{fact.name}: {made.words!r} holds for every value",
            "Leave the fact out of this rule.",
        )
        return None
    return made


def holds_always(fact: Fact, made: Condition) -> bool:
    """True where no value of the fact fails the condition."""
    if fact.bounds is None:
        return len(made.values) == len(fact.values)
    open_ended = made.known and made.over is None and made.up_to is None
    return open_ended and (made.unknown or not fact.may_be_unknown)


def _choice(fact: Fact, nodes: tuple[Node, ...], listed: bool, out: Findings) -> Condition | None:
    words = [node.text or "" for node in nodes]
    if listed and any(word.startswith("not ") for word in words):
        out.error(
            nodes[0].place,
            "condition",
            f"{fact.name}: 'not' inside a list",
            "A list means or: write the values that are left.",
        )
        return None
    if len(set(words)) != len(words):
        out.error(nodes[0].place, "twice", f"{fact.name}: a value stands twice in the list")
        return None
    negated = not listed and words[0].startswith("not ")
    if words == ["known"]:
        negated, words = True, [UNKNOWN]
    elif negated:
        words = [words[0].removeprefix("not ").strip()]
    for word, node in zip(words, nodes, strict=True):
        if word not in fact.values:
            out.error(
                node.place, "undeclared-value", f"{fact.name} is never {word!r}", nearest(word, fact.values)
            )
            return None
    values = tuple(v for v in fact.values if (v in words) != negated)
    text = f"not {words[0]}" if negated else " or ".join(values)
    return Condition(fact.name, text, values=values)


def _number(fact: Fact, nodes: tuple[Node, ...], out: Findings) -> Condition | None:
    over = up_to = None
    known = unknown = False
    for node in nodes:
        word = node.text or ""
        if word in (UNKNOWN, "known", "not unknown"):
            if not fact.may_be_unknown:
                out.error(
                    node.place,
                    "undeclared-value",
                    f"{fact.name} is never unknown",
                    "Declare may_be_unknown: true, or take the condition out.",
                )
                return None
            unknown, known = unknown or word == UNKNOWN, known or word != UNKNOWN
            continue
        limit = _limit(fact, word, node.place, out)
        if limit is None:
            return None
        known = True
        if word.startswith("over "):
            over = limit if over is None else max(over, limit)
        else:
            up_to = limit if up_to is None else min(up_to, limit)
    words = range_words(over, up_to, known, unknown)
    made = Condition(fact.name, words, known=known, unknown=unknown, over=over, up_to=up_to)
    return made if _can_hold(made, nodes, out) else None


def _can_hold(made: Condition, nodes: tuple[Node, ...], out: Findings) -> bool:
    """Whether the limits of a list make a range: at most one of each kind, the lower one first."""
    over, up_to, place = made.over, made.up_to, nodes[0].place
    both = over is not None and up_to is not None
    if over is not None and up_to is not None and over >= up_to:
        what = f"over {number_words(over)} and up to {number_words(up_to)} never holds"
        mend = "Two limits in a list are a range: both must hold. Write 'or' as two rules."
        out.error(place, "never", f"{made.fact}: {what}", mend)
    elif len(nodes) > 1 + int(both) + int(made.unknown):
        out.error(place, "condition", f"{made.fact}: too many limits", _NUMBER_FORMS)
    else:
        return True
    return False


def _limit(fact: Fact, word: str, place: Place, out: Findings) -> float | None:
    low, high = fact.bounds or (0.0, 0.0)
    start = next((s for s in ("up to ", "over ") if word.startswith(s)), "")
    limit = to_number(word[len(start) :].strip()) if start else None
    if limit is None:
        exact = to_number(word)
        mend = f"Write 'up to {word}' or [over …, up to {word}]." if exact is not None else _NUMBER_FORMS
        out.error(place, "condition", f"{fact.name}: {word!r} is no condition on a number", mend)
        return None
    if not low <= limit < high:
        out.error(
            place,
            "bounds",
            f"{fact.name}: {word!r} lies outside its bounds {number_words(low)} to {number_words(high)}",
            "It would hold always or never.",
        )
        return None
    return limit
