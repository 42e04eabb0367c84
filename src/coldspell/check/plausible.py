"""Checks of numbers against each other: a slip of the unit makes a seed of lead, or a week of a season.

The bounds (`coldspell.check.limits`) are wider than anything in the shipped library (November 2026: 724
records give weight and size, 1,633 steps give days, 2,182 give a depth), and narrower than ten times the
usual.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from coldspell.check.base import Fault, RecordFile, Surroundings, ends, shown, steps
from coldspell.check.limits import limits
from coldspell.records.do import MOIST

_INCH = 25.4


def weight_against_size(record: RecordFile, around: Surroundings) -> Iterator[Fault]:
    """A weight that no seed of the measured size can have: a slip of the unit in one of them."""
    values = record.values
    sides = values.get("seed_mm", {})
    if "seeds_per_kg" not in values or not {"length", "width"} & sides.keys():
        return
    few, many = ends(values["seeds_per_kg"]["value"])
    block = math.prod(_sides(sides, 1, 1.0))
    solid = math.pi / 6 * math.prod(_sides(sides, 0, 0.55))
    lightest = limits().lightest.get(values["unit"], limits().lightest_winged)
    length = shown(sides.get("length", sides.get("width")))
    if 1e6 / many > limits().heaviest * block:
        what = f"{_mg(many)} mg for a seed of {length} mm: as heavy as stone"
    elif 1e6 / few < lightest * solid:
        what = f"{_mg(few)} mg for a seed of {length} mm: lighter than cork"
    else:
        return
    mend = f"{few:,.0f} seeds in a kilogram, not a gram or pound? Millimetres? Or accept it with the reason."
    yield Fault(("seeds_per_kg", "value"), what, mend)


def _mg(per_kg: float) -> str:
    """The weight of one seed in milligrams."""
    weight = 1e6 / per_kg
    return f"{weight:,.0f}" if weight >= 100 else f"{weight:.2g}"


def _sides(sides: dict[str, Any], end: int, share: float) -> list[float]:
    """Length, width and thickness at their low or high ends; an unknown one as a share of that before it."""
    found = [ends(sides.get("length", sides.get("width")))[end]]
    for side in ("width", "thickness"):
        found.append(ends(sides[side])[end] if side in sides else share * found[-1])
    return found


def days_too_few(record: RecordFile, around: Surroundings) -> Iterator[Fault]:
    """Moist cold or warmth of less than two weeks, or one where it only helps: weeks written as days."""
    for path, _, step in steps(record.values):
        shortest = limits().shortest_days["optional" if step.get("need") == "optional" else "required"]
        if step["do"] in MOIST and "days" in step and 0 < ends(step["days"])[1] < shortest:
            low, high = ends(step["days"])
            weeks, months = (" to ".join(f"{n * x:g}" for x in dict.fromkeys((low, high))) for n in (7, 30))
            what = f"{step['do']} for {shown(step['days'])} days is less than does anything to most seed"
            mend = f"So many weeks are {weeks} days, months {months}; or accept this with the reason."
            yield Fault((*path, "days"), what, mend)


def depth_against_size(record: RecordFile, around: Surroundings) -> Iterator[Fault]:
    """A cover that does not fit the size of the seed: centimetres or inches written as millimetres."""
    depth, size = record.values.get("sowing", {}).get("depth_mm"), record.values.get("size")
    if depth is None or size is None or not ends(depth)[1]:
        return
    low, high = ends(depth)
    least, most = limits().cover_mm[size]
    if high < least or high > most:
        what = f"{size} seed under {shown(depth)} mm of soil"
        both = [" to ".join(f"{n * x:.3g}" for x in dict.fromkeys((low, high))) for n in (10, _INCH)]
        mend = f"So many centimetres are {both[0]} mm, inches {both[1]}; or accept this with the reason."
        if high > most:
            mend = f"Usual is up to {most:g} mm: correct size or depth, or accept this with the reason."
        yield Fault(("sowing", "depth_mm"), what, mend)
