"""Read `fields.yaml`: what answers tell the program to do, in closed words."""

from __future__ import annotations

from coldspell.rules.facts import check_value
from coldspell.rules.findings import Findings
from coldspell.rules.model import Field
from coldspell.rules.reader import Node
from coldspell.rules.shape import Map, check_name, number_of


def read_fields(root: Node, known: dict[str, Field], out: Findings) -> None:
    """Add the fields of one file to those known, by path; one declared twice is a mistake."""
    for item in Map(root, "a fields file", ("fields",), (), out).items("fields"):
        for field in _fields(item, out):
            if field.path in known:
                first = known[field.path].place
                out.error(field.place, "twice", f"the field {field.path} is declared twice", f"At {first}.")
            else:
                known[field.path] = field


def _fields(node: Node, out: Findings) -> list[Field]:
    """One declaration: the same field for each decision it belongs to."""
    entry = Map(node, "a field", ("field", "of", "means"), ("words", "bounds"), out)
    name = entry.text("field")
    if not name or not check_name(name, "a field", entry.at("field"), out):
        return []
    if name == "says":
        what = "a field cannot be named 'says': the text of an answer has this name"
        out.error(entry.at("field"), "reserved-name", what)
        return []
    if ("words" in entry.entries) == ("bounds" in entry.entries):
        mend = "A field has a map of words, each with its meaning, or the bounds of a number."
        out.error(entry.place, "field-kind", f"the field {name!r} must have words or bounds", mend)
        return []
    of = entry.get("of")
    owners = (of,) if of is not None and of.items is None else (of.items or ()) if of is not None else ()
    bounds = [number_of(n, out) for n in entry.texts("bounds")]
    low, high = (bounds[0], bounds[1]) if len(bounds) == 2 else (None, None)
    limits = (low, high) if low is not None and high is not None and low < high else None
    if "bounds" in entry.entries and limits is None:
        out.error(entry.at("bounds"), "bounds", "bounds must be [low, high] with low < high")
    return [
        Field(owner.text or "", name, entry.text("means"), entry.at("field"), _words(entry, out), limits)
        for owner in owners
    ]


def _words(entry: Map, out: Findings) -> tuple[str, ...]:
    node = entry.get("words")
    if node is None:
        return ()
    if node.entries is None:
        out.error(node.place, "shape", "'words' must map each word to its meaning")
        return ()
    for word, (place, meaning) in node.entries.items():
        check_value(word, place, out)
        if not meaning.text:
            out.error(place, "shape", f"the word {word!r} needs its meaning")
    return tuple(node.entries)
