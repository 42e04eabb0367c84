"""Check bibliographies and common words with jsonschema; records have the faster checker of `schema`."""

from __future__ import annotations

from functools import cache

from jsonschema import Draft202012Validator
from jsonschema.exceptions import ValidationError, best_match

from coldspell.library.schema import Violation, shipped_schema
from coldspell.near import did_you_mean
from coldspell.yaml.document import Mapping, Node, at, plain

_LONGEST = 160  # characters of a message; it may quote a whole list


def faults(root: Node, schema: str) -> list[Violation]:
    """Return all breaches of a shipped schema (``csl-data``, ``common-words``), in the order of the file."""
    found = [_violation(root, error) for error in _validator(schema).iter_errors(plain(root))]
    return sorted(found, key=lambda one: (one.node.line, one.node.column))


@cache
def _validator(schema: str) -> Draft202012Validator:
    return Draft202012Validator(shipped_schema(schema))


def _violation(root: Node, error: ValidationError) -> Violation:
    deepest = best_match([error]) or error
    node = at(root, tuple(deepest.absolute_path))
    schema = deepest.schema if isinstance(deepest.schema, dict) else {}
    known = schema.get("enum") or schema.get("properties", {})
    wrong = deepest.instance
    if isinstance(node, Mapping):
        if isinstance(wrong, str):  # a key that breaks `propertyNames`
            node = node.keys[wrong]
        elif deepest.validator == "additionalProperties":
            wrong = next(name for name in node.keys if name not in known)
            node = node.keys[wrong]
    what = deepest.message if len(deepest.message) <= _LONGEST else deepest.message[: _LONGEST - 1] + "…"
    mend = schema.get("description", "")
    if isinstance(wrong, str) and known:
        mend = did_you_mean(wrong, known, mend)
    return Violation(node, str(deepest.validator), what, mend)
