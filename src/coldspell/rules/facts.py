"""Read `facts.yaml`: what a rule may ask for."""

from __future__ import annotations

import re

from coldspell.errors import Place
from coldspell.rules.findings import Findings
from coldspell.rules.model import IMPOSSIBLE, NOT_ASKED, ORIGINS, UNKNOWN, Fact
from coldspell.rules.reader import Node
from coldspell.rules.shape import Map, check_name, number_of

_KEYS = ("values", "unit", "bounds", "may_be_unknown")

_SPOKEN = re.compile("^(?:not|up to|over) | n?or ")
_RESERVED = ("known", "any", NOT_ASKED, IMPOSSIBLE)


def check_value(word: str, place: Place, out: Findings) -> None:
    """A value must not read like a condition."""
    if word in _RESERVED or _SPOKEN.search(word):
        mend = "It has a meaning of its own in conditions."
        out.error(place, "reserved-name", f"{word!r} cannot be a value", mend)


def read_facts(root: Node, known: dict[str, Fact], out: Findings) -> None:
    """Add the facts of one file to those known; a name declared twice is a mistake."""
    for item in Map(root, "a facts file", ("facts",), (), out).items("facts"):
        fact = _fact(item, out)
        if fact and fact.name in known:
            out.error(
                fact.place,
                "twice",
                f"the fact {fact.name!r} is declared twice",
                f"The first one is at {known[fact.name].place}.",
            )
        elif fact:
            known[fact.name] = fact


def read_placeholders(root: Node, known: dict[str, Fact], out: Findings) -> None:
    """Add the words that texts may hold in braces; they cannot be tested."""
    for item in Map(root, "a placeholders file", ("placeholders",), (), out).items("placeholders"):
        entry = Map(item, "a placeholder", ("placeholder", "means"), (), out)
        name = entry.text("placeholder")
        if not name or not check_name(name, "a placeholder", entry.at("placeholder"), out):
            continue
        if name in known:
            first = known[name].place
            out.error(entry.at("placeholder"), "twice", f"the name {name!r} is taken", f"By {first}.")
        else:
            at = entry.at("placeholder")
            known[name] = Fact(name, "placeholder", entry.text("means"), at, text=True)


def _fact(node: Node, out: Findings) -> Fact | None:
    entry = Map(node, "a fact", ("fact", "from", "means"), _KEYS, out)
    name = entry.text("fact")
    if not name or not check_name(name, "a fact", entry.at("fact"), out):
        return None
    kinds = [key for key in ("values", "bounds") if key in entry.entries]
    if len(kinds) != 1:
        out.error(
            entry.place,
            "fact-kind",
            f"the fact {name!r} must have one of values or bounds",
            "A choice has values, a number has unit and bounds.",
        )
        return None
    if "bounds" in kinds and "unit" not in entry.entries:
        out.error(entry.place, "missing-key", f"the number {name!r} needs the key 'unit'")
    for key in ("unit", "may_be_unknown"):
        if key in entry.entries and "bounds" not in kinds:
            out.error(entry.at(key), "fact-kind", f"only a number has {key!r}")
    return Fact(
        name,
        entry.choice("from", ORIGINS, "lot"),
        entry.text("means"),
        entry.at("fact"),
        values=_values(entry, out),
        unit=entry.text("unit") or None,
        bounds=_bounds(entry, out),
        may_be_unknown=_flag(entry, "may_be_unknown", out),
    )


def _values(entry: Map, out: Findings) -> tuple[str, ...]:
    values = []
    for node in entry.texts("values"):
        word = node.text or ""
        check_value(word, node.place, out)
        values.append(word)
    if "values" in entry.entries and len(values) < 2:
        out.error(entry.at("values"), "fact-kind", "a choice needs two values or more")
    if values == [UNKNOWN]:
        out.error(entry.at("values"), "fact-kind", "a choice needs a value beside 'unknown'")
    return tuple(values)


def _bounds(entry: Map, out: Findings) -> tuple[float, float] | None:
    nodes = entry.texts("bounds")
    if "bounds" not in entry.entries:
        return None
    numbers = [number_of(node, out) for node in nodes]
    if len(numbers) != 2 or numbers[0] is None or numbers[1] is None or numbers[0] >= numbers[1]:
        out.error(entry.at("bounds"), "bounds", "bounds must be [low, high] with low < high")
        return (0.0, 1.0)
    return (numbers[0], numbers[1])


def _flag(entry: Map, key: str, out: Findings) -> bool:
    word = entry.text(key, "false")
    if word not in ("true", "false"):
        out.error(entry.at(key), "shape", f"{key} must be true or false, not {word!r}")
    return word == "true"
