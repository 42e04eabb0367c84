"""The table of checks: each has an id in words, a severity, what it finds and how that is mended."""

from __future__ import annotations

from coldspell.check import beyond, places, plausible, seed, sourcing, sown, told, treatments, version, whole
from coldspell.check.base import Check, LibraryCheck, RecordCheck, Severity

UNREADABLE = Check(
    "unreadable",
    "error",
    "A file that is not plain YAML: too large, not UTF-8, tabs, aliases, repeated keys, broken syntax.",
    "The message says where and what; nothing else of the file is checked until it reads.",
)
SCHEMA = Check(
    "schema",
    "error",
    "What the record format does not allow: unknown key, wrong type, number out of bounds, unlisted word.",
    "The message names the nearest key or word; the format is docs/schemas/record-2.json.",
)
BIBLIOGRAPHY = Check(
    "bibliography",
    "error",
    "A bibliography that is not CSL data, not sorted by id, or holds an id twice.",
    "Items are checked by docs/schemas/csl-data-1.json.",
)
POISONOUS = Check(
    "poisonous",
    "error",
    "An entry of poisonous.yaml that names no plant or two, one that stands twice, or a source nobody knows.",
    "An entry gives genus or species, kind, to and cite; it is checked by docs/schemas/poisonous-1.json.",
)
UNKNOWN_ACCEPT = Check(
    "accept-unknown-check",
    "error",
    "A record accepts a check that does not exist, or that is an error and cannot be accepted.",
    "Only the warnings of this list can be accepted.",
)
NEEDLESS_ACCEPT = Check(
    "accept-without-cause",
    "error",
    "A record accepts a warning that it does not give.",
    "Take the line out.",
)

READING = (UNREADABLE, SCHEMA, BIBLIOGRAPHY, POISONOUS, UNKNOWN_ACCEPT, NEEDLESS_ACCEPT)


def _says(function: RecordCheck | LibraryCheck) -> tuple[str, str]:
    """Return id and description of a check: its name and the first line of its docstring."""
    return function.__name__.replace("_", "-"), (function.__doc__ or "").strip().split("\n")[0]


def _record(severity: Severity, function: RecordCheck, mend: str) -> Check:
    name, says = _says(function)
    return Check(name, severity, says, mend, record=function)


def _library(severity: Severity, function: LibraryCheck, mend: str) -> Check:
    name, says = _says(function)
    return Check(name, severity, says, mend, library=function)


RECORD_CHECKS = (
    _record("error", seed.file_name, "Rename the file to the lower-case name with hyphens (× becomes x)."),
    _record("error", seed.range_order, "Write [low, high] or [low, usual, high]."),
    _record("error", version.key_newer_than_schema, "Write 'schema: 2', or let --fix do it."),
    _record("error", sourcing.unknown_footnote, "Correct the footnote's name, or add it under cites."),
    _record("error", sourcing.unused_footnote, "Take it out, or cite it."),
    _record("error", sourcing.unknown_source, "Add the source to bibliography.yaml, or correct its id."),
    _record("error", sourcing.basis_without_source, "Name the source, or write 'basis: practice'."),
    _record(
        "error", sourcing.practice_with_source, "Write how it was used (read, recalled), or drop the source."
    ),
    _record("error", sourcing.read_without_place, "Add 'at:' with page or table, never guessed."),
    _record("error", places.pages_backwards, "Write the lower page first, as in the source."),
    _record("error", places.place_says_nothing, "Name page, table, chapter or heading, or write 'recalled'."),
    _record("error", treatments.no_treatment_for_a_moisture, "Add a treatment, or widen the 'when' of one."),
    _record("error", treatments.treatment_name_twice, "Give each treatment its own name."),
    _record(
        "error", treatments.step_not_usable, "Add what is missing from a source, or leave the treatment out."
    ),
    _record("error", treatments.unknown_condition, "Use only the facts of a lot that docs/records.md lists."),
    _record(
        "error", treatments.cold_outside_limits, "Check the number; outside the limits it is another step."
    ),
    _record(
        "error", treatments.warm_outside_limits, "Check the number; outside the limits it is another step."
    ),
    _record("error", treatments.hold_outside_limits, "Check the number."),
    _record("error", treatments.physical_without_scarification, "Add a step that opens the coat."),
    _record("error", treatments.mixed_genus_with_treatments, "Take the treatments out of the genus record."),
    _record("error", sown.degrees_in_words, "Write them as 'celsius:' of the step, or limits under sowing."),
    _record("error", sown.sown_twice, "Take it out of the note, or correct the field."),
    _record(
        "error",
        told.told_in_words,
        "Write the field: 'gloves' of a hazard, 'says_sexes' of offspring, 'trained' of what is not used.",
    ),
    _record("error", beyond.limits_crossed, "Correct one of the two numbers."),
    _record("error", sourcing.law_checked_later, "Write the day on which it was looked up."),
    _record("error", seed.recalcitrant_dried, "Correct the storage behaviour, or what is done."),
    _record("error", sourcing.law_says_allowed, "Say what is regulated; end with 'ask locally'."),
    _record("warning", sourcing.law_about_nothing, "Write what is regulated: growing, moving, …"),
    _record("warning", sourcing.stale_law, "Look the law up again and write the new date."),
    _record(
        "warning", treatments.cold_outside_usual_range, "Check the source, or accept it with the reason."
    ),
    _record(
        "warning", treatments.warm_outside_usual_range, "Check the source, or accept it with the reason."
    ),
    _record("warning", treatments.none_with_cold_required, "Correct the class or the need."),
    _record("warning", treatments.hold_from_range, "Keep a hold only where the source speaks of holding."),
    _record("warning", seed.size_against_numbers, "Correct size or numbers."),
    _record("warning", seed.unit_slip, "Write °C, per cent and millimetres, or accept it with the reason."),
    _record("warning", plausible.weight_against_size, "Write seeds in a kilogram and millimetres."),
    _record("warning", plausible.days_too_few, "Write days, or accept it with the reason."),
    _record("warning", plausible.depth_against_size, "Write millimetres, or accept it with the reason."),
    _record("warning", beyond.beyond_plausible, "Correct the number, or accept it with the reason."),
    _record("warning", beyond.range_too_wide, "Write what is usual, or accept it with the reason."),
    _record("warning", sourcing.recalled_against_read, "Prefer the treatment that was read."),
    _record("warning", sourcing.thin_sourcing, "Find a source."),
)
LIBRARY_CHECKS = (
    _library("error", whole.colliding_name, "One plant has one record; a name belongs to one of them."),
    _library("error", whole.family_differs, "Correct the family of one of the records."),
    _library("error", whole.taxon_of_another, "Write the id of this plant, or leave it out."),
    _library("error", whole.hazard_missing, "Add a hazard to the record or to its genus record."),
    _library("error", whole.asks_for_unknown_name, "Correct the name, or add the record."),
    _library("warning", whole.common_name_of_another, "Take it out, or accept it in one of the records."),
    _library("warning", whole.near_duplicate, "Correct the misspelt name."),
)
CHECKS = (*READING, *RECORD_CHECKS, *LIBRARY_CHECKS)
ACCEPTABLE = frozenset(check.id for check in CHECKS if check.severity == "warning")
