"""Tables that are text: CSV and TSV as spreadsheets write them, and JSON Lines."""

from __future__ import annotations

import codecs
import csv
import io
import json
import re
from collections.abc import Iterator
from contextlib import suppress
from itertools import chain
from typing import Any, BinaryIO

from coldspell.errors import ColdspellError, Place
from coldspell.tables.raw import RawRow, RawTable, heading_key, with_headings
from coldspell.tables.rows import TableForm

MOST_LINE = 100_000
_HALF = re.compile("[\ud800-\udfff]")
_UTF16 = (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)


def delimited(stream: BinaryIO, head: bytes, file: str, form: TableForm, delimiter: str | None) -> RawTable:
    """A table with a delimiter: the stated one, else what the first lines hold."""
    lines = _lines(stream, head, file, form)
    first: list[tuple[int, str]] = []
    for number, line in lines:
        first.append((number, line))
        if len(first) == 40:
            break
    stated = form.delimiter or delimiter
    if first and first[0][1].casefold().startswith("sep=") and len(first[0][1].strip()) == 5:
        stated = stated or first[0][1][4]
        first = first[1:]
    mark = stated or _delimiter([line for _, line in first])
    return with_headings(_cells(chain(first, lines), mark, file), file)


def json_lines(stream: BinaryIO, head: bytes, file: str, form: TableForm) -> RawTable:
    """One JSON object a line."""
    return RawTable(None, _objects(_lines(stream, head, file, form)))


def _lines(stream: BinaryIO, head: bytes, file: str, form: TableForm) -> Iterator[tuple[int, str]]:
    """Lines with their numbers, none read further than the longest allowed."""
    encoding = form.encoding or ("utf-16" if head[:2] in _UTF16 else "utf-8-sig")
    try:
        codecs.lookup(encoding)
    except LookupError:
        raise ColdspellError(f"unknown encoding {encoding!r}", mend="for example --encoding cp1252") from None
    text = io.TextIOWrapper(stream, encoding=encoding, newline="")
    number = 0
    try:
        while line := text.readline(MOST_LINE + 1):
            number += 1
            if len(line) > MOST_LINE:
                what = f"the line is longer than {MOST_LINE} characters"
                raise ColdspellError(what, Place(file, number), "is this a table? Take columns out")
            if "\0" in line:
                raise ColdspellError("this is not a text table", Place(file, number), "export it as CSV")
            yield number, line
    except UnicodeError:
        wanted = "UTF-16" if encoding == "utf-16" else form.encoding or "UTF-8"
        raise ColdspellError(
            f"here or further down it is not {wanted}",
            Place(file, number + 1),
            "save it as CSV UTF-8, or say --encoding cp1252 if it comes from an older Windows",
        ) from None
    finally:
        with suppress(ValueError):  # closed already
            text.detach()


def _delimiter(lines: list[str]) -> str:
    """That of the line with the heading ``name``; a tab or semicolon beats a comma (decimal commas)."""
    for line in lines:
        for mark in ("\t", ";", ","):
            cells = next(csv.reader([line], delimiter=mark), [])
            if any(heading_key(cell.strip('"')) == "name" for cell in cells) and len(cells) > 1:
                return mark
    counts = {mark: sum(mark in line for line in lines) for mark in ("\t", ";", ",")}
    return max(counts, key=lambda mark: counts[mark]) if any(counts.values()) else ","


def _cells(lines: Iterator[tuple[int, str]], mark: str, file: str) -> Iterator[tuple[int, list[str]]]:
    """Cells of each row with the number of its first line."""
    number = 0
    start = 0

    def texts() -> Iterator[str]:
        nonlocal number
        for found, line in lines:
            number = found
            yield line

    if len(mark) != 1 or mark in '"\r\n':
        raise ColdspellError("a delimiter is one character", mend="as --delimiter ';'")
    reader = csv.reader(texts(), delimiter=mark, strict=True)
    while True:
        start = number + 1
        try:
            cells = next(reader)
        except StopIteration:
            return
        except csv.Error as error:
            raise ColdspellError(
                f"the row that begins here cannot be read: {error}",
                Place(file, start),
                'look for a quotation mark that is not closed; inside quotes it is doubled: ""',
            ) from None
        yield start, [cell.strip() for cell in cells]


def _objects(lines: Iterator[tuple[int, str]]) -> Iterator[RawRow]:
    for number, line in lines:
        if not line.strip():
            continue
        try:
            found = json.loads(line, object_pairs_hook=_once, parse_constant=_no_number)
        except json.JSONDecodeError as error:
            yield RawRow(number, {}, f"no JSON: {error.msg} at character {error.colno}")
        except RecursionError:
            yield RawRow(number, {}, "too deeply nested")
        except ValueError as error:
            yield RawRow(number, {}, str(error))
        else:
            if not isinstance(found, dict):
                yield RawRow(number, {}, 'a lot is a map, for example {"name": "apple", "seeds": 40}')
            elif _HALF.search(json.dumps(found, ensure_ascii=False)):
                yield RawRow(number, {}, "half of a character (\\ud800 to \\udfff), which is no text")
            else:
                yield RawRow(number, found)


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    keys = [heading_key(key) for key, _ in pairs]
    if len(set(keys)) < len(keys):
        twice = next(key for key in keys if keys.count(key) > 1)
        raise ValueError(f"{twice!r} is given twice")
    return dict(pairs)


def _no_number(text: str) -> float:
    raise ValueError(f"{text} is no number")
