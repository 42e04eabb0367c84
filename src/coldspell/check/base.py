"""What a check is given and what it says."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any, Literal

from coldspell.errors import Place
from coldspell.records.name import genus_of
from coldspell.records.poisonous import Poisonous
from coldspell.records.shape import quantity
from coldspell.yaml import document

KeyPath = tuple[str | int, ...]
"""Where a value stands in a record: keys and indices from the top."""
Severity = Literal["error", "warning"]


@dataclass(frozen=True, slots=True)
class Fault:
    """Something wrong at a path of a record; the check it belongs to is added by the caller."""

    path: KeyPath
    what: str
    mend: str
    other: Summary | None = None
    """The other record, where two have it between them: either may accept it, with a reason that names the
    other.
    """


@dataclass(frozen=True, slots=True)
class Finding:
    """One result of the check of a library, ready to be reported."""

    check: str
    severity: Severity
    what: str
    place: Place
    mend: str
    record: str = ""


@dataclass(frozen=True, slots=True)
class Summary:
    """What checks over the whole library need to know of one record; kept for every record."""

    name: str
    file: str
    rank: str
    family: str
    synonyms: tuple[str, ...]
    common_names: Mapping[str, tuple[str, ...]]
    hazards: frozenset[str]
    asked_names: tuple[str, ...]
    accept: Mapping[str, str]
    places: Mapping[KeyPath, tuple[int, int]]
    taxon: Mapping[str, str | int] = field(default_factory=dict)
    """Its ids in the open lists of names, by list."""

    @property
    def genus(self) -> str:
        """The first word of the name, without a hybrid sign."""
        return genus_of(self.name)

    def accepts(self, check: str, other: str = "") -> bool:
        """Say whether the record accepts a warning: of one shared with another record, by that one's name."""
        return check in self.accept and other in self.accept[check]

    def place(self, path: KeyPath) -> Place:
        """Return the place of one of the values that checks over the library look at."""
        return Place(self.file, *self.places.get(path, (0, 0)))


@dataclass(frozen=True, slots=True)
class Surroundings:
    """What a record is checked against: the types of the sources it may cite, and the day."""

    source_types: Mapping[str, str]
    today: date


@dataclass(frozen=True, slots=True)
class RecordFile:
    """A record that is valid by the schema: its nodes, its plain values and its file name."""

    file: str
    stem: str
    root: document.Node
    values: dict[str, Any]

    @property
    def name(self) -> str:
        """The accepted name."""
        return str(self.values["name"])

    def place(self, path: KeyPath) -> Place:
        """Return the place of a path, or of the nearest node above it that exists."""
        return document.place(document.at(self.root, path), self.file)

    def summary(self) -> Summary:
        """Return what checks over the whole library need."""
        values = self.values
        answers = values.get("asks", {}).get("answers", ())
        return Summary(
            name=values["name"],
            file=self.file,
            rank=values["rank"],
            family=values["family"],
            synonyms=tuple(values.get("synonyms", ())),
            common_names={lang: tuple(names) for lang, names in values.get("common_names", {}).items()},
            hazards=frozenset(hazard["kind"] for hazard in values.get("hazards", ())),
            asked_names=tuple(name for answer in answers for name in answer.get("then", ())),
            accept=values.get("accept", {}),
            places={path: (at.line, at.column) for path in self._compared() for at in [self.place(path)]},
            taxon=values.get("taxon", {}),
        )

    def _compared(self) -> Iterator[KeyPath]:
        yield from (("name",), ("family",), ("asks", "answers"))
        yield from (("synonyms", index) for index in range(len(self.values.get("synonyms", ()))))
        yield from (("taxon", name) for name in self.values.get("taxon", ()))
        yield from (("accept", name) for name in self.values.get("accept", ()))
        for language, names in self.values.get("common_names", {}).items():
            yield from (("common_names", language, index) for index in range(len(names)))


@dataclass(frozen=True, slots=True)
class Known:
    """All records by name: those checked, and those of the libraries around them; and what is poisonous."""

    checked: Mapping[str, list[Summary]]
    around: Mapping[str, Summary]
    poisonous: Mapping[str, Poisonous]
    asked: frozenset[str] = frozenset()
    """Files of which the faults are wanted, else those changed: of two that differ, the fault is theirs."""
    latest: str = ""
    """The file that was written last, where nothing better is known; it only decides between two."""

    def find(self, name: str) -> Summary | None:
        """Return the record of that name, checked ones first."""
        own = self.checked.get(name)
        return own[0] if own else self.around.get(name)

    def all(self) -> Iterator[Summary]:
        """Yield the checked records by name, those that are asked about last: they meet what stands."""
        every = [record for name in sorted(self.checked) for record in self.checked[name]]
        yield from sorted(every, key=lambda record: record.file in self.asked or record.file == self.latest)

    def at_fault(self, record: Summary) -> bool:
        """Say whether a fault that another record may have as well is to be told at this one."""
        return record.file in (self.asked or {self.latest or record.file})


RecordCheck = Callable[[RecordFile, Surroundings], Iterable[Fault]]
LibraryCheck = Callable[[Known], Iterable[tuple[Summary, Fault]]]


@dataclass(frozen=True, slots=True)
class Check:
    """A row of the table of checks; ``record`` or ``library`` is given, neither for reading."""

    id: str
    severity: Severity
    says: str
    mend: str
    record: RecordCheck | None = None
    library: LibraryCheck | None = None


def ends(value: Any) -> tuple[float, float]:
    """Return the low and high end of a quantity as written."""
    found = quantity(value)
    return found.low, found.high


def shown(value: Any) -> str:
    """Return a quantity as text."""
    low, high = ends(value)
    return f"{low:g}" if low == high else f"{low:g} to {high:g}"


def footnotes(value: Any) -> list[str]:
    """Return the footnotes of a ``cite`` as a list."""
    return value if isinstance(value, list) else [value]


def steps(values: dict[str, Any]) -> Iterator[tuple[KeyPath, dict[str, Any], dict[str, Any]]]:
    """Yield (path, treatment, step) of every step of every treatment."""
    for number, treatment in enumerate(values.get("treatments", ())):
        for index, step in enumerate(treatment["steps"]):
            yield ("treatments", number, "steps", index), treatment, step
