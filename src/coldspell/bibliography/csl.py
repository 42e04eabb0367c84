"""A work as other programs write it in CSL-JSON, brought to what a bibliography of records holds."""

from __future__ import annotations

import html
import re
from typing import Any

from coldspell.library.schema import shipped_schema

_LEFT_OUT = frozenset({"abstract", "annote", "keyword", "references"})
"""What a bibliography has no use for, or may not pass on."""
_TAG = re.compile(r"</?(?:i|b|em|strong|sc|sub|sup|span)(?: [^<>]*)?>", re.IGNORECASE)
_DOI = re.compile(r"^(?:https?://(?:dx\.)?doi\.org/|doi:\s*)", re.IGNORECASE)
_DAY = re.compile(r"(\d{4})(?:-(\d{1,2})(?:-(\d{1,2}))?)?(?:$|T|\s)")


def as_csl(item: dict[str, Any]) -> tuple[dict[str, Any], tuple[str, ...]]:
    """Return the item with the keys that a bibliography knows, and the keys that were left out.

    Mark-up in texts is taken off, addresses in front of a DOI are, and years written as text become numbers.
    Nothing else is changed: what is wrong afterwards is for the schema to say.

    >>> as_csl({"type": "book", "title": "<i>Quercus</i> &amp; seed", "DOI": "https://doi.org/10.1234/x",
    ...         "issued": {"date-parts": [["2008"]]}, "abstract": "…"})[0]
    {'type': 'book', 'title': 'Quercus & seed', 'DOI': '10.1234/x', 'issued': {'date-parts': [[2008]]}}
    """
    schema = shipped_schema("csl-data")
    known, names = schema["items"]["properties"], schema["$defs"]["name"]["properties"]
    found: dict[str, Any] = {}
    left_out = []
    for key, value in item.items():
        if key not in known or key in _LEFT_OUT:
            left_out.append(key)
        elif value not in (None, "", [], {}):
            found[key] = _value(key, value, known[key].get("$ref", ""), names)
    return found, tuple(left_out)


def _value(key: str, value: Any, kind: str, names: dict[str, Any]) -> Any:
    if kind.endswith("date"):
        return _date(value)
    if isinstance(value, list):
        return [_person(one, names) for one in value]
    if isinstance(value, str):
        value = plain(value)
        return _DOI.sub("", value) if key == "DOI" else value
    return value


def plain(text: str) -> str:
    """A text without mark-up and with single blanks."""
    return " ".join(html.unescape(_TAG.sub("", text)).split())


def _person(value: Any, names: dict[str, Any]) -> Any:
    if not isinstance(value, dict):
        return value
    return {key: plain(str(part)) for key, part in value.items() if key in names and part not in (None, "")}


def _date(value: Any) -> Any:
    """A date with whole numbers; one that stands there as text is read where it is one of ISO 8601."""
    if not isinstance(value, dict):
        return value
    parts = value.get("date-parts")
    if isinstance(parts, list) and parts and all(isinstance(one, list) for one in parts):
        return {"date-parts": [[_number(part) for part in one if part not in (None, "")] for one in parts]}
    said = str(value.get("raw") or value.get("literal") or "")
    day = _DAY.match(said)
    if day:
        return {"date-parts": [[int(part) for part in day.groups() if part]]}
    return {"literal": plain(said)} if said else value


def _number(part: Any) -> Any:
    return int(part) if isinstance(part, str) and part.isdigit() else part
