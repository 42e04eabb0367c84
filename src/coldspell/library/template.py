"""Write the first version of a record: what is known filled in, everything else as a commented example."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from coldspell.records.examples import commented
from coldspell.records.model import Record
from coldspell.records.terms import SIZE

_HEAD = "# yaml-language-server: $schema=../../docs/schemas/record-2.json"
_PLAIN = re.compile(r"[A-Za-z×][\w×.()\-–' /]*")
_KEEP = frozenset({"null", "true", "false", "~"})


@dataclass(frozen=True, slots=True)
class Moist:
    """A moist treatment as given on the command line: days warm, days cold, opened first or not."""

    warm_days: tuple[float, ...] = ()
    cold_days: tuple[float, ...] = ()
    scarify: bool = False

    @property
    def name(self) -> str:
        """A name for the treatment, in words with hyphens."""
        parts = [word for word, has in (("scarify", self.scarify), ("warm", self.warm_days)) if has]
        parts += ["cold"] if self.cold_days else []
        return "-then-".join(parts) or "no-pretreatment"


@dataclass(frozen=True, slots=True)
class Draft:
    """What is known of a plant when its record is begun."""

    name: str
    family: str
    plant: str
    unit: str
    rank: str = "species"
    author: str = ""
    size: str = ""
    common_names: Mapping[str, Sequence[str]] = field(default_factory=dict)
    treatment: Moist | None = None
    source: str = ""
    at: str = ""
    basis: str = "practice"
    genus: Record | None = None


def write_record(draft: Draft, *, hint: bool = True) -> str:
    """Return the text of a new record file.

    Parameters
    ----------
    hint
        Whether an editor is told that the schema lies beside the library, as in the repository. Elsewhere
        the line would be an error in the editor, and keep it from the schema that its settings name.
    """
    lines = [
        *([_HEAD] if hint else []),
        "# Only what a source says, each with its footnote. Lines with # are examples: fill in or delete.",
        "schema: 2",
        f"name: {scalar(draft.name)}",
        f"author: {scalar(draft.author)}" if draft.author else commented("author"),
        f"family: {scalar(draft.family)}",
        f"rank: {draft.rank}",
        _names(draft),
        commented("synonyms"),
        f"plant: {scalar(draft.plant)}",
        f"unit: {scalar(draft.unit)}",
        *_size(draft),
        *_genus_says(draft.genus),
        *_treatments(draft),
        *(commented(topic) for topic in _AFTER_TREATMENTS),
        *_cites(draft),
    ]
    return "\n".join(lines) + "\n"


def scalar(text: str) -> str:
    """Return a text as a YAML scalar, quoted where it must be."""
    if _PLAIN.fullmatch(text) and text == text.strip() and text.casefold() not in _KEEP:
        return text
    return json.dumps(text, ensure_ascii=False)


def _names(draft: Draft) -> str:
    if not draft.common_names:
        return commented("common_names")
    each = (
        f"{language}: [{', '.join(scalar(name) for name in names)}]"
        for language, names in draft.common_names.items()
    )
    return f"common_names: {{{', '.join(each)}}}"


def _size(draft: Draft) -> Iterable[str]:
    classes = " | ".join(
        f"{word}: {says.partition(':')[0].rstrip('.').lower()}" for word, says in SIZE.items()
    )
    note = f"# {classes}"
    yield f"size: {draft.size}    {note}" if draft.size else f"{commented('size')}    {note}"
    yield f"{commented('sold_as_food')}    # the seed itself is sold to be eaten: it may have been heated"
    yield commented("seed_mm")
    yield f"{commented('seeds_per_kg')}    # [low, high] or [low, usual, high]"
    yield from (commented(topic) for topic in ("bulk", "handling", "filled_percent", "live_seed"))


def _genus_says(genus: Record | None) -> Iterable[str]:
    if genus is None:
        return
    yield f"# The genus record {genus.name} ({genus.path}) says, and fills in what this record leaves out:"
    if genus.asks:
        taken = "Only its hazards, limits and what its seed is like are taken over."
        yield f"#   it is mixed and asks: {genus.asks.question} {taken}"
        return
    for label, value in (("storage", genus.storage), ("dormancy", genus.dormancy)):
        word = getattr(value, "behaviour", None) or getattr(value, "class_", None)
        if word:
            yield f"#   {label}: {word}"
    for one in genus.treatments:
        yield f"#   treatment {one.name}: {', '.join(step.do for step in one.steps)}"
    for hazard in genus.hazards:
        yield f"#   hazard: {hazard.kind} to {hazard.to}"


def _treatments(draft: Draft) -> Iterable[str]:
    yield from (commented(topic) for topic in ("storage", "dormancy"))
    one = draft.treatment
    if one is None:
        yield from _GENUS_TREATMENTS if draft.rank == "genus" else _NO_TREATMENT
        return
    yield "treatments:    # in order of preference; the first that suits the lot is used"
    yield f"  - name: {one.name}"
    yield "    # when: {moisture: fresh}    # leave out if it suits any lot"
    yield "    steps:"
    yield from (f"      - {{{step}}}" for step in _steps(one))
    yield "    cite: first"
    yield "    # because: one line in your own words: why this one, what percentage it gave"
    yield "    # hold: {days: 60, celsius: [0, 2], cite: note}    # how long it may wait; never guessed"


_GENUS_TREATMENTS = ("# treatments: only what holds for every species; a mixed genus has 'asks' instead.",)
_NO_TREATMENT = (
    "# A treatment is needed for fresh and for dried lots; where nothing is needed, it is {do: sow}.",
    "# treatments:",
    "#   - {name: cold, steps: [{do: cold_moist, days: [60, 90]}], cite: first, because: why this one}",
)


def _steps(one: Moist) -> Iterable[str]:
    if one.scarify:
        yield "do: scarify_mechanical"
    if one.warm_days:
        yield f"do: warm_moist, days: {_quantity(one.warm_days)}"
    if one.cold_days:
        yield f"do: cold_moist, days: {_quantity(one.cold_days)}"
    if not (one.scarify or one.warm_days or one.cold_days):
        yield "do: sow"


def _quantity(numbers: Sequence[float]) -> str:
    words = [f"{number:g}" for number in numbers]
    return words[0] if len(words) == 1 else f"[{', '.join(words)}]"


_AFTER_TREATMENTS = (
    "not_used", "germination", "emergence", "sowing", "harvest", "killed_by", "hazards", "offspring", "law",
)  # fmt: skip


def _cites(draft: Draft) -> Iterable[str]:
    yield "# A footnote was read (it stood there), recalled (from memory of it) or is practice (no source)."
    if draft.treatment is None:
        yield f"# cites: {{first: {{{_footnote(draft)}}}}}"
        return
    yield "cites:"
    yield f"  first: {{{_footnote(draft)}}}"


def _footnote(draft: Draft) -> str:
    parts = {"source": draft.source, "at": draft.at, "basis": draft.basis}
    return ", ".join(f"{key}: {scalar(value)}" for key, value in parts.items() if value)
