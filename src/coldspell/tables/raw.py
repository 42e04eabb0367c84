"""A table before it is understood: headings, and cells by heading."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from msgspec import Struct

from coldspell.errors import ColdspellError, Place

HEAD_ROWS = 30


class RawRow(Struct, frozen=True):
    """Cells by heading; ``broken`` says why the row is none."""

    number: int
    cells: Mapping[str, Any]
    broken: str = ""


class RawTable(Struct, frozen=True):
    """Headings (``None`` where each row brings its own keys) and the rows, one at a time.

    ``count`` is how many rows there are, where the file says so; ``in_order`` whether it is read from the
    first byte to the last.
    """

    headings: tuple[str, ...] | None
    rows: Iterator[RawRow]
    count: int | None = None
    in_order: bool = True


def heading_key(heading: str) -> str:
    """A heading as the names of facts are written: ``Stored years`` is ``stored_years``."""
    return "_".join(heading.casefold().replace("-", " ").replace("_", " ").split())


def with_headings(numbered: Iterable[tuple[int, Sequence[Any]]], file: str) -> RawTable:
    """Find the headings: the first row with a column ``name``; what stands above it is no lot.

    Raises
    ------
    ColdspellError
        There is no such row, or two columns have the same heading.
    """
    rows = iter(numbered)
    seen: list[tuple[int, Sequence[Any]]] = []
    for number, cells in rows:
        if not any(_text(cell) for cell in cells) or _text(cells[0]).startswith("#"):
            continue
        seen.append((number, cells))
        if any(heading_key(_text(cell)) == "name" for cell in cells):
            headings = _headings(cells, Place(file, number))
            return RawTable(headings, _rows(rows, headings))
        if len(seen) >= HEAD_ROWS:
            break
    if not seen:
        raise ColdspellError("the table is empty", Place(file), "a template: coldspell season new")
    shown = ", ".join(_text(cell)[:40] for cell in seen[0][1] if _text(cell))[:200]
    raise ColdspellError(
        f"no heading is called name; the first row has: {shown}",
        Place(file, seen[0][0]),
        "call the column with the names of the plants: name",
    )


def _headings(cells: Sequence[Any], place: Place) -> tuple[str, ...]:
    found: dict[str, str] = {}
    for cell in cells:
        heading = _text(cell)
        if heading and heading_key(heading) in found:
            other = found[heading_key(heading)]
            what = f"the column {heading!r} stands twice"
            if other != heading:
                what = f"two columns mean the same: {other!r} and {heading!r}"
            raise ColdspellError(what, place, "take one of them out, or give it another heading")
        found[heading_key(heading)] = heading
    return tuple(_text(cell) for cell in cells)


def _rows(rows: Iterator[tuple[int, Sequence[Any]]], headings: tuple[str, ...]) -> Iterator[RawRow]:
    width = len(headings)
    bare = [i for i, heading in enumerate(headings) if not heading]
    for number, cells in rows:
        if len(cells) != width or bare:
            if not any(_text(cell) for cell in cells):
                continue
            named = {h: c for h, c in zip(headings, cells, strict=False) if h}
            beyond = [*cells[width:], *(cells[i] for i in bare if i < len(cells))]
            stray = next((_text(cell) for cell in beyond if _text(cell)), None)
            if stray is not None:
                yield RawRow(number, named, f"a cell without a heading: {stray[:40]!r}")
                continue
            yield RawRow(number, named)
        elif any(cells) and any(_text(cell) for cell in cells):
            yield RawRow(number, dict(zip(headings, cells, strict=True)))


def _text(cell: Any) -> str:
    return cell.strip() if type(cell) is str else "" if cell is None else str(cell).strip()
