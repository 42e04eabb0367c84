"""Put works into a bibliography: each checked against the schema and against what is there, or none."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Mapping
from typing import Any

from coldspell.bibliography.entry import entry
from coldspell.bibliography.read import Work
from coldspell.errors import ColdspellError, Place
from coldspell.library.published import faults
from coldspell.yaml.document import Sequence, from_plain, parse, plain

_ID = re.compile(r"[a-z0-9][a-z0-9-]*")
_HEAD = "# Sources as CSL items, sorted by id.\n"
Bibliography = Mapping[str, Mapping[str, Any]]


def with_id(work: Work, given: str = "") -> dict[str, Any]:
    """Return the item with an id of the form that footnotes name.

    The id of the file is kept where it is one, in lower case and with hyphens. Ids that other programs made
    up (addresses, numbers) give way to the first author and the year.
    """
    item = work.item
    own = _folded(str(item.get("id", "")))
    if given or not re.search("[a-z]", own) or "://" in str(item.get("id", "")) or len(own) > 60:
        own = given or made_id(item)
    return {**item, "id": own}


def made_id(item: Mapping[str, Any]) -> str:
    """An id from the first author (failing that the editor, the title) and the year.

    >>> made_id({"author": [{"family": "Müller", "given": "K."}], "issued": {"date-parts": [[1998, 3]]}})
    'muller-1998'
    """
    people = [one for one in (item.get("author") or item.get("editor") or ()) if isinstance(one, dict)]
    who = str(people[0].get("family") or people[0].get("literal") or "") if people else ""
    words = _folded(who or str(item.get("title", ""))).split("-")[: 3 if who else 4]
    return "-".join([*words, *([str(year)] if (year := _year(item)) else [])])


def checked(works: Iterable[Work], file: str, known: Bibliography, given: str = "") -> list[dict[str, Any]]:
    """Return the works with their ids, all of them sound and none there already.

    Parameters
    ----------
    file
        Name to print in errors.
    known
        What the libraries hold, by id.
    given
        Id for the only work.

    Raises
    ------
    ColdspellError
        At the first work that breaks the schema or is there already, by id, DOI, or title and year.
    """
    there = {key: one for one, item in known.items() for key in _keys(one, item)}
    found = []
    for number, work in enumerate(works, 1):
        item = with_id(work, given)
        at = Place(file, work.line) if work.line else f"{file}, work {number}"
        breach = next(iter(faults(from_plain([item]), "csl-data")), None)
        if breach:
            raise ColdspellError(f"{item['id'] or 'a work'}: {breach.what}", at, breach.mend or "Correct it.")
        for key in _keys(item["id"], item):
            if key in there:
                raise ColdspellError(
                    f"{_said(key)} is there already: {there[key]}", at, _mend(key, there[key])
                )
            there[key] = item["id"]
        found.append(item)
    return found


def added(text: str, items: Iterable[Mapping[str, Any]], file: str) -> str:
    """Return the text of a bibliography with more works, sorted by id; what was there keeps its text.

    Raises
    ------
    ColdspellError
        The bibliography that is there is not sound or not sorted.
    """
    lines = (text or _HEAD).splitlines(keepends=True)
    if lines and not lines[-1].endswith("\n"):
        lines[-1] += "\n"
    root = parse(text, file) if text.strip() else Sequence(0, 0)
    breach = next(iter(faults(root, "csl-data")), None)
    if breach:
        at = Place(file, breach.node.line, breach.node.column)
        raise ColdspellError(breach.what, at, breach.mend or "Correct it first: coldspell species check.")
    ids = [one["id"] for one in plain(root)]
    starts = [one.line - 1 for one in root.items] if isinstance(root, Sequence) else []
    if ids != sorted(ids) or not all(lines[start].startswith("-") for start in starts):
        mend = "Type: coldspell species check --fix, with the folder of the library."
        raise ColdspellError("the works are not sorted by id, each at the start of a line", file, mend)
    wanted = sorted([*plain(root), *map(dict, items)], key=lambda one: str(one["id"]))
    for item in sorted(items, key=lambda one: str(one["id"]), reverse=True):
        place = sum(one < item["id"] for one in ids)
        at_line = _before_comments(lines, starts[place]) if place < len(starts) else len(lines)
        lines[at_line:at_line] = [entry(item)]
    new = "".join(lines)
    assert plain(parse(new, file)) == wanted, "what is written says what was read"
    return new


def _before_comments(lines: list[str], start: int) -> int:
    """Comment lines right above a work belong to it, but for those at the head of the file."""
    first = start
    while first > 0 and lines[first - 1].startswith("#"):
        first -= 1
    return first if first > 0 else start


def _keys(name: str, item: Mapping[str, Any]) -> Iterable[tuple[str, str]]:
    if item.get("DOI"):
        yield "DOI", str(item["DOI"]).lower()
    if _year(item) and item.get("type") != "webpage":
        first = (item.get("author") or item.get("editor") or [{}])[0]
        who = _folded(str(first.get("family") or first.get("literal") or ""))
        yield "title", f"{_folded(str(item.get('title', '')))} {_year(item)} {who}"
    yield "id", name


def _said(key: tuple[str, str]) -> str:
    return {"id": f"the id '{key[1]}'", "DOI": f"the DOI {key[1]}"}.get(
        key[0], "a work of that title, author and year"
    )


def _mend(key: tuple[str, str], there: str) -> str:
    return "Give another: --id NAME." if key[0] == "id" else f"Cite '{there}'."


def _year(item: Mapping[str, Any]) -> int | None:
    parts = (item.get("issued") or {}).get("date-parts") if isinstance(item.get("issued"), dict) else None
    return parts[0][0] if parts and parts[0] else None


def _folded(text: str) -> str:
    """Small letters without accents, everything else a hyphen."""
    plain_letters = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode().lower()
    return re.sub(r"[^a-z0-9]+", "-", plain_letters).strip("-")
