"""A CSL item as one line: short for the footnotes of a recipe, whole for a list of references."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

Item = Mapping[str, Any]


def reference(item: Item) -> str:
    """Authors, year, title, container and numbers of a source, with its DOI or address.

    >>> reference({"title": "Pecan", "author": [{"family": "Bonner", "given": "F. T."}],
    ...            "issued": {"date-parts": [[1976]]}, "container-title": "Notes", "volume": "27"})
    'Bonner F. T. (1976). Pecan. Notes 27.'
    """
    who = ", ".join(_people(item, 6, _PARTS))
    edited = " (eds)" if item.get("editor") and "author" not in item else ""
    head = " ".join(part for part in (who + edited, _year(item)) if part)
    number = " ".join(str(item[key]) for key in ("collection-title", "number") if key in item)
    edition = f"edition {item['edition']}" if "edition" in item else ""
    parts = [head, item["title"], edition, _container(item), number, item.get("publisher", "")]
    text = " ".join(part if part.endswith((".", "?", "!")) else part + "." for part in parts if part)
    return f"{text} {_doi(item) or item.get('URL', '')}".strip()


def short_reference(source: str, item: Item | None) -> str:
    """Authors by family name, year, title and container; the id of a source of which nothing is known.

    >>> short_reference("x", {"author": [{"family": "Bonner"}], "issued": {"date-parts": [[1976]]}})
    'Bonner (1976), x'
    """
    if item is None:
        return source
    names = _people(item, 3, ("family",))
    who = " & ".join(part for part in (", ".join(names[:-1]), names[-1]) if part) if names else ""
    head = " ".join(part for part in (who or str(item.get("publisher", "")), _year(item)) if part)
    title = str(item.get("title", source)).rstrip(".")
    text = f"{head}, {title}" if who or "publisher" in item else f"{title} {_year(item)}".rstrip()
    return f"{text}. {item['container-title']}" if item.get("container-title") else text


def address(item: Item) -> str | None:
    """Where a source is found on the web, if it is."""
    return item.get("URL") or _doi(item)


def _doi(item: Item) -> str | None:
    return f"https://doi.org/{item['DOI']}" if "DOI" in item else None


def _year(item: Item) -> str:
    parts = (item.get("issued") or {}).get("date-parts")
    return f"({parts[0][0]})" if parts and parts[0] else ""


_PARTS = ("non-dropping-particle", "family", "given", "suffix")


def _people(item: Item, most: int, parts: tuple[str, ...]) -> list[str]:
    """The authors, else the editors; of more than ``most`` the first, and that there are others."""
    people = item.get("author") or item.get("editor") or ()
    names = [p.get("literal") or " ".join(p[key] for key in parts if key in p) for p in people]
    return [f"{names[0]} and others"] if len(names) > most else names


def _container(item: Item) -> str:
    container = str(item.get("container-title", ""))
    volume = str(item.get("volume", "")) + (f"({item['issue']})" if "issue" in item else "")
    page = f": {item['page']}" if "page" in item else ""
    return f"{container} {volume}{page}".replace(" :", ":").strip(" :")
