"""What the library knows of a kind, topic by topic, and which record each topic came from."""

from __future__ import annotations

import re
from collections.abc import Callable, Hashable
from datetime import date
from typing import Any, Literal, TypeVar

from msgspec import Struct

from coldspell.decide.practice import Practice
from coldspell.library.names import Found
from coldspell.records.model import TOPICS, AskAnswer, Asks, Hazard, Law, Quantity, Record, Step, Treatment

T = TypeVar("T")
KnownBy = Literal["species", "genus", "kin", "nothing"]
Follows = Literal["record", "genus", "relatives", "nobody"]

PRACTICE = "common practice"
OF_RELATIVES = "practice of relatives"
_NOT_YET: Any = object()
_ALWAYS_SHARED = ("killed_by", "live_seed", "bulk", "handling")


def three_months(practice: Practice, because: str) -> Treatment:
    """The practice for hardy nuts and tree fruit of which nothing better is known; the rules say why."""
    low, usual, high = practice.three_months_days
    return Treatment(
        name="three-months-cold",
        steps=(
            Step("cold_moist", days=Quantity(low, high, usual), celsius=Quantity(*practice.cold_celsius)),
        ),
        cite=(),
        because=because,
    )


class Season(Struct, frozen=True):
    """The day of gathering, and the answers to the question of a mixed genus that ripen then."""

    day: date
    answers: tuple[AskAnswer, ...]


def _parts(hazard: Hazard) -> frozenset[str]:
    """The parts of the plant that a hazard names, as bare words."""
    words = re.findall(r"[a-z]{4,}", (hazard.part or "").casefold())
    return frozenset(word.rstrip("s") for word in words)


def _told(hazard: Hazard, kind: str, to: str, parts: frozenset[str]) -> bool:
    """Whether a hazard of the genus is one that the species tells itself: same kind, same parts."""
    theirs = _parts(hazard)
    shared = 2 * len(theirs & parts) >= len(theirs)
    return hazard.kind == kind and hazard.to == to and shared and bool(theirs or not hazard.says)


class Topic(Struct, frozen=True):
    """A value of a record, and the record (``None``: common practice)."""

    value: Any
    record: Record | None


