"""Check the sentences of a rule book: placeholders must be declared, measures belong to the views."""

from __future__ import annotations

import re
from collections.abc import Collection

from coldspell.errors import Place
from coldspell.rules.findings import Findings, nearest

_PLACEHOLDER = re.compile(r"\{([^{}]*)\}")
# Units that a view converts, then units of time and share: all numbers of a lot come through placeholders.
_CONVERTED = (
    r"mm|cm|m|km|in(?!\s+[0-9])|inch|inches|ft|feet|foot|ml|cl|l|litres?|liters?|gallons?|quarts?|pints?|cups?"
    r"|g|kg|mg|grams?|oz|ounces?|lbs?|pounds?|°\s?[CF]|C|F|K|degrees?|metres?|meters?|millimetres?"
    r"|millimeters?|centimetres?|centimeters?|kilograms?|millilitres?|milliliters?"
)
_OTHER = r"%|percent|per cent|ppm|h|hours?|min|minutes?|s|seconds?|d|days?|weeks?|months?|years?"
_ONE = r"[−-]?[0-9]+(?:[.,][0-9]+)?"
_NUMBER = rf"(?<![\w.]){_ONE}(?:\s?(?:[–-]|to|×|x)\s?{_ONE})*[\s-]?"
_MEASURE = re.compile(rf"{_NUMBER}(?:{_CONVERTED}|{_OTHER})(?![A-Za-z])")
_CONVERTED_ONLY = re.compile(rf"{_NUMBER}(?:{_CONVERTED})(?![A-Za-z])")


def placeholders(text: str) -> tuple[str, ...]:
    """The names in braces, in order."""
    return tuple(_PLACEHOLDER.findall(text))


def check_text(
    text: str, place: Place, names: Collection[str], out: Findings, *, reason: bool = False
) -> None:
    """Note unknown placeholders, stray braces and digits with units.

    A reason (`because`) may name a time or a share; everything a view converts stays out of both.
    """
    for name in placeholders(text):
        if name not in names:
            out.error(place, "placeholder", f"{{{name}}} is no placeholder", nearest(name, names))
    if set("{}") & set(_PLACEHOLDER.sub("", text)):
        out.error(place, "placeholder", "a brace without its partner")
    found = (_CONVERTED_ONLY if reason else _MEASURE).search(text)
    if found:
        out.error(
            place,
            "digits-with-unit",
            f"the text says {found.group().strip()!r}",
            "Numbers with units come from facts: use a {placeholder}, or words without digits.",
        )
