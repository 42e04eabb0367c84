"""A record as a form: its topics one by one as they are typed, put together to the YAML of a record file."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping
from typing import get_args

from msgspec import Struct

from coldspell.library.template import scalar
from coldspell.records.examples import EXAMPLES
from coldspell.records.model import Record
from coldspell.records.record_schema import KINDS
from coldspell.records.terms import PLANT, SIZE, UNIT, Rank
from coldspell.schema.declare import fields_of

SCHEMA = "2"
"""Version of the format in which a new record is written."""
ONE_LINE: Mapping[str, tuple[str, ...]] = {
    "name": (),
    "author": (),
    "family": (),
    "rank": get_args(Rank),
    "plant": tuple(PLANT),
    "unit": tuple(UNIT),
    "size": tuple(SIZE),
}
"""Topics that are one text, with the words that they may have."""
FIRST = (*ONE_LINE, "common_names", "dormancy", "storage", "treatments", "hazards", "cites")
"""Topics that stand open in the form; the others are unfolded."""
_KEY = re.compile(r"^([a-z_]+):(?:[ \t]+(.*))?$")
_NEEDED = ("name", "family", "rank", "plant", "unit")


class Topic(Struct, frozen=True):
    """One topic of the form: what it means, an invented example, and its words where it has any."""

    key: str
    says: str
    example: str
    choices: tuple[str, ...]
    line: bool
    needed: bool
    first: bool


TOPICS = tuple(
    Topic(
        one.key,
        one.says,
        "" if one.key in ONE_LINE else EXAMPLES[one.key].partition(":")[2].strip("\n ").replace("\n  ", "\n"),
        ONE_LINE.get(one.key, ()),
        one.key in ONE_LINE,
        one.key in _NEEDED,
        one.key in FIRST,
    )
    for one in fields_of(Record, KINDS)
    if one.key not in ("schema",)
)
"""Every topic in the order of the record format."""


class Written(Struct, frozen=True):
    """A record as text, and the line on which each topic begins."""

    text: str
    starts: Mapping[str, int]

    def topic_of(self, line: int | None) -> str:
        """The topic that a line belongs to; empty for none."""
        before = [key for key, start in self.starts.items() if line is not None and start <= line]
        return before[-1] if before else ""


def parted(text: str) -> dict[str, str]:
    """The topics of a record file, each as the form has it; ``head`` holds what stands before them."""
    found: dict[str, list[str]] = {"head": []}
    key = "head"
    for line in text.splitlines():
        begins = _KEY.match(line)
        if begins is not None:
            key = begins[1]
            found[key] = [begins[2] or ""]
        else:
            found[key].append(line)
    return {key: _shown(key, lines) for key, lines in found.items()}


def whole(said: Mapping[str, str]) -> Written:
    """The record file of a form; topics that are empty are left out."""
    lines = [line for line in said.get("head", "").splitlines() if line.startswith("#")]
    if said.get("schema", "").strip().isdecimal():
        lines.append(f"schema: {said['schema'].strip()}")
    starts = {}
    for topic in TOPICS:
        value = said.get(topic.key, "").replace("\r\n", "\n").strip("\n").rstrip()
        if value.strip():
            starts[topic.key] = len(lines) + 1
            lines += _told(topic, value)
    return Written("\n".join(lines) + "\n", starts)


def _shown(key: str, lines: list[str]) -> str:
    first, rest = lines[0] if lines else "", lines[1:]
    if key in ONE_LINE:
        return _plain(first)
    kept = [line for line in rest if line.strip()] if key != "head" else rest
    indents = [len(line) - len(line.lstrip(" ")) for line in kept if not line.startswith("#")]
    cut = min(indents, default=0)
    told = [line[cut:] if line[:cut].isspace() or not cut else line for line in kept]
    return "\n".join([*([first] if first else []), *told])


def _plain(value: str) -> str:
    """A scalar without its quotation marks, or a comment behind it."""
    value = value.strip()
    if value.startswith('"'):
        try:
            return str(json.JSONDecoder().raw_decode(value)[0])
        except ValueError:
            return value
    if value.startswith("'") and value.rfind("'") > 0:
        return value[1 : value.rfind("'")].replace("''", "'")
    return re.split(r"\s#", value)[0].strip()


def _told(topic: Topic, value: str) -> Iterable[str]:
    if topic.line:
        return [f"{topic.key}: {scalar(' '.join(value.split()))}"]
    lines = value.split("\n")
    if len(lines) == 1 and not re.match(r"- |[\w-]+:(\s|$)", value):
        return [f"{topic.key}: {value.strip()}"]
    if lines[0].lstrip()[:1] in ("{", "["):
        return [f"{topic.key}: {lines[0].strip()}", *(f"  {line}" for line in lines[1:])]
    return [f"{topic.key}:", *(f"  {line}" for line in lines)]
