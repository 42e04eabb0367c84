"""Checks of the seed itself: ranges, size against numbers, storage behaviour, file name."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import Any

from coldspell.check.base import Fault, KeyPath, RecordFile, Surroundings, ends, shown, steps
from coldspell.check.limits import limits
from coldspell.records.name import slug
from coldspell.records.shape import quantity


def range_order(record: RecordFile, around: Surroundings) -> Iterator[Fault]:
    """A range whose numbers do not rise."""
    for path, numbers in _ranges(record.values, ()):
        if any(low > high for low, high in pairwise(numbers)):
            what = f"{numbers} does not rise"
            yield Fault(path, what, "Write [low, high] or [low, usual, high].")


_NOT_RANGES = frozenset({"months", "ripens", "when", "cites", "cite", "common_names"})


def _ranges(value: Any, path: KeyPath) -> Iterator[tuple[KeyPath, list[float]]]:
    if isinstance(value, dict):
        for key, item in value.items():
            if isinstance(item, (dict, list)) and key not in _NOT_RANGES:
                yield from _ranges(item, (*path, key))
    elif isinstance(value, list) and value:
        if isinstance(value[0], (int, float)):
            yield path, value
        elif isinstance(value[0], dict):
            for index, item in enumerate(value):
                yield from _ranges(item, (*path, index))


def file_name(record: RecordFile, around: Surroundings) -> Iterator[Fault]:
    """A file that is not named after its record."""
    wanted = slug(record.name)
    if record.stem != wanted:
        what = f"the file is named '{record.stem}.yaml', the record '{record.name}'"
        yield Fault(("name",), what, f"Rename the file to '{wanted}.yaml', or correct the name.")


def size_against_numbers(record: RecordFile, around: Surroundings) -> Iterator[Fault]:
    """The size class does not fit the measured length, or the number of seeds in a kilogram."""
    values = record.values
    size = values.get("size")
    if size is None:
        return
    sides = [
        quantity(values["seed_mm"][side]).middle
        for side in ("length", "width")
        if side in values.get("seed_mm", {})
    ]
    if sides:
        low, high = limits().size_mm[size]
        if not low <= max(sides) <= high:
            what = f"the size is '{size}', but the longest side is about {max(sides):g} mm"
            yield Fault(("size",), what, "Correct the size or the measure, or accept this with the reason.")
    elif "seeds_per_kg" in values:
        count = quantity(values["seeds_per_kg"]["value"]).middle
        low, high = limits().size_per_kg[size]
        if not low <= count <= high:
            what = f"the size is '{size}', but a kilogram holds about {count:,.0f} seeds"
            yield Fault(("size",), what, "Correct the size or the count, or accept this with the reason.")


def unit_slip(record: RecordFile, around: Surroundings) -> Iterator[Fault]:
    """A number that looks like another unit: degrees Fahrenheit, a share in place of a percentage, inches."""
    for part in ("germination", "emergence"):
        celsius = record.values.get(part, {}).get("celsius")
        if celsius is not None and ends(celsius)[1] > limits().warmest:
            high = ends(celsius)[1]
            mend = f"{high:g} °F is {(high - 32) / 1.8:.0f} °C; write degrees Celsius."
            yield Fault((part, "celsius"), f"{shown(celsius)} °C is hotter than seed can bear for days", mend)
    for path, percent in _percentages(record.values):
        if 0 < ends(percent)[1] < 1:
            mend = f"Write per cent: {100 * ends(percent)[1]:g}; or accept this with the reason."
            yield Fault(path, f"{shown(percent)} % is less than one seed in a hundred", mend)
    depth = record.values.get("sowing", {}).get("depth_mm")
    if depth is not None and 0 < ends(depth)[1] < 1:
        mend = f"{shown(depth)} inches are {shown_mm(depth)} mm; on the surface is 0."
        yield Fault(("sowing", "depth_mm"), f"a cover of {shown(depth)} mm is thinner than can be sown", mend)


def shown_mm(inches: Any) -> str:
    """A depth in inches as whole millimetres."""
    low, high = ends(inches)
    return f"{25.4 * low:.0f}" if low == high else f"{25.4 * low:.0f} to {25.4 * high:.0f}"


def _percentages(values: Any) -> Iterator[tuple[KeyPath, Any]]:
    if "percent" in values.get("germination", {}):
        yield ("germination", "percent"), values["germination"]["percent"]
    for index, treatment in enumerate(values.get("treatments", ())):
        if "percent" in treatment:
            yield ("treatments", index, "percent"), treatment["percent"]


def recalcitrant_dried(record: RecordFile, around: Surroundings) -> Iterator[Fault]:
    """Recalcitrant seed that is stored dry or after-ripened: it would be dead."""
    storage = record.values.get("storage", {})
    if storage.get("behaviour") != "recalcitrant":
        return
    moisture = storage.get("moisture_percent")
    if moisture is not None and ends(moisture)[1] <= limits().recalcitrant_dry_percent:
        what = f"recalcitrant seed stored at {shown(moisture)} % moisture"
        yield Fault(("storage", "moisture_percent"), what, "Correct the behaviour or the moisture.")
    for path, _, step in steps(record.values):
        if step["do"] == "after_ripen":
            yield Fault(path, "recalcitrant seed is after-ripened dry", "Correct the behaviour or the step.")
