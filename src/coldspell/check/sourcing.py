"""Checks of footnotes: that every value says who says so, and says it of something that exists."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from typing import Any

from coldspell.check.base import Fault, KeyPath, RecordFile, Surroundings, footnotes
from coldspell.check.limits import limits
from coldspell.near import did_you_mean

_NEED_PLACE = frozenset({"book", "report", "thesis"})
_STALE_DAYS = 2 * 365


def cited(value: Any, path: KeyPath = ()) -> Iterator[tuple[KeyPath, str]]:
    """Yield (path, footnote) for every footnote that a record cites."""
    if isinstance(value, dict):
        for key, item in value.items():
            if key == "cite":
                for note in footnotes(item):
                    yield (*path, "cite"), note
            elif key not in ("cites", "accept", "common_names", "when"):
                yield from cited(item, (*path, key))
    elif isinstance(value, list):
        for index, item in enumerate(value):
            if isinstance(item, (dict, list)):
                yield from cited(item, (*path, index))


def unknown_footnote(record: RecordFile, around: Surroundings) -> Iterator[Fault]:
    """A ``cite`` names a footnote that is not under ``cites``."""
    known = record.values.get("cites", {})
    for path, note in cited(record.values):
        if note not in known:
            mend = did_you_mean(note, known, f"Add '{note}: {{source: …, basis: …}}' under cites.")
            yield Fault(path, f"there is no footnote '{note}' under cites", mend)


def unused_footnote(record: RecordFile, around: Surroundings) -> Iterator[Fault]:
    """A footnote that nothing cites."""
    used = {note for _, note in cited(record.values)}
    for note in record.values.get("cites", {}):
        if note not in used:
            yield Fault(("cites", note), f"nothing cites the footnote '{note}'", "Take it out, or cite it.")


def unknown_source(record: RecordFile, around: Surroundings) -> Iterator[Fault]:
    """A footnote names a source that is not in the bibliography."""
    for note, footnote in record.values.get("cites", {}).items():
        source = footnote.get("source")
        if source is not None and source not in around.source_types:
            mend = did_you_mean(source, around.source_types, "Add the source to bibliography.yaml.")
            yield Fault(("cites", note, "source"), f"the source '{source}' is not in the bibliography", mend)


def basis_without_source(record: RecordFile, around: Surroundings) -> Iterator[Fault]:
    """A footnote that was read or recalled, but from nothing."""
    for note, footnote in record.values.get("cites", {}).items():
        if footnote["basis"] != "practice" and "source" not in footnote:
            what = f"the footnote '{note}' is {footnote['basis']}, but names no source"
            yield Fault(("cites", note), what, "Name the source, or write 'basis: practice'.")


def practice_with_source(record: RecordFile, around: Surroundings) -> Iterator[Fault]:
    """A footnote for common practice that names a source all the same."""
    for note, footnote in record.values.get("cites", {}).items():
        if footnote["basis"] == "practice" and "source" in footnote:
            what = f"the footnote '{note}' is common practice, but names a source"
            mend = "Write 'basis: read' or 'basis: recalled', or take the source out."
            yield Fault(("cites", note, "source"), what, mend)


def read_without_place(record: RecordFile, around: Surroundings) -> Iterator[Fault]:
    """A value read in a book, report or thesis without saying where in it."""
    for note, footnote in record.values.get("cites", {}).items():
        if footnote["basis"] != "read" or "at" in footnote:
            continue
        kind = around.source_types.get(footnote.get("source", ""), "")
        if kind in _NEED_PLACE:
            what = f"the footnote '{note}' was read in a {kind}, but does not say where in it"
            yield Fault(("cites", note), what, "Add 'at:' with the page or table. Never guess one.")


def thin_sourcing(record: RecordFile, around: Surroundings) -> Iterator[Fault]:
    """No treatment of the record rests on a source that was read."""
    treatments = record.values.get("treatments", ())
    bases = [_bases(record, treatment["cite"]) for treatment in treatments]
    if treatments and not any("read" in each for each in bases):
        what = "no treatment rests on a source that was read"
        yield Fault(("treatments",), what, "Find a source, or accept this with the reason.")


def recalled_against_read(record: RecordFile, around: Surroundings) -> Iterator[Fault]:
    """The preferred treatment is recalled, while one that was read stands further down or is not used."""
    treatments = record.values.get("treatments", ())
    if not treatments or _bases(record, treatments[0]["cite"]) != {"recalled"}:
        return
    others = [*treatments[1:], *record.values.get("not_used", ())]
    if any("read" in _bases(record, other["cite"]) for other in others):
        what = "the first treatment is recalled from memory, while another was read"
        yield Fault(("treatments", 0, "cite"), what, "Prefer what was read, or accept this with the reason.")


def _bases(record: RecordFile, cite: Any) -> set[str]:
    known = record.values.get("cites", {})
    return {known[note]["basis"] for note in footnotes(cite) if note in known}


def law_says_allowed(record: RecordFile, around: Surroundings) -> Iterator[Fault]:
    """A note on law that gives permission: laws change, and the tool cannot permit anything."""
    for index, law in enumerate(record.values.get("law", ())):
        words = law["says"].lower()
        for word in limits().permitting_words:
            if word in words and f"not {word}" not in words and f"only {word}" not in words:
                what = f"a note on law says '{word}'"
                mend = (
                    "Say what is regulated and that one should ask locally; never that something is allowed."
                )
                yield Fault(("law", index, "says"), what, mend)


def law_about_nothing(record: RecordFile, around: Surroundings) -> Iterator[Fault]:
    """A note on law that does not say what is regulated, for those who live elsewhere: they read it alone."""
    for index, law in enumerate(record.values.get("law", ())):
        if "about" not in law:
            mend = "Write 'about: growing', moving, collecting or border (a key of schema 2)."
            yield Fault(("law", index), "this note on law does not say what it is about", mend)


def law_checked_later(record: RecordFile, around: Surroundings) -> Iterator[Fault]:
    """A note on law that was looked up on a day to come."""
    tomorrow = (around.today + timedelta(days=1)).isoformat()  # somewhere it is tomorrow already
    for index, note in enumerate(record.values.get("law", ())):
        if note["checked"] > tomorrow:
            what = f"looked up on {note['checked']}, which is yet to come"
            yield Fault(("law", index, "checked"), what, "Write the day on which it was looked up.")


def stale_law(record: RecordFile, around: Surroundings) -> Iterator[Fault]:
    """A note on law that nobody has looked at for two years, or with a date that does not exist."""
    for index, law in enumerate(record.values.get("law", ())):
        path = ("law", index, "checked")
        try:
            age = (around.today - date.fromisoformat(law["checked"])).days
        except ValueError:
            yield Fault(path, f"{law['checked']} is not a day of the calendar", "Write year-month-day.")
            continue
        if age > _STALE_DAYS:
            yield Fault(path, f"last checked {law['checked']}, over two years ago", "Look it up again.")
