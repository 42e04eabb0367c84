"""Find records by words and by what they are: ranked, and forgiving of misspelling."""

from __future__ import annotations

from dataclasses import dataclass

from coldspell.library.fold import fold, singular
from coldspell.library.library import Library
from coldspell.records.model import Record
from coldspell.records.name import genus_of


@dataclass(frozen=True, slots=True)
class Wanted:
    """What a record must be; ``None`` where it does not matter."""

    family: str | None = None
    genus: str | None = None
    plant: str | None = None
    dormancy: str | None = None
    month: int | None = None

    def holds(self, record: Record) -> bool:
        """Say whether a record is what is wanted."""
        dormancy = record.dormancy.class_ if record.dormancy else None
        return (
            (self.family is None or record.family.casefold() == self.family.casefold())
            and (self.genus is None or genus_of(record.name).casefold() == self.genus.casefold())
            and (self.plant is None or record.plant == self.plant)
            and (self.dormancy is None or dormancy == self.dormancy)
            and (self.month is None or ripe_in(record, self.month))
        )


@dataclass(frozen=True, slots=True)
class Hit:
    """A record found; ``score`` runs from 0 to 100, ``name`` is the name that fitted best."""

    record: Record
    name: str
    score: float


def ripe_in(record: Record, month: int) -> bool:
    """Say whether seed is gathered in a month (1 to 12, northern hemisphere); months may wrap."""
    if record.harvest is None or record.harvest.months is None:
        return False
    first, last = record.harvest.months
    return first <= month <= last if first <= last else month >= first or month <= last


def search(library: Library, text: str, wanted: Wanted, limit: int) -> list[Hit]:
    """Return the best hits, best first; without a text, every record that is wanted, by name.

    A name that is the text scores 100, one that begins with it or holds it a little less; other names
    are ranked by similarity of spelling.
    """
    if not fold(text):
        every = (library.get(name) for name in library.names)
        return [Hit(record, record.name, 100) for record in every if wanted.holds(record)][:limit]
    best: dict[str, Hit] = {}
    for key, score in _scores(library, text):
        for entry in library.index[key]:
            known = best.get(entry.record)
            if known is None or score > known.score:
                best[entry.record] = Hit(library.get(entry.record), entry.printed, score)
    hits = [hit for hit in best.values() if wanted.holds(hit.record)]
    return sorted(hits, key=lambda hit: (-hit.score, hit.record.rank != "genus", hit.record.name))[:limit]


def _scores(library: Library, text: str) -> list[tuple[str, float]]:
    from rapidfuzz import fuzz, process

    query = fold(text)
    one = singular(query)
    forms = {query, one}
    scores: dict[str, float] = {}
    for key in [key for key in library.index if query in key or one in key]:
        if key in forms:
            scores[key] = 100
        elif any(key.startswith(form + " ") for form in forms):
            scores[key] = 97
        elif any(key.endswith(" " + form) or f" {form} " in key for form in forms):
            scores[key] = 95
        elif any(key.startswith(form) for form in forms if len(form) >= 3):
            scores[key] = 93
    for key, score, _ in process.extract(
        query, list(library.index), scorer=fuzz.ratio, limit=200, score_cutoff=72
    ):
        scores[str(key)] = max(scores.get(str(key), 0), min(score, 92))
    return list(scores.items())