class Knowledge:
    """The record asked for, filled up from its genus record where that is safe.

    A topic comes from the species record; else from the genus record, unless the genus is mixed (it asks a
    question: then only hazards, law and what its seed is like are taken from it). Hazards are always the
    union of both.
    ``found`` says how the name was meant by which it was asked for.

    Of a kind that has no record (``on_record``), ``record`` is a stand-in with its name and little else,
    ``relatives`` are the species of its genus on record, and ``follows`` says whose practice is followed.
    ``season`` is set where the day of gathering answers the question of a mixed genus.
    """

    def __init__(
        self,
        record: Record,
        genus: Record | None,
        fallback: Treatment | None = None,
        *,
        relatives: tuple[Record, ...] = (),
        on_record: bool = True,
        follows: Follows = "record",
        found: Found | None = None,
        season: Season | None = None,
    ) -> None:
        self.record = record
        self.found = found or Found(record, record.name)
        self.genus = None if genus is None or genus.name == record.name else genus
        self.fallback = fallback
        self.relatives = relatives
        self.on_record = on_record
        self.follows = follows
        self.season = season
        self._kept: dict[Hashable, Any] = {}

    def once(self, what: Hashable, make: Callable[[], T]) -> T:
        """What follows from the kind and what is named in ``what``, worked out once for all of its lots."""
        if what not in self._kept:
            self._kept[what] = make()
        found: T = self._kept[what]
        return found

    def with_fallback(self, treatment: Treatment) -> Knowledge:
        """The same with a treatment of common practice, for a kind of which none is on record."""
        return Knowledge(self.record, self.genus, treatment, relatives=self.relatives, found=self.found)

    def following(self, follows: Follows, treatment: Treatment | None = None) -> Knowledge:
        """The same kind, whose own record is lacking, with that whose practice stands in for it."""
        known = Knowledge(
            self.record,
            self.genus,
            treatment,
            relatives=self.relatives,
            on_record=False,
            follows=follows,
            found=self.found,
        )
        return known

    def in_season(
        self, season: Season, record: Record, relatives: tuple[Record, ...], treatment: Treatment
    ) -> Knowledge:
        """The same genus without its question, which the day of gathering answers."""
        return Knowledge(
            record,
            None,
            treatment,
            relatives=relatives,
            follows="relatives",
            found=self.found,
            season=season,
        )

    @property
    def asks(self) -> Asks | None:
        """The question of its genus, where that needs opposite things and the species is not on record."""
        if self.on_record:
            return self.record.asks if self.record.rank == "genus" else None
        return self.genus.asks if self.genus is not None else None

    @property
    def mixed(self) -> bool:
        """Whether only the genus was named, and its species need opposite things."""
        return self.on_record and self.asks is not None

    @property
    def known_by(self) -> KnownBy:
        """By whose record the kind is known."""
        if self.on_record:
            return "genus" if self.record.rank == "genus" else "species"
        if self.follows == "genus":
            return "genus"
        return "kin" if self.follows == "relatives" else "nothing"

    def find(self, topic: str) -> Topic | None:
        """The value of a topic and the record it stands in; ``None`` when nobody says."""
        found: Topic | None = self._kept.get(topic, _NOT_YET)
        if found is _NOT_YET:
            found = self._kept[topic] = self._find(topic)
        return found

    def _find(self, topic: str) -> Topic | None:
        value = getattr(self.record, topic)
        if value is not None and value != ():
            return Topic(value, self.record)
        genus = self.genus
        if genus is not None and (genus.asks is None or topic in _ALWAYS_SHARED):
            value = getattr(genus, topic)
            if value is not None and value != ():
                return Topic(value, genus)
        return None

    def value(self, topic: str) -> Any:
        """The bare value of a topic, or ``None``."""
        found = self.find(topic)
        return None if found is None else found.value

    def treatments(self) -> tuple[tuple[Treatment, Record | None], ...]:
        """Candidates in order of preference, each with its record; the three-month practice when allowed."""
        return self.once("candidates", self._treatments)

    def _treatments(self) -> tuple[tuple[Treatment, Record | None], ...]:
        found = self._own_treatments()
        if found is not None:
            return tuple((t, found.record) for t in found.value)
        return ((self.fallback, None),) if self.fallback else ()

    def _own_treatments(self) -> Topic | None:
        return None if self.follows in ("relatives", "nobody") else self.find("treatments")

    def known(self) -> Literal["species", "genus", "relatives", "fallback", "nothing"]:
        """Where the treatments come from, in the words of the fact ``known``."""
        found = self._own_treatments()
        if found is None:
            if self.follows == "relatives":
                return "relatives"
            return "fallback" if self.fallback else "nothing"
        return "genus" if found.record is not None and found.record.rank == "genus" else "species"

    @property
    def stands_in(self) -> str:
        """What stands in for a treatment that no record has."""
        return OF_RELATIVES if self.follows == "relatives" else PRACTICE

    def hazards(self) -> tuple[tuple[Hazard, Record], ...]:
        """Hazards of the species, and those of its genus that say more."""
        return self.once("own hazards", self._hazards)

    def _hazards(self) -> tuple[tuple[Hazard, Record], ...]:
        if not self.on_record:
            return self._of_relatives()
        own = [(h.kind, h.to, _parts(h)) for h in self.record.hazards]
        return tuple(
            (h, record)
            for h, record in self.every_hazard()
            if record is self.record or not any(_told(h, *one) for one in own)
        )

    def _of_relatives(self) -> tuple[tuple[Hazard, Record], ...]:
        """Hazards of the genus and of its species on record, one for each kind and whom it harms."""
        first: dict[tuple[str, str], tuple[Hazard, Record]] = {}
        for hazard, record in self.every_hazard():
            first.setdefault((hazard.kind, hazard.to), (hazard, record))
        return tuple(first.values())

    def every_hazard(self) -> tuple[tuple[Hazard, Record], ...]:
        """Hazards of the species and of its genus with all that either says; only equal ones are left out."""
        return self._union("hazards", lambda h: (h.kind, h.to, h.part, h.says))

    def law(self) -> tuple[tuple[Law, Record], ...]:
        """Notes on the law of the species and of its genus, without repeats."""
        return self._union("law", lambda entry: (entry.place, entry.says))

    def _union(self, topic: str, key: Any) -> tuple[Any, ...]:
        seen: dict[Any, Any] = {}
        others = () if self.on_record and self.season is None else self.relatives
        for record in (self.record, self.genus, *others):
            if record is not None:
                for entry in getattr(record, topic):
                    seen.setdefault(key(entry), (entry, record))
        return tuple(seen.values())

    def sources_of_topics(self) -> dict[str, str]:
        """For each topic that is known, the path of the record it came from."""
        paths = {}
        for topic in ("treatments", "not_used", *TOPICS, "size"):
            found = self._own_treatments() if topic == "treatments" else self.find(topic)
            if found is not None and found.record is not None and found.record.path:
                paths[topic] = found.record.path
        if "treatments" not in paths and self.fallback:
            paths["treatments"] = self.stands_in
        return paths
