"""Compare two versions of a library, record by record and topic by topic."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from coldspell.library.library import Library
from coldspell.records.model import Record

# What changes for the person who asks: everything but bookkeeping.
_SILENT = frozenset({"path", "schema", "accept", "cites"})
_SOURCES = "sources"


@dataclass(frozen=True, slots=True)
class Change:
    """One topic of one record that differs."""

    record: str
    topic: str
    old: Any
    new: Any


@dataclass(frozen=True, slots=True)
class Difference:
    """What differs between two libraries."""

    added: tuple[str, ...]
    removed: tuple[str, ...]
    changes: tuple[Change, ...]


Compare = Callable[[Record, Record], list[Change]]


def compare_topics(old: Record, new: Record) -> list[Change]:
    """Return the topics in which two versions of a record differ; footnotes count as one topic."""
    changes = [
        Change(new.name, topic, getattr(old, topic), getattr(new, topic))
        for topic in Record.__struct_fields__
        if topic not in _SILENT and getattr(old, topic) != getattr(new, topic)
    ]
    if not changes and old.cites != new.cites:
        changes.append(Change(new.name, _SOURCES, old.cites, new.cites))
    return changes


def difference(old: Library, new: Library, compare: Compare = compare_topics) -> Difference:
    """Compare two libraries.

    Parameters
    ----------
    old, new
        The libraries.
    compare
        What is compared of a record that stands in both: its topics, or what is made of it.
    """
    before, after = set(old.names), set(new.names)
    changes: list[Change] = []
    for name in sorted(before & after):
        changes += compare(old.get(name), new.get(name))
    return Difference(tuple(sorted(after - before)), tuple(sorted(before - after)), tuple(changes))
