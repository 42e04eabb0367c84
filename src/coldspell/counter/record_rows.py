"""What the library knows of a plant, row by row, with where each value comes from."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from coldspell.counter.record_words import topic, treatment
from coldspell.decide.knowledge import Knowledge
from coldspell.library.library import Library
from coldspell.library.references import reference
from coldspell.records.model import TOPICS, Cite, Record, Treatment

Row = tuple[str, str]


def record_head(record: Record) -> Iterator[Row]:
    """Names and kind."""
    yield "Name", f"{record.name} {record.author or ''}".strip()
    for language, names in record.common_names.items():
        yield f"Called ({language})", ", ".join(names)
    if record.synonyms:
        yield "Synonyms", ", ".join(record.synonyms)
    if record.taxon:
        ids = (record.taxon.wfo, f"GBIF {record.taxon.gbif}" if record.taxon.gbif else None)
        yield "Listed as", ", ".join(one for one in ids if one)
    size = f", {record.size}" if record.size else ""
    food = "; its seed is sold as food" if record.sold_as_food else ""
    yield "Kind", f"{record.rank}, {record.family}; {record.plant}; {record.unit}{size}{food}"
    yield "Record", record.path


class RecordRows:
    """The rows of a page; ``used`` collects the footnotes that stand on it, by the mark they have there."""

    def __init__(self, knowledge: Knowledge) -> None:
        self.knowledge = knowledge
        self.used: dict[str, Cite] = {}

    def marks(self, notes: tuple[str, ...], origin: Record | None = None) -> str:
        """Return footnotes as marks; those of the genus record carry its name."""
        record = origin or self.knowledge.record
        prefix = "" if origin is None else f"{origin.name}:"
        for note in notes:
            if note in record.cites:
                self.used.setdefault(f"[{prefix}{note}]", record.cites[note])
        return " ".join(f"[{prefix}{note}]" for note in notes)

    def treatments(self) -> Iterator[Row]:
        """Treatments in order of preference, what is not used, and the question of a mixed genus."""
        record = self.knowledge.record
        for number, (one, origin) in enumerate(self.knowledge.treatments(), 1):
            title = f"Treatment {number}" if record.treatments else "Treatment"
            yield from self._treatment(title, one, self._other(origin))
        for other in record.not_used:
            yield "Not used", f"{other.says} {self.marks(other.cite)} {other.because}"
        if record.asks:
            yield "Asks", f"{record.asks.question} {self.marks(record.asks.cite)}".strip()
            for answer in record.asks.answers:
                says = " ".join(part for part in (", ".join(answer.then), answer.says) if part)
                yield "", f"{answer.if_}: {says} {self.marks(answer.cite)}".strip()

    def _treatment(self, title: str, one: Treatment, origin: Record | None) -> Iterator[Row]:
        yield title, f"{treatment(one)} {self.marks(one.cite, origin)}{_from(origin)}"
        if one.percent is not None:
            yield "", f"germinated {topic(one.percent)} %"
        if one.hold is not None:
            yield "", f"may then wait: {topic(one.hold)} {self.marks(one.hold.cite, origin)}"
        if one.because:
            yield "", one.because

    def topics(self) -> Iterator[Row]:
        """One row a topic; a topic the record lacks comes from its genus record, where that is safe."""
        for name in TOPICS:
            found = self.knowledge.find(name)
            if found is not None:
                value, origin = found.value, self._other(found.record)
                yield _title(name), f"{topic(value)} {self.marks(value.cite, origin)}{_from(origin)}"

    def dangers(self) -> Iterator[Row]:
        """Hazards and law of the record and of its genus record."""
        for title, entries in (("Danger", self.knowledge.every_hazard()), ("Law", self.knowledge.law())):
            for entry, record in entries:
                origin = self._other(record)
                yield title, f"{topic(entry)} {self.marks(entry.cite, origin)}{_from(origin)}"

    def _other(self, record: Record | None) -> Record | None:
        """The record that a value came from, where it is not the one shown."""
        return None if record is self.knowledge.record else record


def _from(origin: Record | None) -> str:
    return f" (from the genus record {origin.name})" if origin else ""


def record_sources(library: Library, used: Mapping[str, Cite]) -> Iterator[Row]:
    """Each source once, with the footnotes that name it and where in it they point."""
    by_source: dict[str | None, list[tuple[str, Cite]]] = {}
    for mark, cite in used.items():
        by_source.setdefault(cite.source, []).append((mark, cite))
    for source, cites in by_source.items():
        item = library.bibliography.get(source) if source else None
        what = reference(item) if item else source or "Common practice, without a source."
        places = "; ".join(
            " ".join(part for part in (mark, cite.at, _basis(cite)) if part) for mark, cite in cites
        )
        yield "", f"{what} {places}"


def _basis(cite: Cite) -> str:
    return "" if cite.basis == "practice" else f"({cite.basis})"


def _title(name: str) -> str:
    titles = {"seed_mm": "Seed", "seeds_per_kg": "Seeds per kg", "filled_percent": "Filled (%)"}
    return titles.get(name, name.replace("_", " ").capitalize())
