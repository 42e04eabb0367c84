"""Read the folder of an office: ``office.yaml`` and its tables; every fault with its place."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path

from coldspell.errors import ColdspellError, Place
from coldspell.near import did_you_mean
from coldspell.office.model import EVERY, LocalNote, Office, Photograph
from coldspell.records.terms import LAW_ABOUT
from coldspell.yaml import document

Name = Callable[[str], str]
"""The accepted name of a species or genus; raises with the nearest names where there is none."""
Row = dict[str, tuple[str, Place]]
"""One note or photograph: text and place by key."""
NOTE = ("kind", "place", "about", "says", "who", "checked")
PHOTOGRAPH = ("kind", "file", "shows", "by", "licence")
_OWN = ("name", "telephone", "logo")
_LISTS = {"notes": NOTE, "photographs": PHOTOGRAPH}
_PICTURES = (".png", ".jpg", ".jpeg")
_MOST_BYTES, _MOST_PICTURE, MOST_TEXT = 256 * 1024, 4 * 1024 * 1024, 600


def read_office(folder: Path, name: Name) -> Office:
    """What the folder says.

    Parameters
    ----------
    name
        Looks a plant up; notes and photographs of plants that it refuses are refused.

    Raises
    ------
    ColdspellError
        There is no such folder, or the first fault in it, with file, line and column.
    """
    if not folder.is_dir():
        raise ColdspellError("there is no such folder of an office", Place(str(folder)), "--office DIR")
    own, rows = _of_yaml(folder / "office.yaml")
    for key, columns in _LISTS.items():
        rows[key] += _of_csv(folder / f"{key}.csv", columns)
    logo = own.get("logo")
    return Office(
        folder=folder,
        name=own["name"][0] if "name" in own else "",
        telephone=own["telephone"][0] if "telephone" in own else "",
        logo=None if logo is None else _picture(folder, logo),
        notes=tuple(_note(row, name) for row in rows["notes"]),
        photographs=tuple(_photograph(folder, row, name) for row in rows["photographs"]),
    )


def _of_yaml(path: Path) -> tuple[Row, dict[str, list[Row]]]:
    rows: dict[str, list[Row]] = {key: [] for key in _LISTS}
    if not path.is_file():
        return {}, rows
    file = str(path)
    root = document.parse(document.decode(document.read_bytes(path, file, _MOST_BYTES), file), file)
    if not isinstance(root, document.Mapping):
        mend = "for example  telephone: 01 234 56"
        raise ColdspellError("office.yaml is a map of keys", document.place(root, file), mend)
    own: dict[str, document.Node] = {}
    for key, node in root.items.items():
        if key not in (*_OWN, *_LISTS):
            mend = did_you_mean(key, [*_OWN, *_LISTS])
            raise ColdspellError(f"an office has no {key!r}", document.place(root.keys[key], file), mend)
        if key in _OWN:
            own[key] = node
        elif not isinstance(node, document.Sequence):
            raise ColdspellError(f"{key} is a list", document.place(node, file), "begin each with a dash")
        else:
            rows[key] = [_row(item, _LISTS[key], file) for item in node.items]
    return {key: _text(node, file, key) for key, node in own.items()}, rows


def _row(node: document.Node, columns: tuple[str, ...], file: str) -> Row:
    if not isinstance(node, document.Mapping):
        mend = f"with the keys {', '.join(columns)}"
        raise ColdspellError("each entry is a map", document.place(node, file), mend)
    for key in node.items:
        if key not in columns:
            mend = did_you_mean(key, columns)
            raise ColdspellError(f"there is no key {key!r} here", document.place(node.keys[key], file), mend)
    found = {key: _text(item, file, key) for key, item in node.items.items()}
    return _whole(found, columns, document.place(node, file))


def _text(node: document.Node, file: str, key: str) -> tuple[str, Place]:
    if not isinstance(node, document.Scalar) or node.value is None:
        raise ColdspellError(f"{key} is a line of text", document.place(node, file), "write one line")
    value = node.value
    return (value.isoformat() if isinstance(value, date) else str(value).strip()), document.place(node, file)


def _of_csv(path: Path, columns: tuple[str, ...]) -> Iterator[Row]:
    if not path.is_file():
        return
    file = str(path)
    text = document.read_bytes(path, file, _MOST_BYTES).decode("utf-8-sig", "replace")
    if "�" in text:
        raise ColdspellError("this is not UTF-8", Place(file), "save it as CSV UTF-8")
    reader = csv.DictReader(io.StringIO(text, newline=""))
    if tuple(reader.fieldnames or ()) != columns:
        raise ColdspellError(
            "the first line names the columns", Place(file, 1), f"write: {','.join(columns)}"
        )
    for row in reader:
        place = Place(file, reader.line_num)
        if None in row or None in row.values():
            mend = "put quotation marks round a text that has a comma"
            raise ColdspellError(f"this line has not {len(columns)} columns", place, mend)
        yield _whole({key: (value.strip(), place) for key, value in row.items()}, columns, place)


def _whole(row: Row, columns: tuple[str, ...], place: Place) -> Row:
    for key in columns:
        if key not in row or not row[key][0]:
            raise ColdspellError(f"{key} is missing", place, f"each entry has {', '.join(columns)}")
        if len(row[key][0]) > MOST_TEXT:
            raise ColdspellError(f"{key} is too long", row[key][1], f"at most {MOST_TEXT} signs")
    return row


def _note(row: Row, name: Name) -> LocalNote:
    about, at = row["about"]
    known = next((one for one in LAW_ABOUT if one == about), None)
    if known is None:
        raise ColdspellError(f"about cannot be {about!r}", at, f"one of: {', '.join(LAW_ABOUT)}")
    checked, at = row["checked"]
    try:
        date.fromisoformat(checked)
    except ValueError:
        raise ColdspellError(f"{checked!r} is no day", at, "as 2026-11-30") from None
    texts = {key: row[key][0] for key in ("place", "says", "who")}
    return LocalNote(kind=_kind(row, name), about=known, checked=checked, **texts)


def _photograph(folder: Path, row: Row, name: Name) -> Photograph:
    file = _picture(folder, row["file"])
    return Photograph(_kind(row, name), file, *(row[key][0] for key in ("shows", "by", "licence")))


def _kind(row: Row, name: Name) -> str:
    kind, at = row["kind"]
    if kind.casefold() == EVERY:
        return EVERY
    try:
        return name(kind)
    except ColdspellError as error:
        raise ColdspellError(error.what, at, error.mend) from None


def _picture(folder: Path, said: tuple[str, Place]) -> Path:
    """A picture inside the folder: nothing else is ever opened."""
    text, at = said
    path = folder / text
    if path.suffix.lower() not in _PICTURES:
        raise ColdspellError(f"{text!r} is no picture", at, f"one of: {', '.join(_PICTURES)}")
    if folder.resolve() not in path.resolve().parents:
        raise ColdspellError(f"{text!r} lies outside the folder", at, "put it into the folder of the office")
    if not path.is_file():
        raise ColdspellError(f"there is no file {text!r}", at, f"it is looked for in {folder}")
    if path.stat().st_size > _MOST_PICTURE:
        raise ColdspellError(f"{text!r} is too large", at, "at most 4 MB; save it smaller")
    return path
