"""The JSON Schema of the recipe, made from its declaration, the rules and the table of lot facts."""

from __future__ import annotations

from datetime import date
from functools import cache
from typing import Any, NamedTuple, get_args, get_type_hints

from coldspell import shipped
from coldspell.decide.names import asks, closed
from coldspell.decide.names.fields import RouteFields
from coldspell.lot.lot import Lot, Millimetres, Share
from coldspell.lot.table import FACTS, LotFact
from coldspell.records import do, terms
from coldspell.rules import RuleBook
from coldspell.schema.declare import DAY
from coldspell.schema.json_schema import Schema, SchemaWriter
from coldspell.write import recipe_kinds
from coldspell.write.recipe import Recipe
from coldspell.yaml import document

ADDRESS = "https://coldspell.example/schemas/recipe-2.json"
KINDS: dict[str, Any] = {**vars(terms), **vars(do), **vars(recipe_kinds)}
"""What the names in the annotations of the recipe stand for, in full."""
DECIDED = {
    ("Recipe", "route"): asks.Ask.ROUTE,
    ("Verdict", "route"): asks.Ask.ROUTE,
    ("Verdict", "alive"): asks.Ask.ALIVE,
    ("Verdict", "identity"): asks.Ask.IDENTITY,
    ("Medium", "form"): asks.Ask.MEDIUM,
}
"""Fields that hold the answer of a decision: open words, with the shipped ones as examples."""

_ABSENT = " (this is meant when the key is absent)"  # in records; a recipe has every key


class Told(NamedTuple):
    """What words mean, by the list they belong to, and fields (``Class.field``) that the rules explain."""

    words: dict[Any, dict[Any, str]]
    fields: dict[str, str]


@cache
def told() -> Told:
    """Return what records, recipe and rules say of their words; ``fields.yaml`` has those of the rules."""
    of_records = {
        kind: {word: text.replace(_ABSENT, "") for word, text in said.items()}
        for kind, said in terms.MEANINGS.items()
    }
    words = {**of_records, do.Do: {word: row.says for word, row in do.DO.items()}, **recipe_kinds.MEANINGS}
    fields = {}
    route = _of_rules(asks.Ask.ROUTE)
    for name, kind in get_type_hints(RouteFields).items():
        fields[f"RouteFields.{name}"], words[kind] = route[name]
    words[closed.Material] = _of_rules(asks.Ask.MATERIAL)["same_as"][1]
    words[closed.Packs] = _of_rules(asks.Ask.MEDIUM)["packs"][1]
    words[closed.Into] = _of_rules(asks.Ask.FINISH)["into"][1]
    fits = {**_of_rules(asks.Ask.TIME)["fits"][1], "not_asked": recipe_kinds.NOT_ASKED}
    words[recipe_kinds.Timings] = fits
    return Told({kind: _in_order(kind, said) for kind, said in words.items()}, fields)


def recipe_schema(book: RuleBook) -> Schema:
    """Return the schema (2020-12) of the recipe, as published in docs/schemas.

    Maps are open: a later program may add keys, and who reads a recipe passes over those it does not know.
    """
    writer = SchemaWriter(KINDS, told().words, typed=False, told=told().fields)
    schema = writer.document(Recipe, ADDRESS, "Coldspell recipe")
    maps = {"Recipe": schema, **schema["$defs"]}
    for one in maps.values():
        if one.get("additionalProperties") is False:
            del one["additionalProperties"]
    for (struct, field), decision in DECIDED.items():
        maps[struct]["properties"][field]["examples"] = answers(book, decision)
    said = maps["LotAnswer"]["properties"]["said"]
    said["properties"] = {name: _said(fact) for name, fact in FACTS.items()}
    return schema


def answers(book: RuleBook, decision: str) -> list[str]:
    """Return the answers that a decision of these rules can give."""
    return list(book.decisions[decision].answers)


def _of_rules(decision: str) -> dict[str, tuple[str, dict[str, str]]]:
    """Meaning of each field of a decision's answers, and of its words, as sentences."""
    path = shipped.find("rules") / "fields.yaml"
    found = {}
    for entry in document.plain(document.parse(path.read_text("utf-8"), str(path)))["fields"]:
        if decision in ([entry["of"]] if isinstance(entry["of"], str) else entry["of"]):
            words = {word: _sentence(says) for word, says in entry.get("words", {}).items()}
            found[entry["field"]] = (entry["means"], words)
    return found


def _sentence(text: str) -> str:
    return f"{text[0].upper()}{text[1:].rstrip('.')}."


def _in_order(kind: Any, said: dict[Any, str]) -> dict[Any, str]:
    """The meanings in the order of the words; one that has no word stays, so that it is noticed."""
    words = [word for word in get_args(kind) if word in said]
    return {word: said[word] for word in [*words, *(w for w in said if w not in words)]}


def _said(fact: LotFact) -> Schema:
    """One fact of the lot as the recipe repeats it."""
    about, shape = fact.about, _shape(fact)
    unit = f"Unit: {about.unit}." if about.unit else ""
    says = " ".join(part for part in (_sentence(about.means), unit) if part)
    if getattr(Lot(), fact.field) is None:
        shape = {"anyOf": [shape, {"type": "null"}]}
    return {"description": says, **shape}


def _shape(fact: LotFact) -> Schema:
    if fact.many:
        return {"type": "array", "items": {"enum": list(fact.words)}}
    if fact.words:
        return {"enum": list(fact.words)}
    if fact.number:
        limits = {"minimum": fact.about.low, "maximum": fact.about.high}
        return {"type": "integer" if fact.whole else "number", **limits}
    if fact.kind is date:
        return {"type": "string", "format": "date", "pattern": DAY.pattern}
    if fact.kind is Share:
        return {"type": "string", "pattern": r"^\d+/\d+$"}
    if fact.kind is Millimetres:
        return {"type": "array", "items": {"type": "number", "minimum": 0}}
    return {"type": "boolean" if fact.kind is bool else "string"}
