"""Write a CSL item as one line of a list of references."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any


def reference(item: Mapping[str, Any]) -> str:
    """Return authors, year, title, container and numbers of a source, with its DOI or address.

    >>> reference({"title": "Pecan", "author": [{"family": "Bonner", "given": "F. T."}],
    ...            "issued": {"date-parts": [[1976]]}, "container-title": "Notes", "volume": "27"})
    'Bonner F. T. (1976). Pecan. Notes 27.'
    """
    people = item.get("author") or item.get("editor") or ()
    who = _people(people) + (" (eds)" if people and "author" not in item else "")
    date = item.get("issued", {}).get("date-parts")
    year = f"({date[0][0]})" if date else ""
    head = " ".join(part for part in (who, year) if part)
    number = " ".join(str(item[key]) for key in ("collection-title", "number") if key in item)
    edition = f"edition {item['edition']}" if "edition" in item else ""
    where = f"https://doi.org/{item['DOI']}" if "DOI" in item else item.get("URL", "")
    parts = [head, item["title"], edition, _container(item), number, item.get("publisher", "")]
    text = " ".join(part if part.endswith((".", "?", "!")) else part + "." for part in parts if part)
    return f"{text} {where}".strip()


def _people(people: Sequence[Mapping[str, str]]) -> str:
    names = [_name(person) for person in people]
    return f"{names[0]} and others" if len(names) > 6 else ", ".join(names)


def _name(person: Mapping[str, str]) -> str:
    if "literal" in person:
        return person["literal"]
    keys = ("non-dropping-particle", "family", "given", "suffix")
    return " ".join(person[key] for key in keys if key in person)


def _container(item: Mapping[str, Any]) -> str:
    container = str(item.get("container-title", ""))
    volume = str(item.get("volume", "")) + (f"({item['issue']})" if "issue" in item else "")
    page = f": {item['page']}" if "page" in item else ""
    return f"{container} {volume}{page}".replace(" :", ":").strip(" :")
