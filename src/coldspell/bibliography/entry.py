"""One work as it stands in ``bibliography.yaml``."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from coldspell.library.template import scalar

_FIRST = ("id", "type", "author", "editor", "issued", "title", "container-title")


def entry(item: Mapping[str, Any]) -> str:
    """Return the lines of one work.

    >>> print(entry({"id": "doe-2001", "title": "Seeds: a book", "type": "book", "volume": "2",
    ...              "author": [{"family": "Doe", "given": "J."}]}), end="")
    - id: doe-2001
      type: book
      author: [{family: Doe, given: J.}]
      title: "Seeds: a book"
      volume: "2"
    """
    keys = [*(key for key in _FIRST if key in item), *(key for key in item if key not in _FIRST)]
    lines = [f"{key}: {_value(item[key])}" for key in keys]
    return "- " + "\n  ".join(lines) + "\n"


def _value(value: Any) -> str:
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key}: {_value(part)}" for key, part in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(_value, value)) + "]"
    return scalar(value) if isinstance(value, str) else json.dumps(value)
