"""What is plausible in a record: the numbers of ``limits.yaml``, which say why they are what they are."""

from __future__ import annotations

from functools import cache
from importlib import resources

from msgspec import Struct, convert

from coldspell.yaml import document

Span = tuple[float, float]
_FILE = "limits.yaml"


class FieldLimit(Struct, frozen=True, forbid_unknown_fields=True):
    """Limits of one field of records; None: none. See the head of the file for what each key means."""

    field: str
    because: str
    do: tuple[str, ...] = ()
    least: float | None = None
    most: float | None = None
    wide: float | None = None
    from_zero: float | None = None
    span: float | None = None


class Moist(Struct, frozen=True, forbid_unknown_fields=True):
    """Degrees Celsius of a moist step: the usual range, and limits beyond which it is another step."""

    usual: Span
    limits: Span


class Limits(Struct, frozen=True, forbid_unknown_fields=True):
    """All of them."""

    fields: tuple[FieldLimit, ...]
    cold: Moist
    warm: Moist
    hold: Span
    warmest: float
    recalcitrant_dry_percent: float
    size_mm: dict[str, Span]
    size_per_kg: dict[str, Span]
    heaviest: float
    lightest: dict[str, float]
    lightest_winged: float
    shortest_days: dict[str, float]
    cover_mm: dict[str, Span]
    no_place: frozenset[str]
    work_years_from: int
    permitting_words: tuple[str, ...]
    trained_words: tuple[str, ...]


@cache
def limits() -> Limits:
    """The limits, read once."""
    text = resources.files("coldspell.check").joinpath(_FILE).read_text("utf-8")
    return convert(document.plain(document.parse(text, _FILE)), Limits)
