"""Numbers of practice that cannot be: below nothing, beyond their unit, falling, or of another unit."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cache
from importlib import resources

from msgspec import Struct, convert

from coldspell.rules.findings import Findings
from coldspell.rules.model import Number
from coldspell.yaml import document


class Unit(Struct, frozen=True, forbid_unknown_fields=True):
    """A unit: the last word of a name that promises it, and the least and most of its numbers."""

    unit: str
    bounds: tuple[float, float]
    because: str
    name: str = ""


@cache
def units() -> tuple[Unit, ...]:
    """The units of ``units.yaml``."""
    text = resources.files("coldspell.rules").joinpath("units.yaml").read_text("utf-8")
    return convert(document.plain(document.parse(text, "units.yaml")), tuple[Unit, ...])


def hold_numbers(numbers: Iterable[Number], out: Findings) -> None:
    """Note every number that no lot can be reckoned with."""
    for number in numbers:
        for what, mend in _faults(number):
            out.error(number.place, "practice", f"{number.name}: {what}", mend)


def _faults(number: Number) -> Iterable[tuple[str, str]]:
    promised = next((one for one in units() if one.name == number.name.rpartition("_")[2]), None)
    if promised is not None and number.unit != promised.unit:
        yield f"the unit must be {promised.unit}, not {number.unit}", "Turn the value into that unit."
        return
    low, high = min(number.value), max(number.value)
    unit = next((one for one in units() if one.unit == number.unit), None)
    above = unit is None or unit.bounds[0] >= 0
    if above and not (0 <= low <= high < float("inf") and high):
        yield f"{low:g} {number.unit} cannot be", "Write a number above 0."
        return
    if unit is not None and not unit.bounds[0] <= low <= high <= unit.bounds[1]:
        told = f"{low:g}" if low == high else f"{low:g} to {high:g}"
        what = f"{told} {number.unit} is outside {unit.bounds[0]:g} to {unit.bounds[1]:g}"
        yield what, f"{unit.because} Check number and unit."
    rising = promised is not None and len(number.value) == 2
    if rising and number.value[0] > number.value[1]:
        yield f"{number.value[0]:g} to {number.value[1]:g} runs backward", "Write the lower number first."


_FAR = 5
"""So many times the shipped number, or so small a part of it, is hardly meant: an inch is 25 mm."""


def far_from(numbers: Mapping[str, Number], shipped: Mapping[str, Number], out: Findings) -> None:
    """Warn of numbers that are many times the shipped ones, or a small part of them: often another unit."""
    for number in numbers.values():
        usual = shipped.get(number.name)
        if usual is None or usual.value == number.value:
            continue
        few, many = ((min(one.value), max(one.value)) for one in (usual, number))
        if not min(few[1], many[1]) > 0 or 1 / _FAR <= many[1] / few[1] <= _FAR:
            continue
        was, now = (" to ".join(f"{n:g}" for n in one.value) for one in (usual, number))
        what = f"{number.name}: {now} {number.unit}, where the shipped rules have {was}"
        out.warning(number.place, "practice-far", what, f"Check that it is in {number.unit}; it may stand.")
