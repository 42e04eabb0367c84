"""Checks of how seed is sown: what a field holds stands in the field, and in no note beside it."""

from __future__ import annotations

import re
from collections.abc import Iterator

from coldspell.check.base import Fault, RecordFile, Surroundings, ends, steps

_DEGREES = re.compile(r"\d\s*°")
_ON_TOP = re.compile(r"^((pressed )?on(to)? the surface|uncovered|(not|never) covered)$")
_COVERED = re.compile(r"^((hardly|barely|just|thinly|lightly) )?covered( thinly)?$|^(very )?shallow$")


def degrees_in_words(record: RecordFile, around: Surroundings) -> Iterator[Fault]:
    """A note of a sowing that names degrees, where no field has them: rules read fields only."""
    sowing = record.values.get("sowing", {})
    held = "celsius_min" in sowing or "celsius_max" in sowing
    for path, _, step in steps(record.values):
        if step["do"] != "sow" or "celsius" in step or held or not _DEGREES.search(step.get("note", "")):
            continue
        mend = "Write them as 'celsius:' of the step; the note keeps what no field holds."
        yield Fault((*path, "note"), f"degrees in words: '{step['note']}'", mend)


def sown_twice(record: RecordFile, around: Surroundings) -> Iterator[Fault]:
    """A note of a sowing that says again, or against it, what the fields say of its cover."""
    sowing = record.values.get("sowing", {})
    on_top = sowing.get("light") == "surface"
    deep = "depth_mm" in sowing and ends(sowing["depth_mm"])[1] > 0
    for path, _, step in steps(record.values):
        if step["do"] != "sow":
            continue
        for clause in re.split(r"[,;] ?", step.get("note", "")):
            if (on_top and _ON_TOP.match(clause)) or (deep and _COVERED.match(clause)):
                what = f"'{clause}' stands beside {'light: surface' if on_top else 'depth_mm'}"
                yield Fault((*path, "note"), what, "Take it out of the note, or correct the field.")
