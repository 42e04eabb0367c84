"""How many slips of units the checks see: ``python tests/library/unit_slips.py`` plants them and counts."""

from __future__ import annotations

import copy
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path
from typing import Any

from coldspell import shipped
from coldspell.check import plausible, seed
from coldspell.check.base import RecordFile, Surroundings
from coldspell.library.files import NOT_RECORDS, walk
from coldspell.yaml import document

CHECKS = (seed.size_against_numbers, seed.unit_slip, plausible.weight_against_size, plausible.days_too_few,
          plausible.depth_against_size)  # fmt: skip
AROUND = Surroundings({}, date(2026, 11, 30))


def times(value: Any, by: float) -> Any:
    """A quantity as written, so many times as large."""
    return [one * by for one in value] if isinstance(value, list) else value * by


def _count(by: float) -> Callable[[dict[str, Any]], bool]:
    def slip(values: dict[str, Any]) -> bool:
        if "seeds_per_kg" in values:
            values["seeds_per_kg"]["value"] = times(values["seeds_per_kg"]["value"], by)
        return "seeds_per_kg" in values and ("seed_mm" in values or "size" in values)

    return slip


def _sides(by: float) -> Callable[[dict[str, Any]], bool]:
    def slip(values: dict[str, Any]) -> bool:
        sides = values.get("seed_mm", {})
        for side in {"length", "width", "thickness"} & sides.keys():
            sides[side] = times(sides[side], by)
        return bool(sides)

    return slip


def _depth(by: float) -> Callable[[dict[str, Any]], bool]:
    def slip(values: dict[str, Any]) -> bool:
        sowing = values.get("sowing", {})
        if "depth_mm" in sowing:
            sowing["depth_mm"] = times(sowing["depth_mm"], by)
        return "depth_mm" in sowing and "size" in values

    return slip


def _days(by: float) -> Callable[[dict[str, Any]], bool]:
    def slip(values: dict[str, Any]) -> bool:
        changed = False
        for treatment in values.get("treatments", ()):
            for step in treatment["steps"]:
                if step["do"] in ("cold_moist", "warm_moist") and "days" in step and not changed:
                    step["days"], changed = times(step["days"], by), True
        return changed

    return slip


SLIPS: dict[str, Callable[[dict[str, Any]], bool]] = {
    "seeds in a gram for a kilogram": _count(1 / 1000),
    "a hundred times too many": _count(100),
    "ten times too few": _count(1 / 10),
    "centimetres for millimetres of seed": _sides(1 / 10),
    "depth in centimetres": _depth(1 / 10),
    "depth in inches": _depth(1 / 25.4),
    "depth ten times too deep": _depth(10),
    "weeks for days": _days(1 / 7),
    "months for days": _days(1 / 30),
}


def records() -> Iterator[dict[str, Any]]:
    """Every shipped record as plain values."""
    for relative, path in walk(shipped.find("species")):
        if relative not in NOT_RECORDS:
            yield document.plain(document.parse(document.decode(path.read_bytes(), relative), relative))


def seen(values: dict[str, Any]) -> bool:
    """Whether one of the checks says something."""
    file = RecordFile("f", "f", document.from_plain({}), values)
    return any(True for check in CHECKS for _ in check(file, AROUND))


def count(every: list[dict[str, Any]]) -> dict[str, tuple[int, int]]:
    """Of each slip how many were planted, and how many are seen."""
    found = {}
    for name, slip in SLIPS.items():
        planted = [values for values in map(copy.deepcopy, every) if slip(values)]
        found[name] = (len(planted), sum(map(seen, planted)))
    return found


if __name__ == "__main__":
    every = [values for values in records() if not seen(values)]
    for name, (planted, told) in count(every).items():
        print(f"{name:<38}{told:>6} of {planted:>5}  {100 * told / planted:.0f} %")
    print(Path(__file__).name, len(every), "records")
