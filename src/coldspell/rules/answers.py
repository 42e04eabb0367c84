"""Read one answer of a decision: its text, or a map of its text and its fields."""

from __future__ import annotations

from collections.abc import Sequence

from coldspell.rules.findings import Findings, nearest
from coldspell.rules.model import Answer, Field
from coldspell.rules.reader import Node
from coldspell.rules.shape import to_number


def read_answer(word: str, node: Node, fields: Sequence[Field], out: Findings) -> Answer:
    """The answer a node states: every declared field is given, with one of its words.

    A field that is missing or mistaken stands with its first word, so that all other checks can go on.
    """
    given = dict(node.entries or {})
    _, says = given.pop("says", (node.place, node))
    if not says.text:
        out.error(says.place, "shape", f"the answer {word!r} needs a text")
    declared = {field.name: field for field in fields}
    for name, (place, _) in given.items():
        if name not in declared:
            mend = nearest(name, ["says", *declared]) or "Declare it in fields.yaml."
            out.error(place, "unknown-field", f"the answer {word!r} has no field {name!r}", mend)
    found = {}
    for name, field in declared.items():
        if name not in given:
            mend = f"Write {name}: {' or '.join(field.words) or 'a number'}."
            out.error(node.place, "missing-field", f"the answer {word!r} does not say {field.path}", mend)
            found[name] = _stand_in(field)
            continue
        value = given[name][1]
        if _fits(field, value):
            found[name] = value.text or ""
        else:
            what = f"{field.path} cannot be {value.text if value.text is not None else value.kind!r}"
            out.error(value.place, "field-word", what, _mend(field, value.text or ""))
            found[name] = _stand_in(field)
    return Answer(says.text or "", found)


def _stand_in(field: Field) -> str:
    return field.words[0] if field.words else f"{field.bounds[0]:g}" if field.bounds else ""


def _fits(field: Field, node: Node) -> bool:
    if field.bounds is None:  # neither words nor bounds: the declaration is mistaken, which is said there
        return node.text in field.words or not field.words
    number = to_number(node.text or "")
    return number is not None and field.bounds[0] <= number <= field.bounds[1]


def _mend(field: Field, word: str) -> str:
    if field.bounds is None:
        return nearest(word, field.words)
    return f"A number from {field.bounds[0]:g} to {field.bounds[1]:g}."
